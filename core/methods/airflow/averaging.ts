import type { Entity, EntityBody } from '#core/model/entities.ts'
import { type InForceInput, rulesInForce, setsInForce } from './rules-in-force.ts'

/** Least averaging time at one point, s: where ISO 14644-3 is cited, elsewhere, and in turbulent air (house rule A2, common practice). */
export const AVERAGING_S = { citing: 10, otherwise: 5, turbulent: 15 } as const

const CITES_ISO = /ISO\s*14644-3/i

export type AveragingInput = Omit<InForceInput, 'run'> & { readonly run: Pick<EntityBody<'run'>, 'plane' | 'zoneId'> }

/**
 * The least averaging time at each point that is not flagged, s. At a filter face 10 s where a criterion in use names ISO 14644-3 as
 * its source, 5 s otherwise; at working height 15 s in a room of turbulent air, 5 s otherwise. In use are the criteria that reign in
 * the room and its zones, or in the one zone of the run, switched on (overrides considered) and asking for this plane. Source: the
 * house's rule A2 (common practice).
 */
export function leastAveragingTimeS(input: AveragingInput): number {
  const { plane, zoneId } = input.run
  if (plane.kind !== 'filter_face') {
    return zoneId === null && input.room.body.airflowType === 'non_unidirectional' ? AVERAGING_S.turbulent : AVERAGING_S.otherwise
  }
  const rules = rulesInForce(input)
  const inUse = zoneId === null ? [rules.room, ...rules.zones.values()] : [rules.zones.get(zoneId) ?? rules.room]
  const cited = inUse.some((criteria) => criteria.some((one) => one.excluded === null && CITES_ISO.test(one.source)))
  return cited ? AVERAGING_S.citing : AVERAGING_S.otherwise
}

/** How a room is planned that has no run yet: as a whole, at the filter face. */
export const AT_THE_FACE: AveragingInput['run'] = { zoneId: null, plane: { kind: 'filter_face', distanceM: 0.15 } }

/** {@link leastAveragingTimeS} of a run that would be started today, s; `places` holds the room's zones and criteria sets, among others. */
export function leastAveragingToday(places: readonly Entity[], room: Entity<'room'>, run: AveragingInput['run']): number {
  const zones = places.filter((place): place is Entity<'zone'> => place.kind === 'zone' && place.parentId === room.id)
  const sets = places.filter((place): place is Entity<'criteria_set'> => place.kind === 'criteria_set')
  return leastAveragingTimeS({ room, zones, ...setsInForce(room, zones, sets), run })
}
