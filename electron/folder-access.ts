import { lstatSync, realpathSync } from 'node:fs'
import path from 'node:path'
import { message } from '#core/messages/say.ts'
import type { FileAccess } from './engine.ts'
import { naming, ProblemError, problem } from './project-file/problem.ts'

/**
 * Access to files inside a few folders the user allowed, and to single files the user picked in a system dialog (`grant`).
 * Every path is resolved through symbolic links before it is compared, so neither `..` nor a link leads outside.
 */
export class FolderAccess implements FileAccess {
  readonly #roots: { name: string; path: string }[]
  readonly #granted = new Set<string>()

  constructor(folders: readonly string[]) {
    this.#roots = folders.map((folder) => {
      const real = realpathSync(folder)
      return { name: path.basename(real) || real, path: real }
    })
  }

  roots(): { name: string; path: string }[] {
    return this.#roots.map((root) => ({ ...root }))
  }

  /** A file that is gone, or on a drive that is, is granted nothing. */
  grant(file: string): void {
    try {
      this.#granted.add(resolveThroughLinks(path.resolve(file)))
    } catch (error) {
      if (!(error instanceof ProblemError)) throw error
    }
  }

  allow(requested: string): string {
    if (requested.includes('\0') || !path.isAbsolute(requested)) {
      throw problem('refused', message('host.not_a_path', { path: requested.replaceAll('\0', '') }))
    }
    const real = resolveThroughLinks(path.resolve(requested))
    if (this.#granted.has(real) || this.#roots.some((root) => isInside(root.path, real))) return real
    throw problem('refused', message('host.outside_folders', { path: requested }))
  }
}

/**
 * The real path of what exists, with the not yet existing rest of the path appended. A dangling link exists as a name: resolving it
 * fails, and so it is refused rather than followed by a later write.
 */
function resolveThroughLinks(absolute: string): string {
  const missing: string[] = []
  let existing = absolute
  while (!naming(existing, () => lstatSync(existing, { throwIfNoEntry: false }))) {
    const parent = path.dirname(existing)
    if (parent === existing) break
    missing.unshift(path.basename(existing))
    existing = parent
  }
  try {
    return path.join(realpathSync(existing), ...missing)
  } catch {
    throw problem('not_found', message('host.folder_missing', { path: absolute }))
  }
}

function isInside(folder: string, candidate: string): boolean {
  const relative = path.relative(folder, candidate)
  return relative === '' || (!relative.startsWith('..') && !path.isAbsolute(relative))
}
