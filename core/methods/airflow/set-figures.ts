import { sampleStandardDeviation } from '#core/statistics/statistics.ts'

/** Velocities that are looked at as one set: a filter's points, or a zone's. */
export type SpreadFigures = {
  /** with n - 1; null for fewer than two values */
  readonly standardDeviationMps: number | null
  /** null for fewer than two values, and where the mean is not above zero */
  readonly relativeStandardDeviationPercent: number | null
  readonly largestDeviationPercent: number | null
  readonly largestDeviationIndex: number | null
  readonly leastMps: number | null
  readonly greatestMps: number | null
}

/**
 * Spread of a set of velocities about its mean: s with n - 1, RSD = 100 s / mean, largest deviation = 100 max |v - mean| / mean. The
 * mean is handed in, because it is weighted by area where cells or filters are unequal; with equal areas it is the plain mean.
 * Source: the house's rule A1 (common practice); s by library.
 */
export function spreadOf(valuesMps: readonly number[], meanMps: number | null): SpreadFigures {
  let least = Number.POSITIVE_INFINITY
  let greatest = Number.NEGATIVE_INFINITY
  let farthest = -1
  let index: number | null = null
  for (let i = 0; i < valuesMps.length; i += 1) {
    const value = valuesMps[i] ?? 0
    if (value < least) least = value
    if (value > greatest) greatest = value
    const away = Math.abs(value - (meanMps ?? 0))
    if (away > farthest) {
      farthest = away
      index = i
    }
  }
  const standardDeviationMps = sampleStandardDeviation(valuesMps)
  const relative = meanMps !== null && meanMps > 0 && standardDeviationMps !== null
  return {
    standardDeviationMps,
    relativeStandardDeviationPercent: relative ? (100 * standardDeviationMps) / meanMps : null,
    largestDeviationPercent: relative ? (100 * farthest) / meanMps : null,
    largestDeviationIndex: relative ? index : null,
    leastMps: valuesMps.length > 0 ? least : null,
    greatestMps: valuesMps.length > 0 ? greatest : null,
  }
}

/** Mean of the values weighted by area; null without values or area. */
export function weightedMean(values: readonly number[], areas: readonly number[]): number | null {
  let sum = 0
  let area = 0
  for (let i = 0; i < values.length; i += 1) {
    sum += (values[i] ?? 0) * (areas[i] ?? 0)
    area += areas[i] ?? 0
  }
  return area > 0 ? sum / area : null
}

/**
 * The lowest RSD, percent, that a set of `planned` equal cells can end with when some are measured: with k values measured and m missing, RSD is
 * least when all missing ones equal x = S2 / S1 (S1, S2 the sums of the values and of their squares), which gives
 * RSD^2 = (n^2 S2 / (S1^2 + m S2) - n) / (n - 1). Null where nothing can be said: S1 not above zero, nothing measured.
 * Source: first principles (derivative of sum x^2 / (sum x)^2 by the missing value set to zero).
 */
export function leastPossibleRsdPercent(valuesMps: readonly number[], planned: number): number | null {
  let s1 = 0
  let s2 = 0
  for (const value of valuesMps) {
    s1 += value
    s2 += value * value
  }
  if (!(s1 > 0) || planned < 2) return null
  const missing = planned - valuesMps.length
  const square = ((planned * planned * s2) / (s1 * s1 + missing * s2) - planned) / (planned - 1)
  return 100 * Math.sqrt(Math.max(0, square))
}

/**
 * The lowest largest deviation, percent, whatever the mean becomes: (b - a) / (a + b) for least a and greatest b, reached
 * with the mean half-way. Null where a + b is not above zero.
 */
export function leastPossibleDeviationPercent(leastMps: number | null, greatestMps: number | null): number | null {
  if (leastMps === null || greatestMps === null || !(leastMps + greatestMps > 0)) return null
  return (100 * (greatestMps - leastMps)) / (leastMps + greatestMps)
}
