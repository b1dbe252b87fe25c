/** Percent is typed and shown to so many decimals. */
export const SPEED_DECIMALS = 2
/** Of the last place: what floating point adds or takes is no hundredth more. */
const NOISE = 1e-6

/**
 * A change of fan speed in percent, for the ratio that just reaches a limit: rounded away from no change, so that the figure as it
 * stands in the field reaches the limit too. The ratio is positive.
 */
export function percentThatReaches(ratio: number): number {
  const step = 10 ** SPEED_DECIMALS
  const steps = 100 * (ratio - 1) * step
  const reached = steps >= 0 ? Math.ceil(steps - NOISE) : Math.floor(steps + NOISE)
  return reached === 0 ? 0 : reached / step
}
