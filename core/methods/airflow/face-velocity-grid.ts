import { noVerdicts, tally, worstOfCounts } from '#core/criteria/roll-up.ts'
import type { EntityBody } from '#core/model/entities.ts'
import type { FilterResult, RunResult, ZoneResult } from '#core/model/results.ts'
import type { Uuid } from '#core/model/values.ts'
import { CALCULATION_VERSION } from '../calculation-version.ts'
import type { Method, RunInput } from '../method.ts'
import { areaFigures } from './area-figures.ts'
import { leastAveragingTimeS } from './averaging.ts'
import { airflowCautions } from './cautions.ts'
import { type FilterFigures, filterFigures } from './filter-figures.ts'
import { filterResult } from './filter-result.ts'
import { gather } from './gather.ts'
import { judgeFilter } from './judge-filter.ts'
import { layOutFaceGrid } from './layout.ts'
import { roomResult } from './room-result.ts'
import { type RulesInForce, rulesInForce } from './rules-in-force.ts'
import { runHeadline } from './run-headline.ts'
import { type ZoneInRun, zoneResult } from './zone-results.ts'

/** Supply filters and fan filter units; grilles and ducts have methods of their own and do not hold up the room's totals here. */
function measures(terminal: EntityBody<'terminal'>): boolean {
  return terminal.kind === 'supply_filter' || terminal.kind === 'fan_filter_unit'
}

/**
 * The zones of a run. A room without zones is its own zone, so that criteria on zones have a subject there. A run over the
 * whole room judges every zone; a run over one zone that one alone.
 */
function zonesOf(input: RunInput, filters: readonly FilterFigures[], rules: RulesInForce, mayReadReverse: boolean): ZoneInRun[] {
  const { room, run } = input
  if (input.zones.length === 0)
    return [
      {
        id: room.id,
        name: room.body.number,
        designVelocity: room.body.designVelocity,
        criteria: rules.room,
        area: areaFigures(filters, mayReadReverse),
        partOnly: run.zoneId !== null,
      },
    ]
  const byZone = new Map<Uuid, FilterFigures[]>()
  for (const filter of filters) {
    if (filter.zoneId === null) continue
    const list = byZone.get(filter.zoneId)
    if (list) list.push(filter)
    else byZone.set(filter.zoneId, [filter])
  }
  return input.zones
    .filter((zone) => run.zoneId === null || run.zoneId === zone.id)
    .map((zone) => ({
      id: zone.id,
      name: zone.body.name,
      designVelocity: zone.body.designVelocity ?? room.body.designVelocity,
      criteria: rules.zones.get(zone.id) ?? [],
      area: areaFigures(byZone.get(zone.id) ?? [], mayReadReverse),
      partOnly: false,
    }))
}

function judgeFilters(
  input: RunInput,
  figures: readonly FilterFigures[],
  zones: readonly ZoneInRun[],
  rules: RulesInForce,
): FilterResult[] {
  const own = input.zones.length === 0 ? (zones[0] ?? null) : null
  const leastAveragingS = leastAveragingTimeS(input)
  const byId = new Map(zones.map((zone) => [zone.id, zone]))
  return figures.map((filter) => {
    const zone = filter.zoneId === null ? own : (byId.get(filter.zoneId) ?? null)
    const results = judgeFilter(zone ? zone.criteria : rules.room, filter, zone?.area ?? null)
    const voided = input.voidedByTerminal.get(filter.of.terminal.id) ?? 0
    return filterResult(filter, results, { voided, leastAveragingS, samplesPerPoint: input.run.samplesPerPoint })
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
 * Computes a face-velocity run: every filter, every zone, the room, each criterion's verdict with its reason, and the roll-up.
 * Everything is as indicated, SI inside. The same function for screen, report, comparison and command line; it looks at
 * nothing but its input.
 */
export function computeFaceVelocityGrid(input: RunInput): RunResult {
  const { run, room } = input
  const givesFlow = run.plane.kind === 'filter_face'
  const mayReadReverse = input.instruments.some((instrument) => instrument.body.reportsReverseFlow)
  const terminals = input.terminals.filter((terminal) => measures(terminal.body))
  const setting = {
    room: room.body,
    zones: new Map(input.zones.map((zone) => [zone.id, zone.body])),
    missing: run.missing,
    givesFlow,
    mayReadReverse,
  }
  const figures = gather(input, terminals).map((of) => filterFigures(of, setting))
  const rules = rulesInForce(input)
  const zones = zonesOf(input, figures, rules, mayReadReverse)
  const filters = judgeFilters(input, figures, zones, rules)
  const judgedZones = zoneResults(input, zones, filters, givesFlow).filter((zone) => showsAsZone(input, zone))
  const whole = roomResult({
    id: room.id,
    body: room.body,
    area: zones.length === 1 && input.zones.length === 0 && zones[0] ? zones[0].area : areaFigures(figures, mayReadReverse),
    criteria: rules.room,
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
    basis: 'as_indicated',
    phase: run.phase,
    plane: run.plane,
    occupancyState: run.occupancyState,
    criteriaSetId: input.criteriaSet?.id ?? null,
    criteriaSetRevision: input.criteriaSet?.revision ?? null,
    ...parts,
    doors: [],
    air: null,
    room: whole.figures,
    verdict,
    counts,
    headline: runHeadline(verdict, counts, parts, room.body.number),
  }
}

/** Face velocities on a grid of points under each filter: flow, air changes, spread and their verdicts. */
export const faceVelocityGrid: Method = {
  id: 'face_velocity_grid',
  records: 'velocity',
  measures,
  layOut: layOutFaceGrid,
  compute: computeFaceVelocityGrid,
  cautions: airflowCautions,
}
