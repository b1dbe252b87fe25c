import type { Location } from '#core/model/readings.ts'
import type { PlanPoint } from '#core/model/values.ts'
import { type Grid, proposeGrid } from '#core/planning/grid.ts'
import { sweepOrder } from '#core/planning/sweep.ts'
import { contains } from '#core/rooms/geometry.ts'
import type { LayoutRequest } from '../method.ts'
import { turnedClockwise } from './layout.ts'

/** The box around a zone's boundary on the plan, m. */
export type PlaneBox = { readonly centre: PlanPoint; readonly widthM: number; readonly depthM: number }

/** The bounding box of a boundary, along the axes of the plan. */
export function planeBox(boundary: readonly PlanPoint[]): PlaneBox {
  const xs = boundary.map(({ x }) => x)
  const ys = boundary.map(({ y }) => y)
  const [left, right, low, high] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)]
  return { centre: { x: (left + right) / 2, y: (low + high) / 2 }, widthM: right - left, depthM: high - low }
}

/** The grid of a plane: the run's own, else the one proposed for the box; rows along its depth, columns along its width. */
export function planeGridOf(boundary: readonly PlanPoint[], grid: Grid | null): Grid {
  return grid ?? proposeGrid(planeBox(boundary))
}

/**
 * Points over the plane of a zone, independent of filter edges: the centres of equal cells over the bounding box, of which only those inside the
 * boundary (edge included) are measured, numbered from 1 there and back. Row 1 is farthest ahead as the technician faces, column 1
 * at the left hand; offsets in m from the centre of the box in plan coordinates. No zone, no points.
 */
export function layOutPlane({ plane, facingDegrees }: LayoutRequest): Location[] {
  if (!plane) return []
  const { boundary } = plane
  const { centre, widthM, depthM } = planeBox(boundary)
  const grid = planeGridOf(boundary, plane.grid)
  const isTurned = facingDegrees % 180 !== 0
  const faced = isTurned ? { rows: grid.columns, columns: grid.rows } : grid
  const [acrossM, aheadM] = isTurned ? [depthM, widthM] : [widthM, depthM]
  const cellAreaM2 = (widthM * depthM) / (grid.rows * grid.columns)
  const points = sweepOrder(faced.rows, faced.columns).flatMap((place): Omit<Location, 'number'>[] => {
    const asFaced = {
      xM: ((place.column - 0.5) / faced.columns - 0.5) * acrossM,
      yM: (0.5 - (place.row - 0.5) / faced.rows) * aheadM,
    }
    const { xM, yM } = turnedClockwise(asFaced, facingDegrees)
    if (!contains(boundary, { x: centre.x + xM, y: centre.y + yM })) return []
    return [{ kind: 'plane_point', terminalId: null, ...place, offsetXM: xM, offsetYM: yM, cellAreaM2 }]
  })
  return points.map((point, index) => ({ number: index + 1, ...point }))
}
