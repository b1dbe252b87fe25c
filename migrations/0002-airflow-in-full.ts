import { type Kysely, sql } from 'kysely'
import type { StepQueries } from './index.ts'

/**
 * Bodies, layouts and trail entries now say more than a program of step 1 understands (ways of measuring, conditions, air systems, whole
 * points in the trail), so the step number moves and such a program refuses the file. Stored rows stay as they are: what they lack reads
 * with its default. An attachment is found by its hash, so that a file of readings is noticed when it comes a second time.
 */
export function* up(db: Kysely<unknown>): StepQueries {
  yield { compile: () => sql.raw('CREATE INDEX attachment_by_hash ON attachment (sha256)').compile(db) }
}
