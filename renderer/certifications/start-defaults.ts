import { leastAveragingToday } from '#core/methods/airflow/averaging.ts'
import type { Entity, EntityBody } from '#core/model/entities.ts'
import type { MethodId } from '#core/model/runs.ts'
import type { Uuid } from '#core/model/values.ts'
import type { DisplayUnits } from '#core/units/formatter.ts'

type Run = Entity<'run'>
export type RunChoices = Pick<
  EntityBody<'run'>,
  | 'method'
  | 'phase'
  | 'plane'
  | 'occupancyState'
  | 'operatingState'
  | 'facingDegrees'
  | 'unit'
  | 'averagingTimeS'
  | 'samplesPerPoint'
  | 'planeGrid'
  | 'otherUnits'
>

/** The run of a room (or zone) that was started last among these; identities are ordered in time. */
export function lastRunOf(runs: readonly Run[], roomId: Uuid, zoneId: Uuid | null): Run | null {
  const own = runs.filter((run) => run.body.roomId === roomId && !run.removed)
  const same = own.filter((run) => run.body.zoneId === zoneId)
  return (same.length > 0 ? same : own).reduce<Run | null>((last, run) => (last === null || run.id > last.id ? run : last), null)
}

const ZONE_METHODS = ['face_velocity_grid', 'plane_velocity_grid'] as const
const ROOM_METHODS = ['face_velocity_grid', 'room_airflow'] as const

/** The methods a zone, or a whole room (null), can be measured by. */
export function methodsFor(zoneId: Uuid | null): readonly MethodId[] {
  return zoneId === null ? ROOM_METHODS : ZONE_METHODS
}

/** The wanted method where the zone or room can be measured by it, else filter by filter. */
export function methodFor(wanted: MethodId, zoneId: Uuid | null): MethodId {
  return methodsFor(zoneId).includes(wanted) ? wanted : 'face_velocity_grid'
}

/** The methods of which one is chosen first; then the zone, where there is one to choose. */
export const METHODS: readonly MethodId[] = ['face_velocity_grid', 'room_airflow', 'plane_velocity_grid']

/** Where a method is gone: the whole room for its air flow, a zone for a plane, either for the faces of filters. Null: the room has no zone for it. */
export function zoneFor(
  method: MethodId,
  wanted: Uuid | null,
  zones: readonly Pick<Entity<'zone'>, 'id'>[],
): { readonly zoneId: Uuid | null } | null {
  if (method === 'room_airflow') return { zoneId: null }
  if (method === 'face_velocity_grid') return { zoneId: wanted }
  const zoneId = zones.some(({ id }) => id === wanted) ? wanted : (zones[0]?.id ?? null)
  return zoneId === null ? null : { zoneId }
}

/**
 * What a new run starts with: as the room was measured last, here or at the visit before, else by the room's own data. As left
 * once the as-found run is complete.
 */
export function startChoices(input: {
  readonly room: Entity<'room'>
  /** the zones and criteria sets of the project, among others */
  readonly places: readonly Entity[]
  readonly zoneId: Uuid | null
  readonly here: readonly Run[]
  readonly last: Run | null
  readonly method: MethodId
  readonly display: Pick<DisplayUnits, 'velocity' | 'flow' | 'pressure'>
}): RunChoices {
  const { room, places, zoneId, here, last, method, display } = input
  const plane = last?.body.plane ?? { kind: 'filter_face', distanceM: 0.15 }
  const foundComplete = here.some((run) => run.body.zoneId === zoneId && run.body.phase === 'as_found' && run.body.state !== 'open')
  return {
    method: methodFor(method, zoneId),
    phase: foundComplete ? 'as_left' : 'as_found',
    plane,
    occupancyState: last?.body.occupancyState ?? room.body.occupancyState,
    operatingState: last?.body.operatingState ?? { airHandler: '', doors: '', equipment: '' },
    facingDegrees: last?.body.facingDegrees ?? 0,
    unit: last?.body.unit ?? display.velocity,
    otherUnits: last?.body.otherUnits ?? { flow: display.flow, pressure: display.pressure },
    planeGrid: method === 'plane_velocity_grid' && last?.body.zoneId === zoneId ? (last?.body.planeGrid ?? null) : null,
    // What was too short last time is not carried over.
    averagingTimeS: Math.max(last?.body.averagingTimeS ?? 0, leastAveragingToday(places, room, { plane, zoneId })),
    samplesPerPoint: last?.body.samplesPerPoint ?? 1,
  }
}
