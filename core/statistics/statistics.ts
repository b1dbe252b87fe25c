import { mean as libraryMean, sampleStandardDeviation as librarySampleStandardDeviation } from 'simple-statistics'

/** Arithmetic mean, in the unit of the values; null without values. */
export function mean(values: readonly number[]): number | null {
  return values.length === 0 ? null : libraryMean([...values])
}

/** Standard deviation of a sample (divisor n - 1), in the unit of the values; null for fewer than two. */
export function sampleStandardDeviation(values: readonly number[]): number | null {
  return values.length < 2 ? null : librarySampleStandardDeviation([...values])
}

/**
 * Relative standard deviation, 100 s / mean, in percent, s with n - 1 (common practice for the uniformity of face velocities).
 * Null for fewer than two values, and where the mean is zero or negative: a spread relative to no flow says nothing.
 */
export function relativeStandardDeviationPercent(values: readonly number[]): number | null {
  const average = mean(values)
  const deviation = sampleStandardDeviation(values)
  return average === null || deviation === null || average <= 0 ? null : (100 * deviation) / average
}
