import type { Database } from 'better-sqlite3'
import { STEPS } from '#migrations/index.ts'
import { schemaBuilder } from './queries.ts'

/** The newest schema step this program knows. */
export const NEWEST_STEP = STEPS.length

/** The schema step of an open file. */
export function stepOf(db: Database): number {
  return Number(db.pragma('user_version', { simple: true }))
}

/**
 * Brings the schema forward from the step it stands at, each step in one transaction with its number, so that a crash leaves the file
 * at a whole step. `upTo` is for tests that need a file of an earlier step.
 */
export function migrate(db: Database, upTo: number = NEWEST_STEP): void {
  for (const step of STEPS.filter(({ number }) => number > stepOf(db) && number <= upTo)) {
    if (step.number !== stepOf(db) + 1) throw new Error(`step ${step.number} does not follow step ${stepOf(db)}`)
    db.transaction(() => {
      const queries = step.up(schemaBuilder)
      let answer = queries.next()
      while (!answer.done) {
        const { sql, parameters } = answer.value.compile()
        const statement = db.prepare<unknown[], Record<string, unknown>>(sql)
        if (statement.reader) {
          answer = queries.next(statement.all(...parameters))
        } else {
          statement.run(...parameters)
          answer = queries.next([])
        }
      }
      db.pragma(`user_version = ${step.number}`)
    }).immediate()
    if (stepOf(db) !== step.number) throw new Error(`the step number was not kept: ${stepOf(db)}`)
  }
}
