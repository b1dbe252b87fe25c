import { CALCULATION_VERSION, methodOf } from '#core/methods/catalogue.ts'
import { RunResult } from '#core/model/results.ts'
import type { StoredEntity } from '../project-file/entities.ts'
import { runInput } from './run-input.ts'
import type { Session } from './session.ts'

/** Computes a run from what is in the file, whatever was signed or cached. */
export function computeRun(session: Session, run: StoredEntity<'run'>): RunResult {
  return methodOf(run.entity.body.method).compute(runInput(session, run))
}

/** What a run says: the frozen rows where it is signed, else computed, with a cache that may be thrown away at any time. */
export function resultOf(session: Session, run: StoredEntity<'run'>): RunResult {
  if (run.entity.body.state === 'signed') {
    const signed = signedResultOf(session, run)
    if (signed) return signed
  }
  const { results } = session.stores
  const revision = inputRevisionOf(session, run)
  const cached = results.cached(run.rowId, revision, CALCULATION_VERSION)
  // The cache holds what this very calculation version wrote.
  if (cached !== null) return JSON.parse(cached) as RunResult
  const result = computeRun(session, run)
  results.keep(run.rowId, revision, CALCULATION_VERSION, JSON.stringify(result))
  return result
}

/** The result as it was signed last, or null. Its form is checked: it may come from an older program. */
export function signedResultOf(session: Session, run: StoredEntity<'run'>): RunResult | null {
  const last = session.stores.results.signedOf(run.rowId).at(-1)
  return last ? RunResult.parse(JSON.parse(last.body)) : null
}

/** Names the state of everything a run's result depends on: each change of it is a command in the run's own scope. */
export function inputRevisionOf(session: Session, run: StoredEntity<'run'>): string {
  return `${run.entity.revision}.${session.stores.trail.lastInScope(run.entity.id)}`
}
