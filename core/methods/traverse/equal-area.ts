/** Farthest that neighbouring lines should stand apart, m (6 in), and the fewest and most of them per side (16 to 64 points in all). */
const SPACING_M = 0.15
const FEWEST_LINES = 4
const MOST_LINES = 8

/**
 * Lines across one side of a rectangular duct for equal areas: at most 150 mm (6 in) apart, 4 to 8 of them. Null for a length that is not
 * above zero. Source: common practice, seen in public text (16 to 64 readings at the centres of equal areas, 150 mm apart).
 */
export function equalAreaLines(sideM: number): number | null {
  if (!(sideM > 0 && Number.isFinite(sideM))) return null
  return Math.min(MOST_LINES, Math.max(FEWEST_LINES, Math.ceil(sideM / SPACING_M - 1e-9)))
}

/** Centres of `lines` equal strips, as a share of the side: (2 i - 1) / (2 n). `lines` a whole number from 1. Source: geometry. */
export function equalStripPlaces(lines: number): number[] {
  return Array.from({ length: lines }, (_, index) => (2 * index + 1) / (2 * lines))
}

/**
 * Places of the points on one diameter of a round duct, as a share of the diameter from the inner wall: the centroids of rings of equal area,
 * (1 - sqrt((2 k - 1) / (2 n))) / 2 for the k-th of n rings counted from the centre, and their mirror images. `points` an even whole number from 2 to
 * 24; null otherwise. Source: 40 CFR 60, appendix A-1, Method 1, table 1-2, which is this formula rounded; it is not the log-linear rule.
 */
export function equalRingPlaces(points: number): number[] | null {
  if (!Number.isInteger(points) || points < 2 || points > 24 || points % 2 !== 0) return null
  const rings = points / 2
  const near = Array.from({ length: rings }, (_, index) => (1 - Math.sqrt((2 * (rings - index) - 1) / (2 * rings))) / 2)
  return [...near, ...near.map((place) => 1 - place).reverse()]
}

/** Proposed points on one diameter: 10 on each of two diameters at 90 degrees, 20 in all (common practice, seen in public text). */
export const EQUAL_RING_POINTS = 10
export const EQUAL_RING_DIAMETERS = 2
