import { expect, test } from 'vitest'
import { layOutPlane } from '#core/methods/airflow/plane-layout.ts'
import { cellCounts, planeCells } from '#renderer/rooms/plan/plane-cells.ts'

const box = [
  { x: 2, y: 1 },
  { x: 5, y: 1 },
  { x: 5, y: 3 },
  { x: 2, y: 3 },
]
const grid = { rows: 2, columns: 3 }

function laidOut(boundary: typeof box, facingDegrees: 0 | 90) {
  return layOutPlane({ terminals: [], facingDegrees, gridFor: new Map(), plane: { boundary, grid } })
}

test('cells lie side by side over the zone: 3 across 3 m, 2 over 2 m', () => {
  const locations = laidOut(box, 0)
  const cells = planeCells([], locations, box, grid)
  expect(cells).toHaveLength(6)
  // Row 1 is farthest ahead (up the plan), column 1 at the left hand.
  expect(cells[0]).toMatchObject({ point: 1, centre: { x: 2.5, y: 2.5 }, widthM: 1, depthM: 1, meanMps: null, within: null })
  const covered = cells.reduce((sum, { widthM, depthM }) => sum + widthM * depthM, 0)
  expect(covered).toBeCloseTo(6, 12)
})

test('whatever way the technician faced, the same cells are covered', () => {
  const places = (facing: 0 | 90) =>
    planeCells([], laidOut(box, facing), box, grid)
      .map(({ centre, widthM, depthM }) => [centre.x.toFixed(6), centre.y.toFixed(6), widthM, depthM].join())
      .sort()
  expect(places(90)).toEqual(places(0))
})

test('values and limits go to the cell of their point; what is not measured is neither inside nor outside', () => {
  const results = [
    { point: 1, meanMps: 0.45, within: true },
    { point: 2, meanMps: 0.3, within: false },
    { point: 3, meanMps: null, within: null },
  ]
  const cells = planeCells(results, laidOut(box, 0), box, grid)
  expect(cells.slice(0, 3).map(({ meanMps, within }) => [meanMps, within])).toEqual([
    [0.45, true],
    [0.3, false],
    [null, null],
  ])
  expect(cellCounts(cells)).toEqual({ measured: 2, outside: 1, limits: true })
  expect(cellCounts(planeCells([], laidOut(box, 0), box, grid))).toEqual({ measured: 0, outside: 0, limits: false })
})

test('only cells whose centre lies in the zone are there', () => {
  const triangle = [
    { x: 2, y: 1 },
    { x: 5, y: 1 },
    { x: 2, y: 3 },
  ]
  const cells = planeCells([], laidOut(triangle, 0), triangle, grid)
  expect(cells.map(({ centre }) => `${centre.x},${centre.y}`).sort()).toEqual(['2.5,1.5', '2.5,2.5', '3.5,1.5'])
})
