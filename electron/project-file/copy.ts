import { existsSync, rmSync, statSync } from 'node:fs'
import { basename, dirname, extname, join, resolve } from 'node:path'
import Database from 'better-sqlite3'
import { message } from '#core/messages/say.ts'
import { inWordsOfFolder, nameFinished, refuseUnusableTarget } from './create.ts'
import { syncFile, syncFolder } from './durable.ts'
import { freeName } from './older-copy.ts'
import { guardConnection, setPragma } from './pragmas.ts'
import { problem } from './problem.ts'
import type { ProjectFile } from './project-file.ts'
import { refuseDamaged } from './soundness.ts'

export type Copied = { readonly path: string; readonly bytes: number }

/**
 * Copies an open project into a new file while work goes on: SQLite's online backup under a temporary name, checked, synced, then
 * named. Never overwrites. Throws a ProblemError; then the target does not exist.
 */
export async function saveCopy(file: ProjectFile, path: string, uniqueName: string): Promise<Copied> {
  const target = resolve(path)
  if (existsSync(target) && existsSync(file.path) && isSameFile(target, file.path))
    throw problem('refused', message('file.same_file', { name: basename(target) }), { field: 'path' })
  refuseUnusableTarget(target)
  try {
    return await writeCopy(file, target, uniqueName)
  } catch (error) {
    throw inWordsOfFolder(error, target)
  }
}

/** Keeps what is open beside the place that its file was taken away from, under a free name. Answers null where nothing can be kept there. */
export async function rescue(file: ProjectFile, uniqueName: string): Promise<Copied | null> {
  const ending = extname(file.path)
  const target = freeName(dirname(file.path), `${basename(file.path, ending)} (kept at closing)`, ending)
  try {
    return await writeCopy(file, target, uniqueName)
  } catch {
    return null
  }
}

/** The copying itself, into a folder that is known to exist. */
export async function writeCopy(file: ProjectFile, target: string, uniqueName: string): Promise<Copied> {
  const temporary = join(dirname(target), `.${basename(target)}.${uniqueName}.new`)
  try {
    await file.db.backup(temporary)
    settle(temporary)
    syncFile(temporary)
    nameFinished(temporary, target)
    syncFolder(dirname(target))
    return { path: target, bytes: statSync(target).size }
  } finally {
    for (const side of ['', '-journal', '-wal', '-shm']) rmSync(`${temporary}${side}`, { force: true })
  }
}

/** The copy of a file in write-ahead mode is in that mode too; at rest it must be one plain file, and sound. */
function settle(path: string): void {
  const db = new Database(path, { fileMustExist: true })
  try {
    guardConnection(db)
    setPragma(db, 'journal_mode', 'DELETE', 'delete')
    refuseDamaged(db, path)
  } finally {
    db.close()
  }
}

function isSameFile(one: string, other: string): boolean {
  const a = statSync(one, { bigint: true })
  const b = statSync(other, { bigint: true })
  return a.dev === b.dev && a.ino === b.ino
}
