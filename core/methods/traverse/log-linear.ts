import { isAtMostM } from './rule.ts'

/**
 * Places of the points on one diameter of a round duct, as a share of the diameter from the inner wall, log-linear rule. Source: ISO 3966 /
 * ASHRAE Standard 111 (from memory; symmetry and the radii checked). The last of eight is 0.979 = 1 - 0.021; tables that print 0.981 there
 * have a misprint.
 */
export const LOG_LINEAR: Readonly<Record<6 | 8 | 10, readonly number[]>> = {
  6: [0.032, 0.135, 0.321, 0.679, 0.865, 0.968],
  8: [0.021, 0.117, 0.184, 0.345, 0.655, 0.816, 0.883, 0.979],
  10: [0.019, 0.077, 0.153, 0.217, 0.361, 0.639, 0.783, 0.847, 0.923, 0.981],
}

/** Proposed diameters to traverse: three, at 60 degrees; two at 90 degrees where a third port cannot be had (common practice). */
export const LOG_LINEAR_DIAMETERS = 3

const SIX_POINTS_UP_TO_M = 0.254
const EIGHT_POINTS_UP_TO_M = 0.9

/**
 * Proposed points on one diameter of the given length, m: 6 up to 254 mm (10 in), then 8, and 10 above 0.9 m. The user may change it. Null for
 * a length that is not above zero. Source: common practice; 6 against 8 or 10 at 10 in seen in public text, the step at 0.9 m is the house's.
 */
export function logLinearPoints(diameterM: number): 6 | 8 | 10 | null {
  if (!(diameterM > 0 && Number.isFinite(diameterM))) return null
  if (isAtMostM(diameterM, SIX_POINTS_UP_TO_M)) return 6
  return isAtMostM(diameterM, EIGHT_POINTS_UP_TO_M) ? 8 : 10
}
