import type { CriteriaSet } from '#core/model/criteria.ts'
import type { Entity, EntityBody } from '#core/model/entities.ts'
import type { Unit, Uuid } from '#core/model/values.ts'

type Run = Entity<'run'>
export type RunChoices = Pick<
  EntityBody<'run'>,
  'phase' | 'plane' | 'occupancyState' | 'operatingState' | 'facingDegrees' | 'unit' | 'averagingTimeS' | 'samplesPerPoint'
>

/** Averaging at a filter face, s, where the criteria cite ISO 14644-3, and elsewhere; shorter is flagged (common practice). */
export const AVERAGING_S = { citing: 10, otherwise: 5, turbulent: 15 } as const

/** Whether a criteria set in use cites ISO 14644-3. */
export function citesIso(set: CriteriaSet | null): boolean {
  return set?.criteria.some((criterion) => criterion.on && /ISO\s*14644-3/.test(criterion.source)) ?? false
}

/** The least averaging time that is not flagged for a room under its criteria, s. */
export function leastAveragingS(
  room: Pick<EntityBody<'room'>, 'airflowType'>,
  set: CriteriaSet | null,
  plane: EntityBody<'run'>['plane'],
): number {
  if (plane.kind === 'filter_face') return citesIso(set) ? AVERAGING_S.citing : AVERAGING_S.otherwise
  return room.airflowType === 'non_unidirectional' ? AVERAGING_S.turbulent : AVERAGING_S.otherwise
}

/** The run of a room (or zone) that was started last among these; identities are ordered in time. */
export function lastRunOf(runs: readonly Run[], roomId: Uuid, zoneId: Uuid | null): Run | null {
  const own = runs.filter((run) => run.body.roomId === roomId && !run.removed)
  const same = own.filter((run) => run.body.zoneId === zoneId)
  return (same.length > 0 ? same : own).reduce<Run | null>((last, run) => (last === null || run.id > last.id ? run : last), null)
}

/**
 * What a new run starts with: as the room was measured last, here or at the visit before, else by the room's own data. As left
 * once the as-found run is complete.
 */
export function startChoices(input: {
  readonly room: Pick<EntityBody<'room'>, 'airflowType' | 'occupancyState'>
  readonly criteriaSet: CriteriaSet | null
  readonly zoneId: Uuid | null
  readonly here: readonly Run[]
  readonly last: Run | null
  readonly unit: Unit
}): RunChoices {
  const { room, criteriaSet, zoneId, here, last, unit } = input
  const plane = last?.body.plane ?? { kind: 'filter_face', distanceM: 0.15 }
  const foundComplete = here.some((run) => run.body.zoneId === zoneId && run.body.phase === 'as_found' && run.body.state !== 'open')
  return {
    phase: foundComplete ? 'as_left' : 'as_found',
    plane,
    occupancyState: last?.body.occupancyState ?? room.occupancyState,
    operatingState: last?.body.operatingState ?? { airHandler: '', doors: '', equipment: '' },
    facingDegrees: last?.body.facingDegrees ?? 0,
    unit: last?.body.unit ?? unit,
    // What was too short last time is not carried over.
    averagingTimeS: Math.max(last?.body.averagingTimeS ?? 0, leastAveragingS(room, criteriaSet, plane)),
    samplesPerPoint: last?.body.samplesPerPoint ?? 1,
  }
}
