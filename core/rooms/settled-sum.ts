/** Parts of a sum that cancel this far, relative to the sum of their sizes, leave nothing but the noise of floating point. */
const CANCELS = 1e-12

/**
 * A signed sum as people read it: exactly 0 where its parts cancel to within 1e-12 of `size`, the sum of their absolute values, else itself. Both in
 * one unit. 0.3 - 0.1 - 0.2 is not 0 in floating point, and a limit at 0 must not be decided by that. Source: a rule of the house (double
 * precision carries about 1e-16 of each part).
 */
export function settledSum(sum: number, size: number): number {
  return Math.abs(sum) <= CANCELS * size ? 0 : sum
}
