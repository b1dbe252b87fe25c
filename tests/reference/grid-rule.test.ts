import fc from 'fast-check'
import { expect, test } from 'vitest'
import { fewestPoints, LARGEST_CELL_M2, proposeGrid } from '#core/planning/grid.ts'

// The rule: one reading for each square foot of filter face (0.0929 m2), in equal cells (common practice; public descriptions of
// face-velocity tests give cells of at most 0.09 m2 or 1 ft2), and at least ceil(sqrt(10 A)) and 4 points (ISO 14644-3 style, from
// memory). The counts below are the square feet of nominal faces, by hand: a 2 x 4 ft filter has 8 of them, as 2 across and 4 along.
const FOOT_M = 0.3048

test.each([
  { face: '2 x 4 ft', widthFt: 2, depthFt: 4, columns: 2, rows: 4 },
  { face: '4 x 2 ft', widthFt: 4, depthFt: 2, columns: 4, rows: 2 },
  { face: '2 x 2 ft', widthFt: 2, depthFt: 2, columns: 2, rows: 2 },
  { face: '1 x 4 ft', widthFt: 1, depthFt: 4, columns: 1, rows: 4 },
  { face: '2 x 3 ft', widthFt: 2, depthFt: 3, columns: 2, rows: 3 },
  { face: '3 x 4 ft', widthFt: 3, depthFt: 4, columns: 3, rows: 4 },
  { face: '4 x 4 ft', widthFt: 4, depthFt: 4, columns: 4, rows: 4 },
])('a nominal face of $face has a point for each square foot', ({ widthFt, depthFt, columns, rows }) => {
  expect(proposeGrid({ widthM: widthFt * FOOT_M, depthM: depthFt * FOOT_M })).toEqual({ rows, columns })
})

// The same faces in the metric sizes that stand on drawings, and faces that are no whole feet.
test.each([
  { widthM: 0.61, depthM: 1.22, rows: 4, columns: 2 },
  { widthM: 0.6, depthM: 1.2, rows: 4, columns: 2 },
  { widthM: 0.61, depthM: 0.61, rows: 2, columns: 2 },
  { widthM: 0.57, depthM: 1.17, rows: 4, columns: 2 },
  { widthM: 0.305, depthM: 1.22, rows: 4, columns: 1 },
  { widthM: 0.3, depthM: 0.3, rows: 2, columns: 2 },
  { widthM: 0.7, depthM: 0.7, rows: 3, columns: 3 },
  { widthM: 1.2, depthM: 1.2, rows: 4, columns: 4 },
])('a face of $widthM x $depthM m: $rows rows, $columns columns', ({ widthM, depthM, rows, columns }) => {
  expect(proposeGrid({ widthM, depthM })).toEqual({ rows, columns })
})

const side = fc.double({ min: 0.1, max: 6, noNaN: true })

test('every proposed grid keeps the rule, and turning a face turns its grid', () => {
  fc.assert(
    fc.property(side, side, (widthM, depthM) => {
      const areaM2 = widthM * depthM
      const { rows, columns } = proposeGrid({ widthM, depthM })
      const points = rows * columns
      expect(areaM2 / points).toBeLessThanOrEqual(LARGEST_CELL_M2 * (1 + 1e-8))
      expect(points).toBeGreaterThanOrEqual(4)
      expect(points).toBeGreaterThanOrEqual(Math.ceil(Math.sqrt(10 * areaM2) - 1e-9))
      expect(points).toBeLessThanOrEqual(1.5 * fewestPoints(areaM2))
      const turned = proposeGrid({ widthM: depthM, depthM: widthM })
      expect(turned.rows * turned.columns).toBe(points)
    }),
  )
})

test('a large unidirectional plane: the root rule is far below one point for each square foot', () => {
  // 3 m x 4 m: ceil(sqrt(120)) = 11 by the root, 12 / 0.095 = 126.3, so 127 by the cells.
  expect(fewestPoints(12)).toBe(127)
})

test('a face without a size has no grid', () => {
  for (const widthM of [0, -0.6, Number.NaN, Number.POSITIVE_INFINITY]) {
    expect(() => proposeGrid({ widthM, depthM: 0.6 })).toThrow(RangeError)
  }
})
