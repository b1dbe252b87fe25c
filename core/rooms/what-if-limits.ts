import { keepsHigh, reachesLow } from '#core/criteria/compare-limit.ts'
import { decimalsOf } from '#core/criteria/limit-digits.ts'
import type { CriterionResult } from '#core/model/results.ts'
import { fromSi, toSi } from '#core/units/units.ts'

/** A criterion's limits with what its rule moves them by, in the criterion's own unit of SI. */
export type HeldLimits = {
  readonly value: number | null
  readonly low: number | null
  readonly high: number | null
  /** guard band as it is now, 0 under simple acceptance */
  readonly guard: number
  /** the guard band over the standard uncertainty, by today's coverage factor; 0 where it does not move with the figure */
  readonly perStandard: number
  readonly coverageFactor: number
  /** a guarded value is rounded before it is compared, and may lose as much */
  readonly halfStep: number
}

/** Looks for the stance in a reason, or in that of a verdict that is not valid. */
function isRounded({ params }: CriterionResult['reason']): boolean {
  const { stance, otherwise } = params as { stance?: { rounded?: boolean }; otherwise?: { params?: { stance?: { rounded?: boolean } } } }
  return (stance ?? otherwise?.params?.stance)?.rounded === true
}

/** Half of what a value is rounded to: of the limit's last digit, or half a percent of design, whose limits stand around it. */
function halfStepOf({ low, high, unit, reason }: CriterionResult): number {
  const { figure } = reason.params as { figure?: { relative?: unknown } }
  if (figure?.relative && low !== null && high !== null) return 0.005 * Math.abs((low + high) / 2)
  const limits = [low, high].filter((limit) => limit !== null)
  const decimals = Math.max(0, ...limits.map((limit) => decimalsOf(fromSi(limit, unit))))
  return Math.abs(toSi(0.5 * 10 ** -decimals, unit) - toSi(0, unit))
}

export function heldLimits(criterion: CriterionResult): HeldLimits {
  const { value, low, high, guardBand, expandedUncertainty, coverageFactor } = criterion
  const guard = guardBand ?? 0
  const grows = guard > 0 && expandedUncertainty !== null && expandedUncertainty > 0 && coverageFactor !== null
  return {
    value,
    low,
    high,
    guard,
    perStandard: grows ? (guard / expandedUncertainty) * coverageFactor : 0,
    coverageFactor: coverageFactor ?? 1,
    halfStep: guard > 0 && isRounded(criterion.reason) ? halfStepOf(criterion) : 0,
  }
}

/** What moves when a figure is changed: standard uncertainty that comes with a unit of it, and the coverage factor of what is changed. */
export type Moving = { readonly standardPerUnit: number; readonly coverageFactor: number }

/**
 * The value at which a figure that stands at `value` now passes, raised to its lower limit or lowered to its upper one; null where no value
 * does, because the guard bands meet or grow as fast as the figure. The uncertainty of the raised figure is taken to grow by that of the part
 * that is raised, as if the two were one error, and never to shrink when it is lowered; the larger of the two coverage factors is taken. Both
 * err on the safe side. Source: GUM 5.2.2 (full correlation is the most that two errors add up to); the decision rule as in `compareLimit`.
 */
export function passingValue(limits: HeldLimits, value: number, side: 'at_least' | 'at_most', moving: Moving): number | null {
  const { low, high, guard, perStandard, coverageFactor, halfStep } = limits
  const widened = perStandard > 0 ? Math.max(1, moving.coverageFactor / coverageFactor) : 1
  const band = guard * widened + halfStep
  if (side === 'at_most') {
    if (high === null) return null
    const most = high - band
    return low === null || reachesLow(most, low + band) ? most : null
  }
  if (low === null) return null
  const slope = perStandard * widened * moving.standardPerUnit
  if (slope >= 1) return null
  const least = Math.max(low + band, (low + band - value * slope) / (1 - slope))
  const bandThen = band + Math.max(0, least - value) * slope
  return high === null || keepsHigh(least, high - bandThen) ? least : null
}

/** Where a figure times a factor leaves its own limits; null while it keeps them. Its uncertainty grows with it, and does not shrink. */
export function leavesLimits(limits: HeldLimits, factor: number): 'above' | 'below' | null {
  const { value, low, high, guard, halfStep } = limits
  if (value === null) return null
  const then = value * factor
  const band = guard * Math.max(1, factor) + halfStep
  if (high !== null && !keepsHigh(then, high - band)) return 'above'
  return low !== null && !reachesLow(then, low + band) ? 'below' : null
}
