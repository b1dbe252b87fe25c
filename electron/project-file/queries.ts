import type { Database, Statement } from 'better-sqlite3'
import { type CompiledQuery, DummyDriver, Kysely, SqliteAdapter, SqliteIntrospector, SqliteQueryCompiler } from 'kysely'
import type { Tables } from './tables.ts'

const dialect = {
  createAdapter: () => new SqliteAdapter(),
  createDriver: () => new DummyDriver(),
  createIntrospector: (db: Kysely<unknown>) => new SqliteIntrospector(db),
  createQueryCompiler: () => new SqliteQueryCompiler(),
}

/** Builds the queries of schema steps, which know no fixed tables. */
export const schemaBuilder = new Kysely<unknown>({ dialect })

/** Builds typed queries; `all`, `first` and `run` below carry them out at once, inside whatever transaction is open. */
export const query = new Kysely<Tables>({ dialect })

/** The rows of a typed query. */
export function all<Row>(db: Database, built: { compile(): CompiledQuery<Row> }): Row[] {
  const { sql, parameters } = built.compile()
  return prepared<unknown[], Row>(db, sql).all(...parameters)
}

/** The first row of a typed query, or null. */
export function first<Row>(db: Database, built: { compile(): CompiledQuery<Row> }): Row | null {
  const { sql, parameters } = built.compile()
  return prepared<unknown[], Row>(db, sql).get(...parameters) ?? null
}

/** Carries out a typed insert, update or delete; answers the number of rows and the last integer key. */
export function run(db: Database, built: { compile(): CompiledQuery<unknown> }): { changes: number; id: number } {
  const { sql, parameters } = built.compile()
  const result = prepared<unknown[], unknown>(db, sql).run(...parameters)
  return { changes: result.changes, id: Number(result.lastInsertRowid) }
}

const statements = new WeakMap<Database, Map<string, Statement<unknown[], unknown>>>()

/** A statement that is prepared once per open file; for the hot paths. */
export function prepared<Parameters extends unknown[], Row>(db: Database, sql: string): Statement<Parameters, Row> {
  let known = statements.get(db)
  if (!known) {
    known = new Map()
    statements.set(db, known)
  }
  let statement = known.get(sql)
  if (!statement) {
    statement = db.prepare<unknown[], unknown>(sql)
    known.set(sql, statement)
  }
  // The caller's types describe the SQL text it passed; the cache holds the same statement under the same text.
  return statement as Statement<Parameters, Row>
}
