import { basename } from 'node:path'
import Database from 'better-sqlite3'
import { message } from '#core/messages/say.ts'
import { migrate } from './migrate.ts'
import { problem } from './problem.ts'

type SchemaItem = { type: string; name: string; sql: string }

let expected: readonly SchemaItem[] | null = null

/** Tables, indexes and triggers as our own steps make them. SQLite's own (statistics, automatic indexes) are left out. */
export function schemaOf(db: Database.Database): SchemaItem[] {
  return db
    .prepare<[], SchemaItem>(
      `SELECT type, name, sql FROM sqlite_schema WHERE sql IS NOT NULL AND name NOT LIKE 'sqlite\\_%' ESCAPE '\\' ORDER BY type, name`,
    )
    .all()
}

/** The schema of the newest step, made once in memory. */
function expectedSchema(): readonly SchemaItem[] {
  if (!expected) {
    const db = new Database(':memory:')
    migrate(db)
    expected = schemaOf(db)
    db.close()
  }
  return expected
}

/** What differs between the schema of a file and that of the newest step, by name. */
export function schemaDifferences(db: Database.Database): string[] {
  const found = new Map(schemaOf(db).map((item) => [item.name, item]))
  const missing = expectedSchema().filter((item) => found.get(item.name)?.sql !== item.sql || found.get(item.name)?.type !== item.type)
  const known = new Set(expectedSchema().map((item) => item.name))
  return [...missing.map((item) => item.name), ...[...found.keys()].filter((name) => !known.has(name))]
}

/** Cheap proof at every opening: the schema can be read and is ours to the letter. */
export function refuseForeignSchema(db: Database.Database, path: string): void {
  const different = schemaDifferences(db)
  if (different.length > 0)
    throw problem(
      'damaged_file',
      message('file.damaged', { name: basename(path), detail: `its inner structure is not what it must be: ${different.join(', ')}` }),
    )
}

/** Reads every page once; for openings after a crash. */
export function refuseDamaged(db: Database.Database, path: string): void {
  const verdict = String(db.pragma('quick_check(1)', { simple: true }))
  if (verdict !== 'ok')
    throw problem(
      'damaged_file',
      message('file.damaged', { name: basename(path), detail: verdict.replace(/^\*{3} in database main \*{3}\s*/, '').trim() }),
    )
}
