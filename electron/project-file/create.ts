import { accessSync, constants, copyFileSync, existsSync, linkSync, rmSync, statSync } from 'node:fs'
import { basename, dirname, join, resolve } from 'node:path'
import Database from 'better-sqlite3'
import { message } from '#core/messages/say.ts'
import { syncFile, syncFolder } from './durable.ts'
import { migrate } from './migrate.ts'
import { APPLICATION_ID, guardConnection, setPragma } from './pragmas.ts'
import { classify, problem } from './problem.ts'

/**
 * Makes an empty project file of the newest step under a temporary name, syncs it and gives it its name in one step: a crash leaves
 * no half-made project, and a file that is there already is never overwritten.
 */
export function makeProjectFile(path: string, uniqueName: string): void {
  const target = resolve(path)
  const name = basename(target)
  refuseUnusableTarget(target)
  const temporary = join(dirname(target), `.${name}.${uniqueName}.new`)
  try {
    build(temporary)
    syncFile(temporary)
    nameFinished(temporary, target)
  } catch (error) {
    throw inWordsOfFolder(error, target)
  } finally {
    rmSync(temporary, { force: true })
    rmSync(`${temporary}-journal`, { force: true })
  }
  syncFolder(dirname(target))
}

const MOST_NAME_BYTES = 150

/** Refuses, before any work, a place where no new file can be. */
export function refuseUnusableTarget(target: string): void {
  const name = basename(target)
  if (target !== target.trim()) throw problem('invalid_input', message('file.name_ends_in_space', { name }), { field: 'path' })
  if (statSync(dirname(target), { throwIfNoEntry: false })?.isDirectory() !== true)
    throw problem('not_found', message('file.folder_missing', { name }), { field: 'path' })
  // Backups and copies of it get longer names, and 255 bytes is the most that common file systems take.
  if (Buffer.byteLength(name) > MOST_NAME_BYTES)
    throw problem('invalid_input', message('file.name_too_long', { name: name.slice(0, 40) }), { field: 'path' })
  if (existsSync(target)) throw problem('already_exists', message('file.exists', { name }), { field: 'path' })
  try {
    accessSync(dirname(target), constants.W_OK)
  } catch (error) {
    throw inWordsOfFolder(error, target)
  }
}

/** Gives a finished file its name without ever replacing another: a link fails where the name is taken, a rename would not. */
export function nameFinished(temporary: string, target: string): void {
  try {
    linkSync(temporary, target)
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? error.code : null
    if (code === 'EEXIST') throw problem('already_exists', message('file.exists', { name: basename(target) }), { field: 'path' })
    // Drives without hard links, such as memory sticks: an exclusive copy, removed again when it does not end well.
    if (code !== 'EPERM' && code !== 'ENOTSUP' && code !== 'EOPNOTSUPP' && code !== 'ENOSYS' && code !== 'EISDIR') throw error
    copyExclusively(temporary, target)
  }
}

function copyExclusively(temporary: string, target: string): void {
  try {
    copyFileSync(temporary, target, constants.COPYFILE_EXCL)
    syncFile(target)
  } catch (error) {
    const taken = error instanceof Error && 'code' in error && error.code === 'EEXIST'
    if (taken) throw problem('already_exists', message('file.exists', { name: basename(target) }), { field: 'path' })
    rmSync(target, { force: true })
    throw error
  }
}

function build(path: string): void {
  const db = new Database(path)
  try {
    setPragma(db, 'page_size', 4096)
    setPragma(db, 'application_id', APPLICATION_ID)
    guardConnection(db)
    setPragma(db, 'synchronous', 'EXTRA', 3)
    migrate(db)
  } finally {
    db.close()
  }
}

/** Names a failure to make a new file: what is refused there is the folder, not the file. */
export function inWordsOfFolder(error: unknown, target: string): unknown {
  const named = classify(error, target)
  const code = error instanceof Error && 'code' in error ? String(error.code) : ''
  if (/^(EACCES|EPERM|EROFS|SQLITE_READONLY.*|SQLITE_CANTOPEN.*)$/.test(code))
    return problem('read_only', message('file.folder_not_writable', { name: basename(target) }), { field: 'path', cause: error })
  return named
}
