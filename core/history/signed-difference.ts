import { RELATIVE_TOLERANCE } from '#core/criteria/compare-limit.ts'
import type { FilterResult, RunResult } from '#core/model/results.ts'

/** Two figures of one quantity (any SI unit, none is null) that differ by more than the house's tolerance: relative 1e-9. */
export function figuresDiffer(a: number | null, b: number | null): boolean {
  if (a === null || b === null) return a !== b
  return Math.abs(a - b) > RELATIVE_TOLERANCE * Math.max(Math.abs(a), Math.abs(b))
}

/** Whether today's calculation gives this filter another figure or verdict than was signed. A filter that was not signed differs. */
export function filterDiffersFromSigned(signed: FilterResult | null, today: FilterResult): boolean {
  return (
    signed === null ||
    figuresDiffer(signed.meanVelocityMps, today.meanVelocityMps) ||
    figuresDiffer(signed.flowM3ps, today.flowM3ps) ||
    signed.verdict !== today.verdict
  )
}

/** The same for the figures and the verdict of the whole room. */
export function roomDiffersFromSigned(signed: RunResult, today: RunResult): boolean {
  return (
    figuresDiffer(signed.room.airChangesPerHour, today.room.airChangesPerHour) ||
    figuresDiffer(signed.room.supplyFlowM3ps, today.room.supplyFlowM3ps) ||
    figuresDiffer(signed.room.areaWeightedMeanVelocityMps, today.room.areaWeightedMeanVelocityMps) ||
    signed.verdict !== today.verdict
  )
}

/** Tags of the filters, and whether the room, that today's calculation reads differently from what was signed. */
export function differencesFromSigned(signed: RunResult, today: RunResult): { room: boolean; filters: string[] } {
  const frozen = new Map(signed.filters.map((filter) => [filter.terminalId, filter]))
  const filters = today.filters.filter((filter) => filterDiffersFromSigned(frozen.get(filter.terminalId) ?? null, filter))
  return { room: roomDiffersFromSigned(signed, today), filters: filters.map((filter) => filter.tag) }
}
