/** A value this close to a limit, relative to the limit, is on it: 0.45 x 0.8 is not 0.36 in floating point, but it is to people. */
export const RELATIVE_TOLERANCE = 1e-9

export type LimitOutcome = {
  readonly verdict: 'pass' | 'fail' | 'inconclusive'
  /** the limit that decides: the one the value is nearest to, or has crossed */
  readonly side: 'low' | 'high' | null
  /** distance to that limit, positive inside, negative outside, exactly 0 on it; Infinity when there is no limit */
  readonly margin: number
  /** true when the guard bands from both sides meet, so that no value can pass */
  readonly undecidable: boolean
}

function isOn(value: number, limit: number): boolean {
  return Math.abs(value - limit) <= RELATIVE_TOLERANCE * Math.abs(limit)
}

/** Inside a lower limit, the limit itself included. */
export function reachesLow(value: number, low: number): boolean {
  return value >= low || isOn(value, low)
}

/** Inside an upper limit, the limit itself included. */
export function keepsHigh(value: number, high: number): boolean {
  return value <= high || isOn(value, high)
}

/**
 * The one comparison that decides every verdict. Limits are inclusive and a value within {@link RELATIVE_TOLERANCE} of a limit
 * is on it, at both ends and in every unit. All arguments in one unit; null is no limit on that side; `value` must be finite.
 *
 * With a guard band w > 0 it passes when low + w <= value <= high - w, fails when value < low - w or value > high + w, and is
 * inconclusive between. w = 0 leaves two outcomes. Source: JCGM 106:2012 and ILAC-G8:09/2019 (binary rule with guard band, extended to
 * three outcomes by the house).
 */
export function compareLimit(value: number, low: number | null, high: number | null, guardBand = 0): LimitOutcome {
  const undecidable = guardBand > 0 && low !== null && high !== null && 2 * guardBand >= high - low
  const fromLow = low === null ? Number.POSITIVE_INFINITY : isOn(value, low) ? 0 : value - low
  const fromHigh = high === null ? Number.POSITIVE_INFINITY : isOn(value, high) ? 0 : high - value
  const nearLow = fromLow <= fromHigh
  const margin = nearLow ? fromLow : fromHigh
  const side = margin === Number.POSITIVE_INFINITY ? null : nearLow ? 'low' : 'high'
  if (guardBand === 0) return { verdict: margin >= 0 ? 'pass' : 'fail', side, margin, undecidable }
  const passes = (low === null || reachesLow(value, low + guardBand)) && (high === null || keepsHigh(value, high - guardBand))
  if (passes) return { verdict: 'pass', side, margin, undecidable }
  const fails = (low !== null && !reachesLow(value, low - guardBand)) || (high !== null && !keepsHigh(value, high + guardBand))
  return { verdict: fails ? 'fail' : 'inconclusive', side, margin, undecidable }
}
