import { basename } from 'node:path'
import Database from 'better-sqlite3'
import { message } from '#core/messages/say.ts'
import { migrate, stepOf } from './migrate.ts'
import { problem } from './problem.ts'

type SchemaItem = { type: string; name: string; sql: string }

const expected = new Map<number, readonly SchemaItem[]>()

/** Tables, indexes and triggers as our own steps make them. SQLite's own (statistics, automatic indexes) are left out. */
export function schemaOf(db: Database.Database): SchemaItem[] {
  return db
    .prepare<[], SchemaItem>(
      `SELECT type, name, sql FROM sqlite_schema WHERE sql IS NOT NULL AND name NOT LIKE 'sqlite\\_%' ESCAPE '\\' ORDER BY type, name`,
    )
    .all()
}

/** The schema of a step, made once in memory. */
function schemaOfStep(step: number): readonly SchemaItem[] {
  const known = expected.get(step)
  if (known) return known
  const db = new Database(':memory:')
  migrate(db, step)
  const made = schemaOf(db)
  db.close()
  expected.set(step, made)
  return made
}

/** What differs between the schema of a file and that of the step it says it stands at, by name. */
export function schemaDifferences(db: Database.Database): string[] {
  const ours = schemaOfStep(stepOf(db))
  const found = new Map(schemaOf(db).map((item) => [item.name, item]))
  const missing = ours.filter((item) => found.get(item.name)?.sql !== item.sql || found.get(item.name)?.type !== item.type)
  const known = new Set(ours.map((item) => item.name))
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

/** Refuses a file in which whole tables are missing, so that there is nothing to look at; with none of them it is not ours at all. */
export function refuseWithoutTables(db: Database.Database, path: string): void {
  const found = namesInSchema(db)
  if (!found) return
  const tables = schemaOfStep(stepOf(db)).flatMap((item) => (item.type === 'table' ? [item.name] : []))
  const missing = tables.filter((table) => !found.has(table))
  const name = basename(path)
  if (missing.length === tables.length) throw problem('not_a_project', message('file.not_a_project', { name }))
  if (missing.length > 0) throw problem('damaged_file', message('file.damaged', { name, detail: `it lacks ${missing.join(', ')}` }))
}

/** Null where the schema cannot be read: then a check tells what it met there. */
function namesInSchema(db: Database.Database): ReadonlySet<string> | null {
  try {
    return new Set(schemaOf(db).map((item) => item.name))
  } catch {
    return null
  }
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
