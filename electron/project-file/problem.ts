import { basename } from 'node:path'
import Database from 'better-sqlite3'
import type { ErrorKind, Failure } from '#core/api/errors.ts'
import { type MessageCode, message, type ParamsOf } from '#core/messages/say.ts'

/** A failure of a named kind with its sentence, thrown through the engine and answered as data at the contract's border. */
export class ProblemError extends Error {
  readonly failure: Failure

  constructor(failure: Failure, cause?: unknown) {
    super(`${failure.kind}: ${failure.sentence.code}`, { cause })
    this.name = 'ProblemError'
    this.failure = failure
  }
}

/** Builds a ProblemError; the compiler checks that the parameters fit the code. `cause` goes to the log, never to the page. */
export function problem<C extends MessageCode>(
  kind: ErrorKind,
  sentence: { code: C; params: ParamsOf<C> },
  more: { field?: string; cause?: unknown } = {},
): ProblemError {
  return new ProblemError(
    { kind, sentence: { code: sentence.code, params: { ...sentence.params } }, field: more.field ?? null },
    more.cause,
  )
}

/**
 * Names what SQLite or the file system reported, in the words of the file `path`. Anything that is not about the disk or the file
 * (a broken constraint, a bug) comes back unchanged, so that it is never mistaken for trouble with the file.
 */
export function classify(error: unknown, path: string): unknown {
  if (error instanceof ProblemError) return error
  const name = basename(path)
  const code = codeOf(error)
  if (code === null) return error
  const cause = { cause: error }
  if (/^SQLITE_CORRUPT|^SQLITE_IOERR_(SHORT_READ|DATA|CORRUPTFS)/.test(code))
    return problem('damaged_file', message('file.damaged', { name, detail: text(error) }), cause)
  if (code === 'SQLITE_NOTADB') return problem('not_a_project', message('file.not_a_project', { name }), cause)
  if (/^SQLITE_FULL$|^ENOSPC$|^EDQUOT$|^EFBIG$/.test(code)) return problem('disk_full', message('file.disk_full', { name }), cause)
  if (/^SQLITE_(BUSY|LOCKED)|^EBUSY$/.test(code)) return problem('locked', message('file.busy', { name }), cause)
  if (/^SQLITE_(READONLY|PERM|AUTH)|^EROFS$|^EACCES$|^EPERM$/.test(code))
    return problem('read_only', message('file.write_protected', { name }), cause)
  // SQLite names a full disk, but not a quota or a size limit that is used up: a refused write is taken for that.
  if (/^SQLITE_IOERR_(WRITE|TRUNCATE|SHMSIZE)$/.test(code)) return problem('disk_full', message('file.write_refused', { name }), cause)
  if (/^SQLITE_IOERR|^SQLITE_CANTOPEN|^EIO$/.test(code))
    return problem('internal', message('file.disk_error', { name, cause: `${code}: ${text(error)}` }), cause)
  if (code === 'EEXIST') return problem('already_exists', message('file.exists', { name }), cause)
  if (code === 'ENAMETOOLONG') return problem('invalid_input', message('file.name_too_long', { name: name.slice(0, 40) }), cause)
  if (code === 'ENOENT') return problem('not_found', message('file.missing', { name }), cause)
  return error
}

/** Runs `work` and names whatever the disk says to it. */
export function naming<T>(path: string, work: () => T): T {
  try {
    return work()
  } catch (error) {
    throw classify(error, path)
  }
}

function codeOf(error: unknown): string | null {
  if (error instanceof Database.SqliteError) return error.code
  if (error instanceof Error && 'code' in error && typeof error.code === 'string') return error.code
  return null
}

function text(error: unknown): string {
  return error instanceof Error ? error.message : String(error)
}
