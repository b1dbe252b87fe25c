import type { Compilable, Kysely } from 'kysely'
import * as foundation from './0001-foundation.ts'
import * as airflowInFull from './0002-airflow-in-full.ts'

/** A query of a step, and the rows it is answered with. */
export type StepQueries = Generator<Compilable, void, readonly Record<string, unknown>[]>

/** One schema step: yields its queries one by one. It runs in one transaction together with the new step number, and only forward. */
export type Step = { readonly number: number; readonly title: string; readonly up: (db: Kysely<unknown>) => StepQueries }

/** All steps in order. Listed here rather than found in the folder, so that a bundled program has them too. */
export const STEPS: readonly Step[] = [
  { number: 1, title: 'foundation', up: foundation.up },
  { number: 2, title: 'airflow-in-full', up: airflowInFull.up },
]
