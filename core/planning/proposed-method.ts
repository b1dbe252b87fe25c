import { wayOf } from '#core/methods/airflow/ways.ts'
import type { Entity } from '#core/model/entities.ts'
import type { MethodId } from '#core/model/runs.ts'

/**
 * The method that suits a room: its whole air flow where air is turbulent and not every terminal is measured by a grid over its face (grilles,
 * ducts, diffusers); a plane where a zone is unidirectional and holds no filter of the room; else the faces of the filters.
 */
export function proposedMethod(
  room: Pick<Entity<'room'>, 'body'>,
  zones: readonly Pick<Entity<'zone'>, 'id'>[],
  terminals: readonly Pick<Entity<'terminal'>, 'body'>[],
): MethodId {
  const ways = new Set(terminals.filter(({ body }) => body.closed === null).flatMap(({ body }) => wayOf(body) ?? []))
  const others = [...ways].some((way) => way !== 'face_grid')
  if (room.body.airflowType === 'non_unidirectional') return others ? 'room_airflow' : 'face_velocity_grid'
  return !ways.has('face_grid') && zones.length > 0 ? 'plane_velocity_grid' : 'face_velocity_grid'
}
