import type { ChooseFor } from './choose-place.tsx'

export const ENDING: Readonly<Record<'project' | 'exchange', string>> = { project: '.facegrid', exchange: '.json' }

export function kindChosen(purpose: ChooseFor): 'project' | 'exchange' | 'other' {
  if (purpose === 'open_delimited') return 'other'
  return purpose === 'open_project' || purpose === 'save_project' ? 'project' : 'exchange'
}

/** The whole file name for what was typed, with its ending; null when no file system would take it. */
export function fileNameOf(typed: string, kind: 'project' | 'exchange'): string | null {
  const ending = ENDING[kind]
  const plain = typed.trim()
  const stem = plain.toLowerCase().endsWith(ending) ? plain.slice(0, -ending.length).trim() : plain
  const bad = stem === '' || stem.startsWith('.') || stem.endsWith('.') || /[/\\:*?"<>|]/.test(stem) || stem.length > 120
  return bad ? null : stem + ending
}

/** A name that a file system takes, proposed from a title. */
export function proposedName(title: string): string {
  return title
    .replace(/[/\\:*?"<>|]+/g, '-')
    .replace(/\s+/g, ' ')
    .replace(/^[.\s-]+|[.\s-]+$/g, '')
    .slice(0, 100)
}

/** Joins in the manner of the folder's own path: the engine's system decides the separator. */
export function inFolder(folder: string, name: string): string {
  const separator = folder.includes('\\') && !folder.includes('/') ? '\\' : '/'
  return folder.endsWith(separator) ? folder + name : folder + separator + name
}
