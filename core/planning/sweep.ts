/** A place in a grid: row 1 is farthest ahead, column 1 at the left hand. */
export type GridPlace = { readonly row: number; readonly column: number }

/**
 * The path through a grid, there and back: row 1 from left to right, row 2 from right to left, and so on, so that the probe
 * never jumps. Empty when there are no rows or columns.
 */
export function sweepOrder(rows: number, columns: number): GridPlace[] {
  const path: GridPlace[] = []
  for (let row = 1; row <= rows; row += 1) {
    for (let step = 1; step <= columns; step += 1) {
      path.push({ row, column: row % 2 === 1 ? step : columns + 1 - step })
    }
  }
  return path
}
