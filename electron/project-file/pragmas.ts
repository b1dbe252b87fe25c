import type { Database } from 'better-sqlite3'

/** Marks a Facegrid project in the SQLite header ("Fgrd"), so that `file` and we can tell it from any other database. */
export const APPLICATION_ID = 0x46677264

export type Journal = 'wal' | 'rollback' | 'network'

/** Sets a pragma and reads it back: SQLite ignores a misspelt name or a refused value without a word. */
export function setPragma(db: Database, name: string, value: string | number, expected: string | number = value): void {
  db.pragma(`${name} = ${value}`)
  expectPragma(db, name, expected)
}

/** Stops when a pragma does not read as it must. */
export function expectPragma(db: Database, name: string, expected: string | number): void {
  const found: unknown = db.pragma(name, { simple: true })
  if (found !== expected) throw new Error(`pragma ${name} reads ${String(found)} where it must read ${expected}`)
}

/** What holds for every connection to a project file, from the first statement on. */
export function guardConnection(db: Database): void {
  setPragma(db, 'foreign_keys', 'ON', 1)
  setPragma(db, 'trusted_schema', 'OFF', 0)
  setPragma(db, 'cell_size_check', 'ON', 1)
  setPragma(db, 'recursive_triggers', 'ON', 1)
  // Answers no row where memory mapping is compiled out, which is as good as 0.
  const mapped: unknown = db.pragma('mmap_size = 0', { simple: true })
  if (mapped !== undefined && mapped !== 0) throw new Error(`pragma mmap_size reads ${String(mapped)} where it must read 0`)
  setPragma(db, 'temp_store', 'MEMORY', 2)
}

/**
 * How a writer's commits reach the disk. Local disk: write-ahead log, synced at every commit. Network drive: rollback journal with
 * the folder synced too, and no other reader, because shared memory and byte-range locks cannot be trusted there.
 */
export function setJournal(db: Database, journal: Journal): void {
  if (journal === 'wal') {
    setPragma(db, 'journal_mode', 'WAL', 'wal')
    setPragma(db, 'synchronous', 'FULL', 2)
    return
  }
  if (journal === 'network') setPragma(db, 'locking_mode', 'EXCLUSIVE', 'exclusive')
  setPragma(db, 'journal_mode', 'DELETE', 'delete')
  setPragma(db, 'synchronous', 'EXTRA', 3)
}
