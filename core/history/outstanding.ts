import type { EntityBody } from '#core/model/entities.ts'
import type { FilterResult } from '#core/model/results.ts'
import type { MissingReason } from '#core/model/runs.ts'
import type { Uuid } from '#core/model/values.ts'
import type { RunInVisit } from './current-runs.ts'

export type MissingFilter = { readonly terminalId: Uuid; readonly tag: string; readonly measured: number; readonly planned: number }

type Measured = Pick<FilterResult, 'terminalId' | 'tag' | 'closed' | 'pointsMeasured' | 'pointsPlanned'>

/** Filters of a run with points left out that no written reason covers yet; closed ones have none to measure. */
export function missingFilters(filters: readonly Measured[], reasons: readonly MissingReason[]): MissingFilter[] {
  const excused = new Set(reasons.flatMap((reason) => reason.terminalIds))
  return filters
    .filter((filter) => !filter.closed && filter.pointsMeasured < filter.pointsPlanned && !excused.has(filter.terminalId))
    .map((filter) => ({ terminalId: filter.terminalId, tag: filter.tag, measured: filter.pointsMeasured, planned: filter.pointsPlanned }))
}

/** How many valid samples measured points have fewer than their run plans: told, and no reason to hold a run up. */
export function samplesLacking(filters: readonly Pick<FilterResult, 'notes'>[]): number {
  let lacking = 0
  for (const { notes } of filters)
    for (const { code, params } of notes) if (code === 'note.fewer_samples') lacking += Number(params.lacking)
  return lacking
}

/** A run of a room with what its readings cover. */
export type RunToFinish = {
  readonly phase: RunInVisit['phase']
  readonly state: RunInVisit['state']
  readonly filters: readonly Measured[]
  readonly missing: EntityBody<'run'>['missing']
}

/**
 * The filters that are left to measure in each run of one room, in the order of the runs, which is the order they were started in. A
 * filter counts once, in the run that will decide about it: an as-left run before an as-found one, else the one started last. Points
 * given up for a reason, and whatever a complete run covers, are not left. Source: the house's rule A4.
 */
export function filtersLeft<T extends RunToFinish>(runs: readonly T[]): { readonly run: T; readonly filters: readonly MissingFilter[] }[] {
  const deciding = new Map<Uuid, T>()
  for (const run of runs)
    for (const { terminalId } of run.filters) {
      const other = deciding.get(terminalId)
      if (!other || run.phase === other.phase || run.phase === 'as_left') deciding.set(terminalId, run)
    }
  return runs.map((run) => ({
    run,
    filters: run.state === 'open' ? missingFilters(run.filters, run.missing).filter((one) => deciding.get(one.terminalId) === run) : [],
  }))
}
