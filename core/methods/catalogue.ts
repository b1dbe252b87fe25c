import type { MethodId } from '#core/model/runs.ts'
import { faceVelocityGrid } from './airflow/face-velocity-grid.ts'
import { planeVelocityGrid } from './airflow/plane-velocity-grid.ts'
import { roomAirflow } from './airflow/room-airflow.ts'
import type { Method } from './method.ts'

const METHODS: { readonly [K in MethodId]: Method } = {
  face_velocity_grid: faceVelocityGrid,
  room_airflow: roomAirflow,
  plane_velocity_grid: planeVelocityGrid,
}

/** The test method of that name. */
export function methodOf(id: MethodId): Method {
  return METHODS[id]
}

export { CALCULATION_VERSION } from './calculation-version.ts'
