import { closeSync, openSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs'
import Database from 'better-sqlite3'

/** Who holds a project file for writing, as the others are told. */
export type Holder = { readonly who: string; readonly where: string; readonly since: string }

export type Lock = { readonly release: () => void }
export type LockAnswer = { readonly lock: Lock } | { readonly heldBy: Holder | null }

/** The lock database beside a project file, and the text beside it that says who holds it. */
export const lockPath = (projectPath: string) => `${projectPath}-lock`
export const holderPath = (projectPath: string) => `${projectPath}-lock.txt`

/**
 * Takes the right to write, or says who has it. The lock is an open exclusive transaction on a sibling database: the system frees it
 * when the process dies, however it dies. Throws what the file system says when nothing can be written there.
 */
export function takeLock(projectPath: string, holder: Holder): LockAnswer {
  const path = lockPath(projectPath)
  for (let attempt = 0; attempt < 50; attempt += 1) {
    closeSync(openSync(path, 'a'))
    const before = identity(path)
    let db: Database.Database
    try {
      db = new Database(path, { fileMustExist: true, timeout: 0 })
    } catch (error) {
      // The holder let go and removed the file between our two steps.
      if (error instanceof Database.SqliteError && error.code === 'SQLITE_CANTOPEN') continue
      throw error
    }
    try {
      // Nothing is ever kept in this database, so it needs no journal of its own beside the project.
      db.pragma('journal_mode = MEMORY')
      db.exec('BEGIN EXCLUSIVE')
    } catch (error) {
      db.close()
      if (error instanceof Database.SqliteError && error.code.startsWith('SQLITE_BUSY')) return { heldBy: readHolder(projectPath) }
      throw error
    }
    // A lock on a file that was removed meanwhile keeps nobody out: whoever comes next makes a new file of that name.
    if (before === null || identity(path) !== before) {
      db.close()
      continue
    }
    writeFileSync(holderPath(projectPath), `${holder.who}\n${holder.where}\n${holder.since}\n`)
    return { lock: { release: () => release(db, projectPath) } }
  }
  return { heldBy: readHolder(projectPath) }
}

/** Whether someone holds the lock now; needs no right to write. */
export function lockIsHeld(projectPath: string): boolean {
  let db: Database.Database
  try {
    db = new Database(lockPath(projectPath), { readonly: true, fileMustExist: true, timeout: 0 })
  } catch {
    return false
  }
  try {
    db.prepare('SELECT count(*) FROM sqlite_schema').get()
    return false
  } catch (error) {
    return error instanceof Database.SqliteError && error.code.startsWith('SQLITE_BUSY')
  } finally {
    db.close()
  }
}

function readHolder(projectPath: string): Holder | null {
  try {
    const [who, where, since] = readFileSync(holderPath(projectPath), 'utf8').split('\n')
    return who && where && since ? { who, where, since } : null
  } catch {
    return null
  }
}

function release(db: Database.Database, projectPath: string): void {
  if (!db.open) return
  rmSync(holderPath(projectPath), { force: true })
  // Removed while still held, so that nobody can take a lock on a file that is about to go. Windows keeps an open file: there after.
  if (process.platform !== 'win32') rmSync(lockPath(projectPath), { force: true })
  db.close()
  if (process.platform !== 'win32') return
  try {
    rmSync(lockPath(projectPath), { force: true })
  } catch {
    // Someone took it in this very moment; then it is theirs to remove.
  }
}

function identity(path: string): string | null {
  try {
    const { dev, ino, birthtimeNs } = statSync(path, { bigint: true })
    return `${dev}:${ino}:${birthtimeNs}`
  } catch {
    return null
  }
}
