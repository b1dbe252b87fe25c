import type { Entity } from '#core/model/entities.ts'
import type { PlanPoint } from '#core/model/values.ts'
import { outlineOf } from '#core/rooms/geometry.ts'
import { tidy } from '../plan/array-placement.ts'
import { boundsOf } from '../plan/view-transform.ts'

/** Where a new room's lower left corner finds room: to the right of all rooms of the facility, on their lower line. */
export function freePlace(rooms: readonly Entity<'room'>[]): PlanPoint {
  const taken = boundsOf(rooms.flatMap((room) => outlineOf(room.body.shape)))
  return taken ? { x: tidy(taken.right + 1), y: tidy(taken.bottom) } : { x: 0, y: 0 }
}

/** How far a copy of a room is moved so that it stands at {@link freePlace} among these rooms. */
export function shiftToFreePlace(room: Entity<'room'>, rooms: readonly Entity<'room'>[]): PlanPoint {
  const own = boundsOf(outlineOf(room.body.shape)) ?? { left: 0, bottom: 0 }
  const place = freePlace(rooms)
  return { x: place.x - own.left, y: place.y - own.bottom }
}
