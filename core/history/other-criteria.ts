import { methodOf } from '#core/methods/catalogue.ts'
import type { RunInput } from '#core/methods/method.ts'
import type { RunResult } from '#core/model/results.ts'
import type { Uuid } from '#core/model/values.ts'

/** Criteria as they reign in one year: the sets, and what the room and its zones ask for themselves. */
export type Criteria = Pick<RunInput, 'criteriaSet' | 'zoneCriteria'> & {
  /** overrides and required minimum of the room; null keeps those the run was judged by */
  readonly room: Pick<RunInput['room']['body'], 'overrides' | 'requiredAirChangesPerHour'> | null
  readonly zoneOverrides: ReadonlyMap<Uuid, RunInput['zones'][number]['body']['overrides']>
}

/** The criteria that a run was judged by, to hold another year against them. */
export function criteriaOf(input: RunInput): Criteria {
  return {
    criteriaSet: input.criteriaSet,
    zoneCriteria: input.zoneCriteria,
    room: input.room.body,
    zoneOverrides: new Map(input.zones.map((zone) => [zone.id, zone.body.overrides])),
  }
}

/**
 * A run's input under other criteria: its readings, rooms, designs and instruments stay what they were, only what decides
 * is exchanged. A zone that the other criteria do not know keeps its own overrides.
 */
function underCriteria(input: RunInput, criteria: Criteria): RunInput {
  const { room } = criteria
  const own = room ? { overrides: room.overrides, requiredAirChangesPerHour: room.requiredAirChangesPerHour } : {}
  return {
    ...input,
    criteriaSet: criteria.criteriaSet,
    zoneCriteria: criteria.zoneCriteria,
    room: { ...input.room, body: { ...input.room.body, ...own } },
    zones: input.zones.map((zone) => ({
      ...zone,
      body: { ...zone.body, overrides: criteria.zoneOverrides.get(zone.id) ?? zone.body.overrides },
    })),
  }
}

/** "Would last year have passed under this year's criteria?": the run, computed again under other criteria. */
export function recomputeUnder(input: RunInput, criteria: Criteria): RunResult {
  return methodOf(input.run.method).compute(underCriteria(input, criteria))
}
