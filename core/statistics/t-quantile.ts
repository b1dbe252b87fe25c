import quantile from '@stdlib/stats-base-dists-t-quantile'

/** From here on Student's t and the normal distribution differ by less than 1e-10 in the quantile. */
const AS_GOOD_AS_INFINITE = 1e12
const REMEMBERED = 500

/** The library takes a tenth of a millisecond; a site asks for the same few degrees of freedom thousands of times. */
const remembered = new Map<number, Map<number, number>>()

/**
 * Quantile of Student's t distribution: the t that a share `probability` (between 0 and 1) of the distribution lies under.
 * `degreesOfFreedom` above 0, infinity for the normal distribution. NaN outside these. From the stdlib library.
 */
export function studentTQuantile(probability: number, degreesOfFreedom: number): number {
  if (!(degreesOfFreedom > 0 && probability > 0 && probability < 1)) return Number.NaN
  return quantile(probability, Math.min(degreesOfFreedom, AS_GOOD_AS_INFINITE))
}

/**
 * Coverage factor of a two-sided interval: the t that |t| stays under with the probability `level` (0.95 is 95 %).
 * `degreesOfFreedom` above 0, also infinite. NaN outside these. Source: GUM (JCGM 100:2008), G.3 and table G.2.
 */
export function twoSidedCoverageFactor(degreesOfFreedom: number, level: number): number {
  let ofLevel = remembered.get(level)
  if (!ofLevel) {
    if (remembered.size >= REMEMBERED) remembered.clear()
    ofLevel = new Map()
    remembered.set(level, ofLevel)
  }
  const known = ofLevel.get(degreesOfFreedom)
  if (known !== undefined) return known
  const factor = studentTQuantile((1 + level) / 2, degreesOfFreedom)
  if (ofLevel.size >= REMEMBERED) ofLevel.clear()
  ofLevel.set(degreesOfFreedom, factor)
  return factor
}
