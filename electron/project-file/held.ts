import { realpathSync, statSync } from 'node:fs'
import { basename, resolve } from 'node:path'
import { message } from '#core/messages/say.ts'
import { problem } from './problem.ts'

/** What SQLite and the lock keep beside a project file while it is open. */
const SIDES = ['-wal', '-shm', '-journal', '-lock', '-lock.txt']

/** Whether a file of this name lies beside an open project and goes when that is closed. Nobody has anything to do with it. */
export const isSideFile = (name: string) => /\.facegrid-(wal|shm|journal|lock|lock\.txt)$/i.test(name)

/** The open files of this process by real path, each with what else its files are known by: a name can be changed or have a second one. */
const held = new Map<string, ReadonlySet<string>>()

/** Remembers an opening until `letGo`. Call it when SQLite has its files open. */
export function hold(path: string): void {
  held.set(path, new Set(filesOf(path).flatMap(identityOf)))
}

export function letGo(path: string): void {
  held.delete(path)
}

/**
 * Whether this process has a file open as a project, or as a part of one. Looks at names alone: closing any descriptor of such a
 * file would drop the locks that keep other programs from writing (POSIX advisory locks belong to the process, not to the descriptor).
 */
export function isHeld(path: string): boolean {
  const real = realOf(path)
  const identity = identityOf(real)
  return [...held].some(
    ([project, known]) =>
      filesOf(project).includes(real) || identity.some((one) => known.has(one) || filesOf(project).flatMap(identityOf).includes(one)),
  )
}

/** Refuses to read a file that this process has open as a project or a part of one; before anything opens it. */
export function refuseHeld(path: string, field: string): void {
  if (isHeld(path)) throw problem('refused', message('file.held', { name: basename(path) }), { field })
}

function filesOf(project: string): string[] {
  return [project, ...SIDES.map((side) => `${project}${side}`)]
}

function realOf(path: string): string {
  try {
    return realpathSync.native(resolve(path))
  } catch {
    return resolve(path)
  }
}

function identityOf(path: string): string[] {
  const stat = statSync(path, { bigint: true, throwIfNoEntry: false })
  return stat ? [`${stat.dev}:${stat.ino}`] : []
}
