import { basename, dirname } from 'node:path'
import Database from 'better-sqlite3'
import { message } from '#core/messages/say.ts'
import type { Sentence } from '#core/model/results.ts'
import { isBackupFolder } from './backup-folder.ts'
import { closeWriting } from './close.ts'
import { makeProjectFile } from './create.ts'
import { type Header, readHeader, refuseNewer } from './header.ts'
import { hold, isHeld, letGo } from './held.ts'
import { type Holder, type Lock, takeLock } from './lock.ts'
import { migrate, NEWEST_STEP, stepOf } from './migrate.ts'
import { type FileSystemType, fileSystemType, mayBeNetwork } from './network.ts'
import { keepOlder } from './older-copy.ts'
import { guardConnection, type Journal, setJournal } from './pragmas.ts'
import { classify, naming, problem } from './problem.ts'
import type { ProjectFile } from './project-file.ts'
import { canBeWritten, hasSecondName, placeKeeper, realPath } from './reach.ts'
import { openReading, type ReadOnlyCause, recoverFirst } from './read-only.ts'
import { OpenSegment } from './segment.ts'
import { refuseDamaged, refuseForeignSchema } from './soundness.ts'

export type OpenOptions = {
  readonly clock: () => number
  readonly uuid: () => string
  /** the person or account, as others shall read it while the file is open here */
  readonly who: string
  /** the machine */
  readonly where: string
  readonly readOnly?: boolean
  /** the program's version, kept with each segment */
  readonly version: string
  readonly fileSystemType?: FileSystemType
}

/** Makes a project file at `path`, which must not exist, and opens it. Throws a ProblemError. */
export function createProjectFile(path: string, options: OpenOptions): ProjectFile {
  naming(path, () => makeProjectFile(path, options.uuid()))
  return openProjectFile(path, options)
}

/**
 * Opens a project file, for writing where that is possible and not declined. Refuses with a ProblemError, and then nothing on the disk
 * has changed: not a project, newer, damaged, open elsewhere. A crash before this is recovered and told in `notices`.
 */
export function openProjectFile(path: string, options: OpenOptions): ProjectFile {
  const real = readable(path, () => realPath(path))
  // Two openings of one file in one process would drop each other's locks.
  if (isHeld(real)) throw problem('locked', message('file.open_here', { name: basename(real) }))
  const file = naming(real, () => openReal(real, options))
  hold(real)
  return {
    ...file,
    close: () => {
      if (!file.db.open) return
      try {
        file.close()
      } finally {
        letGo(real)
      }
    },
  }
}

function openReal(path: string, options: OpenOptions): ProjectFile {
  const header = readable(path, () => readHeader(path))
  const reading = (because: ReadOnlyCause) => openReading(path, header, because, holderOf(options))
  if (options.readOnly) return reading('asked')
  // Automatic backups are removed in time, and with them all that would be written into one.
  if (isBackupFolder(basename(dirname(path)))) return reading('backup')
  if (hasSecondName(path)) return reading('linked')
  if (!canBeWritten(path)) return reading('file')
  const answer = tryLock(path, holderOf(options))
  if (answer === 'folder_not_writable') return reading('folder')
  if ('heldBy' in answer) throw heldElsewhere(path, answer.heldBy)
  try {
    return openWriting(path, readHeader(path), answer.lock, options)
  } catch (error) {
    answer.lock.release()
    throw error
  }
}

function openWriting(path: string, header: Header, lock: Lock, options: OpenOptions): ProjectFile {
  const notices: Sentence[] = []
  const network = mayBeNetwork(dirname(path), process.platform, options.fileSystemType ?? fileSystemType)
  if (header.waitingBytes > 0) {
    recoverFirst(path, header)
    notices.push(message('file.recovered', {}))
  }
  if (header.logMissing) notices.push(message('file.log_missing', { name: basename(path) }))
  const db = new Database(path, { fileMustExist: true, timeout: 2000 })
  try {
    guardConnection(db)
    if (header.waitingJournal) refuseDamaged(db, path)
    const step = stepOf(db)
    refuseNewer(path, step)
    if (step < NEWEST_STEP) notices.push(bringUpToDate(db, path, step, options))
    refuseForeignSchema(db, path)
    const journal: Journal = network ? 'network' : 'wal'
    setJournal(db, journal)
    if (network) notices.push(message('file.network', {}))
    const segment = new OpenSegment(db, options.uuid(), {
      openedAt: new Date(options.clock()).toISOString(),
      openedBy: options.who,
      openedWhere: options.where,
      program: options.version,
    })
    const close = () => closeWriting(db, path, lock)
    const inPlace = placeKeeper(path, network)
    return { path, db, readOnly: false, readOnlyBecause: null, notices, journal, segment, inPlace, close }
  } catch (error) {
    db.close()
    throw error
  }
}

function bringUpToDate(db: Database.Database, path: string, step: number, options: OpenOptions): Sentence {
  const copy = keepOlder(db, path, step, options.uuid())
  migrate(db)
  return message('file.migrated', { fromStep: step, toStep: NEWEST_STEP, copy: basename(copy) })
}

/** Before anything is tried, a refusal by the file system means that we may not even read. */
function readable<T>(path: string, work: () => T): T {
  try {
    return work()
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? error.code : null
    if (code === 'EACCES' || code === 'EPERM')
      throw problem('refused', message('file.not_readable', { name: basename(path) }), { field: 'path', cause: error })
    throw classify(error, path)
  }
}

function tryLock(path: string, holder: Holder): ReturnType<typeof takeLock> | 'folder_not_writable' {
  try {
    return takeLock(path, holder)
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? String(error.code) : ''
    if (/^(EACCES|EPERM|EROFS|SQLITE_READONLY.*)$/.test(code)) return 'folder_not_writable'
    throw error
  }
}

function heldElsewhere(path: string, holder: Holder | null): Error {
  const name = basename(path)
  if (!holder) return problem('locked', message('file.locked_unknown', { name }))
  return problem('locked', message('file.locked', { name, ...holder }))
}

function holderOf(options: OpenOptions): Holder {
  return { who: options.who, where: options.where, since: new Date(options.clock()).toISOString() }
}
