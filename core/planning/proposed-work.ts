import { ductPoints } from '#core/methods/airflow/duct-layout.ts'
import { gridOf } from '#core/methods/airflow/layout.ts'
import { layOutPlane } from '#core/methods/airflow/plane-layout.ts'
import { quantityOf } from '#core/methods/airflow/ways.ts'
import { methodOf } from '#core/methods/catalogue.ts'
import type { Entity, EntityBody } from '#core/model/entities.ts'
import type { FlowWay } from '#core/model/terminals.ts'
import type { Quantity, Uuid } from '#core/model/values.ts'
import { proposedMethod } from './proposed-method.ts'
import { NO_POINTS, type PointsByWay, type RoomTask, withPoints } from './workload.ts'

type Terminal = EntityBody<'terminal'>

/** What is planned of a room: itself, its zones, and its terminals. */
export type PlannedRoom = {
  readonly room: Pick<Entity<'room'>, 'id' | 'body'>
  readonly zones: readonly Pick<Entity<'zone'>, 'id' | 'body'>[]
  readonly terminals: readonly Pick<Entity<'terminal'>, 'id' | 'body'>[]
}

function pointsAt(way: FlowWay, id: Uuid, terminal: Terminal): number {
  if (way === 'duct_traverse') return terminal.duct ? ductPoints(id, terminal.duct).length : 0
  if (way !== 'face_grid') return 1
  const { rows, columns } = gridOf(terminal)
  return rows * columns
}

function measuredIn({ room, zones, terminals }: PlannedRoom) {
  const { wayAt, measures } = methodOf(proposedMethod(room, zones, terminals))
  return terminals.flatMap(({ id, body }) => {
    const way = body.closed === null && measures(body) ? wayAt(body) : null
    return way ? [{ id, body, way }] : []
  })
}

function isByPlane({ room, zones, terminals }: PlannedRoom): boolean {
  return proposedMethod(room, zones, terminals) === 'plane_velocity_grid'
}

/**
 * What measuring a room would take that has no run yet, by the method that suits it: its open terminals by their ways, each face with its own or
 * the proposed grid, a duct with its traverse, or the planes of its zones; one reading a point. `averagingTimeS` in s, as the room's criteria ask for.
 */
export function proposedTask(planned: PlannedRoom, averagingTimeS: number): RoomTask {
  let work: PointsByWay = NO_POINTS
  for (const { id, body, way } of measuredIn(planned)) work = withPoints(work, way, pointsAt(way, id, body))
  const planePoints = isByPlane(planned) ? planned.zones.reduce((sum, { body }) => sum + planeOf(body.boundary), 0) : 0
  return { roomId: planned.room.id, ...work, points: work.points + planePoints, samplesPerPoint: 1, averagingTimeS }
}

function planeOf(boundary: EntityBody<'zone'>['boundary']): number {
  return layOutPlane({ terminals: [], facingDegrees: 0, gridFor: new Map(), plane: { boundary, grid: null } }).length
}

/** The doors of these rooms that have a pressure difference to keep, each once, though it may lie between two of them. */
export function doorsToMeasure<D extends { readonly body: Pick<EntityBody<'door'>, 'roomIds' | 'leastPressureDifference'> }>(
  roomIds: readonly Uuid[],
  doors: readonly D[],
): D[] {
  const chosen = new Set(roomIds)
  return doors.filter(({ body }) => body.leastPressureDifference !== null && body.roomIds.some((id) => id !== null && chosen.has(id)))
}

/**
 * The quantities that measuring these rooms needs an instrument for, by the methods that suit them; `doors` is how many pressures over doors are
 * measured as well.
 */
export function quantitiesFor(rooms: readonly PlannedRoom[], doors = 0): Set<Quantity> {
  const needed = new Set<Quantity>(doors > 0 ? ['pressure_difference'] : [])
  for (const planned of rooms) {
    if (isByPlane(planned)) needed.add('velocity')
    for (const { body, way } of measuredIn(planned)) needed.add(quantityOf(way, body))
  }
  return needed
}
