import { dirname } from 'node:path'
import type { Database } from 'better-sqlite3'
import { syncFolder } from './durable.ts'
import type { Lock } from './lock.ts'
import { setPragma } from './pragmas.ts'

/** How long closing waits for readers elsewhere before it leaves the tidying to the next opening. */
const PATIENCE_MS = 300

/**
 * Leaves one file at rest. Where a reader elsewhere or a full disk keeps the log from being folded in, the file stays as safe as it
 * is while open and the next opening folds it in.
 */
export function closeWriting(db: Database, path: string, lock: Lock): void {
  if (db.inTransaction) throw new Error('a project file is not closed in the middle of a change')
  try {
    setPragma(db, 'busy_timeout', PATIENCE_MS)
    if (changedSomething(db)) db.pragma('optimize')
    db.pragma('wal_checkpoint(TRUNCATE)')
    setPragma(db, 'journal_mode', 'DELETE', 'delete')
  } catch {
    // Everything acknowledged is on the disk already; only the tidying has to wait.
  } finally {
    db.close()
    lock.release()
  }
  syncFolder(dirname(path))
}

function changedSomething(db: Database): boolean {
  return Number(db.prepare('SELECT total_changes()').pluck().get()) > 0
}
