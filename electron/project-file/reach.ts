import { closeSync, openSync, realpathSync, statSync } from 'node:fs'
import { basename, resolve } from 'node:path'
import { message } from '#core/messages/say.ts'
import { problem } from './problem.ts'

/** The one true path of a file: links, mapped drives and letter case resolved. Refuses a folder. */
export function realPath(path: string): string {
  const name = basename(path)
  const absolute = resolve(path)
  // SQLite's driver trims names, and would open another file.
  if (absolute !== absolute.trim()) throw problem('invalid_input', message('file.name_ends_in_space', { name }), { field: 'path' })
  const stat = statSync(absolute, { throwIfNoEntry: false })
  if (!stat) throw problem('not_found', message('file.missing', { name }))
  if (stat.isDirectory()) throw problem('not_a_project', message('file.folder', { name }))
  if (!stat.isFile()) throw problem('not_a_project', message('file.not_a_project', { name }))
  return realpathSync.native(absolute)
}

/** Tried rather than asked: permission bits, attributes and mounts each know a part of the truth. Changes nothing. */
export function canBeWritten(path: string): boolean {
  try {
    closeSync(openSync(path, 'r+'))
    return true
  } catch {
    return false
  }
}

/**
 * Whether a path goes on leading to the file that lies there now. On a network drive only whether anything lies there: such drives may
 * number their files anew.
 */
export function placeKeeper(path: string, network: boolean): () => boolean {
  const identity = () => {
    const stat = statSync(path, { bigint: true, throwIfNoEntry: false })
    if (!stat) return null
    return network ? path : `${stat.dev}:${stat.ino}`
  }
  const opened = identity()
  return () => {
    try {
      return identity() === opened
    } catch {
      // A disk that does not answer says so itself when it is written to.
      return true
    }
  }
}

/** SQLite keeps its log beside one name; writing through two names of one file destroys it. */
export function hasSecondName(path: string): boolean {
  return statSync(path).nlink > 1
}
