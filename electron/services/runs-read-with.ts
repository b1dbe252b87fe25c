import type { StoredEntity } from '../project-file/entities.ts'
import type { Session } from './session.ts'

/** Runs that an instrument was read in, or whose carried readings it may have read in the run that they come from. */
export type RunsReadWith = {
  readonly own: readonly StoredEntity<'run'>[]
  /** runs that do not hold the instrument themselves, but carry readings of one that does */
  readonly carrying: readonly StoredEntity<'run'>[]
}

/** The runs that the readings of an instrument reach, by themselves or carried; removed runs are left out. */
export function runsReadWith(session: Session, instrument: StoredEntity<'instrument'>): RunsReadWith {
  const { entities, runs } = session.stores
  const own = runs.pinning(instrument.rowId).flatMap((rowId) => {
    const run = entities.findRow(rowId)
    // Only runs pin; the kind is compared all the same.
    return run?.entity.kind === 'run' && !run.entity.removed ? [run as StoredEntity<'run'>] : []
  })
  const ids = new Set(own.map(({ entity }) => entity.id))
  const carrying = entities
    .list('run')
    .filter(({ entity }) => !ids.has(entity.id) && entity.body.carried.some(({ fromRunId }) => ids.has(fromRunId)))
  return { own, carrying }
}
