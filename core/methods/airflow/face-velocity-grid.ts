import type { EntityBody } from '#core/model/entities.ts'
import type { RunResult } from '#core/model/results.ts'
import type { Method, RunInput } from '../method.ts'
import { airflowCautions } from './cautions.ts'
import { type AirflowScope, computeAirflow } from './compute-airflow.ts'
import { layOutFaceGrid } from './layout.ts'
import { isFilter } from './ways.ts'

/** Supply filters and fan filter units; grilles and ducts have methods of their own and do not hold up the room's totals here. */
function measures(terminal: EntityBody<'terminal'>): boolean {
  return isFilter(terminal.kind)
}

export const FACE_GRID_SCOPE: AirflowScope = { wayOf: (terminal) => (measures(terminal) ? 'face_grid' : null), wholeRoom: false }

/** Computes a face-velocity run: see {@link computeAirflow}; supply filters alone, each by a grid of velocities, and no balance. */
export function computeFaceVelocityGrid(input: RunInput): RunResult {
  return computeAirflow(input, FACE_GRID_SCOPE)
}

/** Face velocities on a grid of points under each filter: flow, air changes, spread and their verdicts. */
export const faceVelocityGrid: Method = {
  id: 'face_velocity_grid',
  records: 'velocity',
  recordsAt: () => 'velocity',
  balancesRoom: false,
  wayAt: FACE_GRID_SCOPE.wayOf,
  measures,
  layOut: layOutFaceGrid,
  compute: computeFaceVelocityGrid,
  cautions: airflowCautions,
}
