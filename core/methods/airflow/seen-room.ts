import type { EntityBody } from '#core/model/entities.ts'
import type { FlowWay } from '#core/model/terminals.ts'
import type { Uuid } from '#core/model/values.ts'
import type { RunInput } from '../method.ts'
import { airOf, type RunAir } from './air-of-run.ts'
import type { AreaFigures } from './area-figures.ts'
import { contributorsTo, type Measured } from './contributors.ts'
import { gather } from './gather.ts'
import { areaOnBases, filterOnBases, type OnBases } from './on-bases.ts'
import { type AirBalance, airBalance } from './room-balance.ts'
import { type RulesInForce, rulesInForce } from './rules-in-force.ts'
import { runErrors, settingsOf } from './uncertainty/figure-uncertainty.ts'
import type { RunErrors } from './uncertainty/run-errors.ts'
import { isFilter } from './ways.ts'
import type { ZoneInRun } from './zone-results.ts'

/** What a method of flow sees of a room. */
export type AirflowScope = {
  /** the way it measures a terminal; null: not at all */
  readonly wayOf: (terminal: EntityBody<'terminal'>) => FlowWay | null
  /** returns and exhausts as well, so that the room can be balanced */
  readonly wholeRoom: boolean
}

/**
 * The zones of a run. A room without zones is its own zone, so that criteria on zones have a subject there. A run over the
 * whole room judges every zone; a run over one zone that one alone. Only filters make up a zone.
 */
function zonesOf(
  input: RunInput,
  terminals: readonly Measured[],
  rules: RulesInForce,
  errors: RunErrors,
  mayReadReverse: boolean,
): ZoneInRun[] {
  const { room, run } = input
  const filters = terminals.filter(({ as_indicated: { of } }) => isFilter(of.terminal.body.kind))
  if (input.zones.length === 0)
    return [
      {
        id: room.id,
        name: room.body.number,
        designVelocity: room.body.designVelocity,
        criteria: rules.room,
        area: areaOnBases(filters, mayReadReverse),
        faces: filters,
        partOnly: run.zoneId !== null,
        errors,
        settings: settingsOf(input, null),
      },
    ]
  const byZone = new Map<Uuid, Measured[]>()
  for (const filter of filters) {
    const { zoneId } = filter.as_indicated
    if (zoneId === null) continue
    const list = byZone.get(zoneId)
    if (list) list.push(filter)
    else byZone.set(zoneId, [filter])
  }
  return input.zones
    .filter((zone) => run.zoneId === null || run.zoneId === zone.id)
    .map((zone) => ({
      id: zone.id,
      name: zone.body.name,
      designVelocity: zone.body.designVelocity ?? room.body.designVelocity,
      criteria: rules.zones.get(zone.id) ?? [],
      area: areaOnBases(byZone.get(zone.id) ?? [], mayReadReverse),
      faces: byZone.get(zone.id) ?? [],
      partOnly: false,
      errors,
      settings: settingsOf(input, zone.id),
    }))
}

/** Everything a run measured, brought together and not yet judged. */
export type SeenRoom = {
  readonly air: RunAir
  readonly errors: RunErrors
  readonly rules: RulesInForce
  readonly terminals: readonly Measured[]
  readonly zones: readonly ZoneInRun[]
  /** supply filters: velocities and their spread */
  readonly faces: OnBases<AreaFigures>
  /** what makes up the room's supply */
  readonly supply: OnBases<AreaFigures>
  readonly balance: AirBalance | null
  /** false at working height */
  readonly givesFlow: boolean
}

/** Brings together what a run measured: its terminals, zones, supply and balance, with their uncertainties at hand. */
export function seeRoom(input: RunInput, scope: AirflowScope): SeenRoom {
  const { run, room } = input
  const givesFlow = run.plane.kind === 'filter_face'
  const mayReadReverse = input.instruments.some((instrument) => instrument.body.reportsReverseFlow)
  const air = airOf(input)
  const errors = runErrors(input, air)
  const setting = {
    room: room.body,
    zones: new Map(input.zones.map((zone) => [zone.id, zone.body])),
    missing: run.missing,
    givesFlow,
    mayReadReverse,
  }
  const inScope = input.terminals.flatMap((terminal) => {
    const way = scope.wayOf(terminal.body)
    return way ? [{ terminal, way }] : []
  })
  const terminals = gather(input, inScope, air).map((of) => filterOnBases(of, setting))
  const rules = rulesInForce(input)
  const zones = zonesOf(input, terminals, rules, errors, mayReadReverse)
  const faces =
    input.zones.length === 0 && zones[0]
      ? zones[0].area
      : areaOnBases(
          terminals.filter(({ as_indicated: { of } }) => isFilter(of.terminal.body.kind)),
          mayReadReverse,
        )
  return {
    air,
    errors,
    rules,
    terminals,
    zones,
    faces,
    supply: scope.wholeRoom ? areaOnBases(contributorsTo('supply', terminals), mayReadReverse) : faces,
    balance: scope.wholeRoom ? airBalance(input, terminals, air, mayReadReverse) : null,
    givesFlow,
  }
}
