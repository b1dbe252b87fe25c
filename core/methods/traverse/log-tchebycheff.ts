import { isAtMostM } from './rule.ts'

/**
 * Places of the lines across one side of a rectangular duct, as a share of that side from the inner wall, log-Tchebycheff rule. Source:
 * ISO 3966 / ASHRAE Standard 111, tables as seen in public text; symmetry checked. Chebyshev's cosine nodes are not these.
 */
export const LOG_TCHEBYCHEFF: Readonly<Record<5 | 6 | 7, readonly number[]>> = {
  5: [0.074, 0.288, 0.5, 0.712, 0.926],
  6: [0.061, 0.235, 0.437, 0.563, 0.765, 0.939],
  7: [0.053, 0.203, 0.366, 0.5, 0.634, 0.797, 0.947],
}

const FIVE_LINES_BELOW_M = 0.76
const SIX_LINES_UP_TO_M = 0.915

/**
 * Lines across a side of the given length, m: 5 under 760 mm (30 in), 6 from there to 915 mm (36 in), 7 above; so every traverse has at
 * least 25 points. Both boundaries have 6. Null for a length that is not above zero. Source: public text on the log-Tchebycheff rule.
 */
export function logTchebycheffLines(sideM: number): 5 | 6 | 7 | null {
  if (!(sideM > 0 && Number.isFinite(sideM))) return null
  if (!isAtMostM(FIVE_LINES_BELOW_M, sideM)) return 5
  return isAtMostM(sideM, SIX_LINES_UP_TO_M) ? 6 : 7
}
