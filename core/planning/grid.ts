/** Rows lie along the depth of a face, columns along its width. */
export type Grid = { readonly rows: number; readonly columns: number }

/**
 * One cell stands for at most this area: one square foot (0.0929 m2, common practice) and a little, so that nominal sizes such
 * as 0.61 x 0.61 m do not round into another row.
 */
export const LARGEST_CELL_M2 = 0.095

/** Of grids with at most this many times the points that are needed, the squarest is taken. */
const POINTS_FOR_SQUARENESS = 1.5
const TOLERANCE = 1e-9

/**
 * The fewest points that a face of this area asks for: cells of at most {@link LARGEST_CELL_M2}, at least 4, and at least
 * ceil(sqrt(10 A)) with A in m2 (ISO 14644-3 style, from memory).
 */
export function fewestPoints(areaM2: number): number {
  const bySize = Math.ceil(areaM2 / LARGEST_CELL_M2 - TOLERANCE)
  const byArea = Math.ceil(Math.sqrt(10 * areaM2) - TOLERANCE)
  return Math.max(4, bySize, byArea)
}

/**
 * Measuring points proposed for a face: a grid of equal cells, as near square as the face allows with at most half as many
 * points again as {@link fewestPoints} asks for; of equally square ones the one with fewer points. 0.61 x 1.22 m gives 4 rows
 * of 2. Sizes in metres, above zero.
 *
 * @throws RangeError when a size is not a finite number above zero; sizes are refused at their field before they come here.
 */
export function proposeGrid({ widthM, depthM }: { readonly widthM: number; readonly depthM: number }): Grid {
  if (!(widthM > 0 && depthM > 0 && Number.isFinite(widthM * depthM))) {
    throw new RangeError(`A face of ${widthM} m by ${depthM} m has no grid`)
  }
  const fewest = fewestPoints(widthM * depthM)
  const most = Math.floor(fewest * POINTS_FOR_SQUARENESS)
  let best: Grid = { rows: 1, columns: fewest }
  let bestElongation = Number.POSITIVE_INFINITY
  for (let points = fewest; points <= most; points += 1) {
    for (let columns = 1; columns <= points; columns += 1) {
      if (points % columns !== 0) continue
      const rows = points / columns
      const cellWidthM = widthM / columns
      const cellDepthM = depthM / rows
      const elongation = Math.max(cellWidthM, cellDepthM) / Math.min(cellWidthM, cellDepthM)
      if (elongation < bestElongation - TOLERANCE) {
        best = { rows, columns }
        bestElongation = elongation
      }
    }
  }
  return best
}
