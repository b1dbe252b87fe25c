import { existsSync, readFileSync } from 'node:fs'
import { basename } from 'node:path'
import Database from 'better-sqlite3'
import { message } from '#core/messages/say.ts'
import type { Sentence } from '#core/model/results.ts'
import { type Header, refuseNewer } from './header.ts'
import { type Holder, lockIsHeld, takeLock } from './lock.ts'
import { migrate, NEWEST_STEP, stepOf } from './migrate.ts'
import { APPLICATION_ID, guardConnection, setPragma } from './pragmas.ts'
import { naming, problem } from './problem.ts'
import type { ProjectFile } from './project-file.ts'
import { canBeWritten, realPath } from './reach.ts'
import { refuseDamaged, refuseForeignSchema, refuseWithoutTables } from './soundness.ts'

export type ReadOnlyCause = 'asked' | 'file' | 'folder' | 'linked' | 'backup'

/** Opens for reading only and says why. Readings left in a log by a crash are put in place first, or the file is refused. */
export function openReading(path: string, header: Header, because: ReadOnlyCause, holder: Holder): ProjectFile {
  const notices: Sentence[] = []
  const held = lockIsHeld(path)
  if (header.waitingBytes > 0 && !held) {
    recoverForReading(path, header, holder)
    notices.push(message('file.recovered', {}))
  }
  if (header.logMissing && !held) notices.push(message('file.log_missing', { name: basename(path) }))
  // Nobody writes and there is no log, but in this mode SQLite would make its shared memory, which the folder refuses: read from memory.
  const still = because === 'folder' && header.writeAheadMode && !held && !existsSync(`${path}-wal`)
  const { db, broughtFrom } = connectReading(path, still)
  if (broughtFrom !== null) notices.push(message('file.older_in_memory', { fileStep: broughtFrom, knownStep: NEWEST_STEP }))
  return { ...reader(path, db), readOnlyBecause: sentenceOf(because, path), notices }
}

/**
 * One more connection for a worker thread of a process that may have the file open: it never touches the file except through SQLite,
 * because closing any other descriptor would drop this process's locks.
 */
export function openReader(path: string): ProjectFile {
  return naming(path, () => reader(path, connectReading(path, false).db))
}

/** As openReader, but also a file whose inner structure is not ours any more, so that a check can say what is wrong with it. */
export function openForCheck(path: string): ProjectFile {
  return naming(path, () => {
    realPath(path)
    const db = connect(path, false)
    try {
      if (db.pragma('application_id', { simple: true }) !== APPLICATION_ID)
        throw problem('not_a_project', message('file.not_a_project', { name: basename(path) }))
      refuseNewer(path, stepOf(db))
      refuseWithoutTables(db, path)
      return reader(path, db)
    } catch (error) {
      db.close()
      throw error
    }
  })
}

function reader(path: string, db: Database.Database): ProjectFile {
  const readOnlyBecause = sentenceOf('asked', path)
  return {
    path,
    db,
    readOnly: true,
    readOnlyBecause,
    notices: [],
    journal: 'rollback',
    segment: null,
    inPlace: () => true,
    close: () => db.close(),
  }
}

/** Plays a left-over log back into the file, after a look through it that changes nothing. The caller holds the lock. */
export function recoverFirst(path: string, header: Header): void {
  if (!header.waitingJournal) {
    const look = new Database(path, { readonly: true, fileMustExist: true, timeout: 2000 })
    try {
      refuseDamaged(look, path)
    } finally {
      look.close()
    }
  }
  const db = new Database(path, { fileMustExist: true, timeout: 2000 })
  try {
    guardConnection(db)
    if (header.waitingJournal) refuseDamaged(db, path)
    db.pragma('wal_checkpoint(TRUNCATE)')
  } finally {
    db.close()
  }
}

function recoverForReading(path: string, header: Header, holder: Holder): void {
  const refusal = problem('read_only', message('file.left_over_log', { name: basename(path) }))
  if (!canBeWritten(path)) throw refusal
  let answer: ReturnType<typeof takeLock>
  try {
    answer = takeLock(path, holder)
  } catch {
    throw refusal
  }
  // Someone began to write between our look and now: then the log is theirs, and alive.
  if ('heldBy' in answer) return
  try {
    recoverFirst(path, header)
  } finally {
    answer.lock.release()
  }
}

/** `broughtFrom` is the step of a file of an earlier one, which is then read from a copy in memory that was brought up to date. */
type Reading = { readonly db: Database.Database; readonly broughtFrom: number | null }

function connectReading(path: string, still: boolean): Reading {
  const db = connect(path, still)
  try {
    const step = stepOf(db)
    refuseNewer(path, step)
    if (step < NEWEST_STEP) return { db: broughtUpToDate(db, path), broughtFrom: step }
    refuseForeignSchema(db, path)
    return { db, broughtFrom: null }
  } catch (error) {
    db.close()
    throw error
  }
}

/** A copy in memory of a file of an earlier step, at today's step, so that the file itself stays as it is. Closes the file. */
function broughtUpToDate(older: Database.Database, path: string): Database.Database {
  const db = new Database(asAtRest(older.serialize()))
  older.close()
  try {
    guardConnection(db)
    migrate(db)
    refuseForeignSchema(db, path)
    setPragma(db, 'query_only', 'ON', 1)
    return db
  } catch (error) {
    db.close()
    throw error
  }
}

function connect(path: string, still: boolean): Database.Database {
  const db = still
    ? new Database(asAtRest(readFileSync(path)), { readonly: true })
    : new Database(path, { readonly: true, fileMustExist: true, timeout: 2000 })
  try {
    guardConnection(db)
    setPragma(db, 'query_only', 'ON', 1)
    return db
  } catch (error) {
    db.close()
    throw error
  }
}

/** A file's bytes, marked as a file at rest is: memory has no write-ahead log. */
function asAtRest(bytes: Buffer): Buffer {
  bytes.writeUInt16BE(0x0101, 18)
  return bytes
}

function sentenceOf(because: ReadOnlyCause, path: string): Sentence {
  const name = basename(path)
  if (because === 'file') return message('file.read_only_file', { name })
  if (because === 'folder') return message('file.read_only_folder', { name })
  if (because === 'backup') return message('file.read_only_backup', { name })
  if (because === 'linked') return message('file.read_only_linked', { name })
  return message('file.read_only_asked', {})
}
