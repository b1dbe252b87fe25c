import { noVerdicts, tally, worstOfCounts } from '#core/criteria/roll-up.ts'
import type { EntityBody, FlowWay } from '#core/model/entities.ts'
import type { FilterResult, RunResult, ZoneResult } from '#core/model/results.ts'
import type { Uuid } from '#core/model/values.ts'
import { CALCULATION_VERSION } from '../calculation-version.ts'
import type { RunInput } from '../method.ts'
import { airOf, airResult } from './air-of-run.ts'
import { leastAveragingTimeS } from './averaging.ts'
import { contributorsTo, type Measured, stoodForBy } from './contributors.ts'
import { doorResults } from './doors.ts'
import { filterResult } from './filter-result.ts'
import { gather } from './gather.ts'
import { judgeFilter } from './judge-filter.ts'
import { areaOnBases, filterOnBases } from './on-bases.ts'
import { airBalance } from './room-balance.ts'
import { roomResult } from './room-result.ts'
import { type RulesInForce, rulesInForce } from './rules-in-force.ts'
import { runHeadline } from './run-headline.ts'
import { runErrors, settingsOf } from './uncertainty/figure-uncertainty.ts'
import type { RunErrors } from './uncertainty/run-errors.ts'
import { isFilter } from './ways.ts'
import { type ZoneInRun, zoneResult } from './zone-results.ts'

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
      partOnly: false,
      errors,
      settings: settingsOf(input, zone.id),
    }))
}

function judgeFilters(
  input: RunInput,
  terminals: readonly Measured[],
  zones: readonly ZoneInRun[],
  rules: RulesInForce,
  errors: RunErrors,
): FilterResult[] {
  const own = input.zones.length === 0 ? (zones[0] ?? null) : null
  const leastAveragingS = leastAveragingTimeS(input)
  const byId = new Map(zones.map((zone) => [zone.id, zone]))
  const { samplesPerPoint, carried } = input.run
  return terminals.map((terminal) => {
    const { zoneId, of } = terminal.as_indicated
    const zone = zoneId === null ? own : (byId.get(zoneId) ?? null)
    const results = judgeFilter(zone ? zone.criteria : rules.room, terminal, zone?.area ?? null, errors)
    const voided = input.voidedByTerminal.get(of.terminal.id) ?? 0
    const carriedBecause = carried.find(({ terminalIds }) => terminalIds.includes(of.terminal.id))?.reason ?? null
    const ducts = stoodForBy(terminal, terminals)
    return filterResult(terminal, results, { errors, voided, leastAveragingS, samplesPerPoint, carriedBecause, ducts })
  })
}

function zoneResults(input: RunInput, zones: readonly ZoneInRun[], filters: readonly FilterResult[], givesFlow: boolean): ZoneResult[] {
  return zones.map((zone) => {
    const inside = input.zones.length === 0 ? filters : filters.filter((filter) => filter.zoneId === zone.id)
    return zoneResult(zone, inside, givesFlow)
  })
}

/** Whether a room without zones is shown as one: where the air is unidirectional, or a criterion on zones applies. */
function showsAsZone(input: RunInput, zone: ZoneResult): boolean {
  return (
    input.zones.length > 0 ||
    input.room.body.airflowType === 'unidirectional' ||
    zone.criteria.some((one) => one.verdict !== 'not_applicable')
  )
}

/**
 * Computes a run of flow: every terminal by its way, every zone, the room with its balance, each criterion's verdict with its reason, and the
 * roll-up. SI inside; each figure as indicated, of standard air and of the actual air where the conditions and the instruments allow it.
 * The same function for screen, report, comparison and command line; it looks at nothing but its input.
 */
export function computeAirflow(input: RunInput, scope: AirflowScope): RunResult {
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
  const filters = judgeFilters(input, terminals, zones, rules, errors)
  const judgedZones = zoneResults(input, zones, filters, givesFlow).filter((zone) => showsAsZone(input, zone))
  const faces =
    input.zones.length === 0 && zones[0]
      ? zones[0].area
      : areaOnBases(
          terminals.filter(({ as_indicated: { of } }) => isFilter(of.terminal.body.kind)),
          mayReadReverse,
        )
  const balance = scope.wholeRoom ? airBalance(input, terminals, air, mayReadReverse) : null
  const whole = roomResult({
    id: room.id,
    body: room.body,
    faces,
    supply: scope.wholeRoom ? areaOnBases(contributorsTo('supply', terminals), mayReadReverse) : faces,
    balance,
    criteria: rules.room,
    errors,
    settings: settingsOf(input, null),
    partOnly: run.zoneId !== null,
    givesFlow,
  })
  const counts = noVerdicts()
  tally(counts, whole.criteria)
  for (const zone of judgedZones) tally(counts, zone.criteria)
  for (const filter of filters) tally(counts, filter.criteria)
  const verdict = worstOfCounts(counts)
  const parts = { filters, zones: judgedZones, roomCriteria: whole.criteria }
  return {
    runId: input.runId,
    roomId: room.id,
    zoneId: run.zoneId,
    calculationVersion: CALCULATION_VERSION,
    basis: whole.figures.basis,
    phase: run.phase,
    plane: run.plane,
    occupancyState: run.occupancyState,
    criteriaSetId: input.criteriaSet?.id ?? null,
    criteriaSetRevision: input.criteriaSet?.revision ?? null,
    ...parts,
    doors: doorResults(input, whole.figures.balance?.offsetM3ps ?? null, 0),
    air: airResult(air, input.instruments),
    room: whole.figures,
    verdict,
    counts,
    headline: runHeadline(verdict, counts, parts, room.body.number),
  }
}
