import { planeBox, planeGridOf } from '#core/methods/airflow/plane-layout.ts'
import type { Location } from '#core/model/readings.ts'
import type { ZoneResult } from '#core/model/results.ts'
import type { PlanPoint } from '#core/model/values.ts'
import type { Grid } from '#core/planning/grid.ts'
import { pointPlace } from './point-places.ts'

/** One cell of a measuring plane on the plan, m. */
export type PlaneCell = {
  readonly point: number
  readonly centre: PlanPoint
  readonly widthM: number
  readonly depthM: number
  readonly meanMps: number | null
  /** null: no limits for points, or not measured */
  readonly within: boolean | null
}

/** The cells of a plane where they lie: their size from the run's grid over the zone's bounding box, their place from the points of the run. */
export function planeCells(
  cells: ZoneResult['planeCells'],
  locations: readonly Location[],
  boundary: readonly PlanPoint[],
  grid: Grid | null,
): PlaneCell[] {
  const { centre, widthM, depthM } = planeBox(boundary)
  const { rows, columns } = planeGridOf(boundary, grid)
  const results = new Map(cells.map((cell) => [cell.point, cell]))
  return locations
    .filter(({ kind }) => kind === 'plane_point')
    .map((location) => {
      const { meanMps = null, within = null } = results.get(location.number) ?? {}
      return {
        point: location.number,
        centre: pointPlace(centre, location),
        widthM: widthM / columns,
        depthM: depthM / rows,
        meanMps,
        within,
      }
    })
}

/** How many cells were measured, and how many of them lie outside the limits for points; limits: whether there are any. */
export function cellCounts(cells: readonly Pick<PlaneCell, 'meanMps' | 'within'>[]): {
  measured: number
  outside: number
  limits: boolean
} {
  return {
    measured: cells.filter(({ meanMps }) => meanMps !== null).length,
    outside: cells.filter(({ within }) => within === false).length,
    limits: cells.some(({ within }) => within !== null),
  }
}
