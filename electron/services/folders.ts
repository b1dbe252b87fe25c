import { existsSync, mkdirSync, readdirSync, statSync } from 'node:fs'
import path from 'node:path'
import type { z } from 'zod'
import type { FileEntry } from '#core/api/files.ts'
import { message } from '#core/messages/say.ts'
import type { FileAccess } from '../engine.ts'
import { isBackupFolder } from '../project-file/backup-folder.ts'
import { inWordsOfFolder } from '../project-file/create.ts'
import { isSideFile, refuseHeld } from '../project-file/held.ts'
import { naming, problem } from '../project-file/problem.ts'

export const PROJECT_EXTENSION = '.facegrid'

type Entry = z.infer<typeof FileEntry>

function kindOf(name: string, isFolder: boolean): Entry['kind'] {
  if (isFolder) return isBackupFolder(name) ? 'backups' : 'folder'
  if (name.endsWith(PROJECT_EXTENSION)) return 'project'
  return name.endsWith('.json') ? 'exchange' : 'other'
}

/** One folder as the file chooser shows it. Hidden names, what belongs to an open project, and what cannot be looked at are left out. */
export function browse(access: FileAccess, requested: string | null): { path: string; parent: string | null; entries: Entry[] } {
  const start = requested ?? access.roots()[0]?.path
  if (start === undefined) throw problem('refused', message('error.no_folder', {}))
  const folder = access.allow(start, 'list')
  const entries = naming(folder, () => readdirSync(folder))
    .filter((name) => !name.startsWith('.') && !isSideFile(name))
    .flatMap((name): Entry[] => {
      const full = path.join(folder, name)
      const stats = statSync(full, { throwIfNoEntry: false })
      if (!stats || !(stats.isDirectory() || stats.isFile())) return []
      const isFolder = stats.isDirectory()
      return [
        { name, path: full, kind: kindOf(name, isFolder), modifiedAt: stats.mtime.toISOString(), bytes: isFolder ? null : stats.size },
      ]
    })
  const rank = (entry: Entry) => (entry.kind === 'folder' ? 0 : entry.kind === 'backups' ? 1 : 2)
  entries.sort((a, b) => rank(a) - rank(b) || a.name.localeCompare(b.name, 'en', { numeric: true }))
  return { path: folder, parent: parentOf(access, folder), entries }
}

function parentOf(access: FileAccess, folder: string): string | null {
  if (access.roots().some((root) => root.path === folder)) return null
  const parent = path.dirname(folder)
  if (parent === folder) return null
  try {
    return access.allow(parent, 'list')
  } catch {
    // Outside the folders the user allowed: there is no way up from here.
    return null
  }
}

export function makeFolder(access: FileAccess, parent: string, name: string): string {
  const plain = name.trim()
  const folderNameIsPlain = plain !== '' && plain !== '.' && plain !== '..' && !/[/\\:*?"<>|]/.test(plain) && !plain.includes('\0')
  if (!folderNameIsPlain || isBackupFolder(plain)) throw problem('invalid_input', message('error.folder_name', { name }), { field: 'name' })
  const folder = access.allow(path.join(access.allow(parent, 'list'), plain), 'write')
  if (existsSync(folder)) throw problem('already_exists', message('error.folder_exists', { name: plain }), { field: 'name' })
  try {
    mkdirSync(folder)
  } catch (error) {
    throw inWordsOfFolder(error, folder)
  }
  return folder
}

/** The real path of a file that is read from end to end, and is not the open project or a part of it. `field` names the input. */
export function sourcePath(access: FileAccess, requested: string, field: string): string {
  const source = access.allow(requested, 'read')
  refuseHeld(source, field)
  return source
}

/** A project's path with its extension, inside a folder the user allowed. */
export function projectPath(access: FileAccess, requested: string): string {
  return target(access, requested.endsWith(PROJECT_EXTENSION) ? requested : `${requested}${PROJECT_EXTENSION}`)
}

export function exchangePath(access: FileAccess, requested: string): string {
  return target(access, requested.endsWith('.json') ? requested : `${requested}.json`)
}

/** What lies among automatic backups is thinned out with them: nothing is saved there. */
function target(access: FileAccess, requested: string): string {
  const allowed = access.allow(requested, 'write')
  const folder = path.basename(path.dirname(allowed))
  if (isBackupFolder(folder)) throw problem('refused', message('error.backup_folder', { name: folder }), { field: 'path' })
  return allowed
}
