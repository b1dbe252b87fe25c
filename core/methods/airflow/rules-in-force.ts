import { type PreparedCriterion, prepareCriteria, type Setting } from '#core/criteria/prepare.ts'
import type { EntityBody } from '#core/model/entities.ts'
import type { Uuid } from '#core/model/values.ts'
import type { Pinned, RunInput } from '../method.ts'

/** The criteria that reign in a room and in each of its zones. */
export type RulesInForce = {
  readonly room: readonly PreparedCriterion[]
  readonly zones: ReadonlyMap<Uuid, readonly PreparedCriterion[]>
}

/** What of a run decides which criteria reign: its plane, and the pinned room, zones and criteria sets. */
export type InForceInput = Pick<RunInput, 'room' | 'zones' | 'criteriaSet' | 'zoneCriteria'> & {
  readonly run: Pick<EntityBody<'run'>, 'plane'>
}

/** Finds, among criteria sets, the one that a room follows and those of zones that have one of their own. */
export function setsInForce(
  room: Pinned<'room'>,
  zones: readonly Pinned<'zone'>[],
  sets: readonly Pinned<'criteria_set'>[],
): Pick<InForceInput, 'criteriaSet' | 'zoneCriteria'> {
  const byId = new Map(sets.map((set) => [set.id, set]))
  return {
    criteriaSet: byId.get(room.body.criteriaSetId ?? '') ?? null,
    zoneCriteria: new Map(
      zones.flatMap((zone) => {
        const set = byId.get(zone.body.criteriaSetId ?? '')
        return set ? [[zone.id, set] as const] : []
      }),
    ),
  }
}

/**
 * Which criteria reign where. A room follows its set with its own overrides. A zone with a set of its own follows that with the
 * zone's overrides alone; else the room's set and overrides, with the zone's overrides on top.
 */
export function rulesInForce(input: InForceInput): RulesInForce {
  const { room, run, criteriaSet } = input
  const setting: Setting = { plane: run.plane.kind, requiredMinimumPerHour: room.body.requiredAirChangesPerHour }
  const zones = new Map<Uuid, readonly PreparedCriterion[]>()
  for (const zone of input.zones) {
    const own = input.zoneCriteria.get(zone.id)
    if (own) zones.set(zone.id, prepareCriteria(own.body, zone.body.overrides, setting))
    else if (criteriaSet) zones.set(zone.id, prepareCriteria(criteriaSet.body, [...room.body.overrides, ...zone.body.overrides], setting))
  }
  return { room: criteriaSet ? prepareCriteria(criteriaSet.body, room.body.overrides, setting) : [], zones }
}
