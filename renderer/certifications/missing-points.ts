import type { EntityBody } from '#core/model/entities.ts'
import type { FilterResult } from '#core/model/results.ts'
import type { Uuid } from '#core/model/values.ts'

export type MissingFilter = { readonly terminalId: Uuid; readonly tag: string; readonly measured: number; readonly planned: number }
type Reason = EntityBody<'run'>['missing'][number]

/** Filters of a run with points left out that no written reason covers yet. */
export function missingFilters(filters: readonly FilterResult[], reasons: readonly Reason[]): MissingFilter[] {
  const excused = new Set(reasons.flatMap((reason) => reason.terminalIds))
  return filters
    .filter((filter) => !filter.closed && filter.pointsMeasured < filter.pointsPlanned && !excused.has(filter.terminalId))
    .map((filter) => ({ terminalId: filter.terminalId, tag: filter.tag, measured: filter.pointsMeasured, planned: filter.pointsPlanned }))
}

/** The reasons with one more for a group of filters; one that says the same takes the group in. */
export function withReason(reasons: readonly Reason[], more: Reason): Reason[] {
  const moved = new Set(more.terminalIds)
  const kept = reasons
    .map((reason) => ({ ...reason, terminalIds: reason.terminalIds.filter((id) => !moved.has(id)) }))
    .filter((reason) => reason.terminalIds.length > 0)
  const same = kept.find((reason) => reason.cause === more.cause && reason.note === more.note)
  if (!same) return [...kept, more]
  return kept.map((reason) => (reason === same ? { ...reason, terminalIds: [...reason.terminalIds, ...more.terminalIds] } : reason))
}
