import { type MissingFilter, missingFilters } from '#core/history/outstanding.ts'
import type { RunResult } from '#core/model/results.ts'
import type { MissingReason } from '#core/model/runs.ts'

type Measured = Pick<RunResult, 'filters' | 'zones'>

/** What keeps a run from being completed: terminals with points left out and no reason, or a plane of which that is so. */
export function leftOpen({ filters, zones }: Measured, reasons: readonly MissingReason[]): MissingFilter[] {
  const [plane] = filters.length === 0 ? zones : []
  if (!plane) return missingFilters(filters, reasons)
  if (plane.pointsMeasured >= plane.pointsPlanned || reasons.length > 0) return []
  return [{ terminalId: plane.zoneId, tag: plane.name, measured: plane.pointsMeasured, planned: plane.pointsPlanned }]
}

/** How the terminals of an as-left run stand: each is measured again, carried, left out with a reason, or still open. Closed ones are a recorded zero. */
export function countsOf(
  result: Measured,
  reasons: readonly MissingReason[],
): { measured: number; carried: number; excused: number; open: number } {
  const waiting = new Set(leftOpen(result, reasons).map(({ terminalId }) => terminalId))
  const excused = new Set(reasons.flatMap(({ terminalIds }) => terminalIds))
  const counts = { measured: 0, carried: 0, excused: 0, open: 0 }
  for (const { terminalId, carried, closed, pointsMeasured, pointsPlanned } of result.filters) {
    if (closed) continue
    if (carried) counts.carried += 1
    else if (waiting.has(terminalId)) counts.open += 1
    else if (pointsMeasured < pointsPlanned && excused.has(terminalId)) counts.excused += 1
    else counts.measured += 1
  }
  return counts
}
