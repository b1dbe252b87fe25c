import { methodOf } from '#core/methods/catalogue.ts'
import { RunResult } from '#core/model/results.ts'
import type { StoredEntity } from '../project-file/entities.ts'
import { runInput } from './run-input.ts'
import type { Session } from './session.ts'

/** Computes a run from what is in the file, whatever was signed or cached. */
export function computeRun(session: Session, run: StoredEntity<'run'>): RunResult {
  return methodOf(run.entity.body.method).compute(runInput(session, run))
}

/** What a run says: the frozen rows where it is signed, else computed. */
export function resultOf(session: Session, run: StoredEntity<'run'>): RunResult {
  const signed = run.entity.body.state === 'signed' ? signedResultOf(session, run) : null
  return signed ?? computeRun(session, run)
}

/** The result as it was signed last, or null. Its form is checked: it may come from an older program. */
export function signedResultOf(session: Session, run: StoredEntity<'run'>): RunResult | null {
  const last = session.stores.results.signedOf(run.rowId).at(-1)
  return last ? RunResult.parse(JSON.parse(last.body)) : null
}

/**
 * Names the state of everything a run's result depends on: each change of it is a command in the run's own scope, or, until the run is
 * signed, a change of a certificate or of a run that readings are carried from.
 */
export function inputRevisionOf(session: Session, run: StoredEntity<'run'>): string {
  const carriedFrom = new Set(run.entity.body.carried.map(({ fromRunId }) => fromRunId))
  const sources = [...carriedFrom].map((id) => session.stores.trail.lastInScope(id))
  const own = [run.entity.revision, session.stores.trail.lastInScope(run.entity.id), ...sources].join('.')
  // The calendar day of a reading, and so whether a certificate covered it, follows the time zone of the site.
  return run.entity.body.state === 'signed' ? own : `${own}.${session.certificates.asOf}.${session.timeZone}`
}
