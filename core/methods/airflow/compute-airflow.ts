import { noVerdicts, tally, worstOfCounts } from '#core/criteria/roll-up.ts'
import { message } from '#core/messages/say.ts'
import type { FilterResult, RunResult, Sentence, VerdictCounts, ZoneResult } from '#core/model/results.ts'
import type { Uuid } from '#core/model/values.ts'
import { CALCULATION_VERSION } from '../calculation-version.ts'
import type { RunInput } from '../method.ts'
import { airResult } from './air-of-run.ts'
import { leastAveragingTimeS } from './averaging.ts'
import { type Measured, standInsAmong } from './contributors.ts'
import { doorResults } from './doors.ts'
import { filterResult } from './filter-result.ts'
import { judgeFilter } from './judge-filter.ts'
import { roomResult } from './room-result.ts'
import type { RulesInForce } from './rules-in-force.ts'
import { runHeadline } from './run-headline.ts'
import { type AirflowScope, seeRoom } from './seen-room.ts'
import { settingsOf } from './uncertainty/figure-uncertainty.ts'
import type { RunErrors } from './uncertainty/run-errors.ts'
import { type ZoneInRun, zoneResult } from './zone-results.ts'

/** Why the as-found readings of some terminals stand in this run, by terminal; of two reasons the first. */
function carriedBecause({ run }: RunInput): ReadonlyMap<Uuid, string> {
  const because = new Map<Uuid, string>()
  for (const { terminalIds, reason } of run.carried) for (const id of terminalIds) if (!because.has(id)) because.set(id, reason)
  return because
}

/** The filters with how often each verdict occurs among them, counted while their criteria are at hand. */
type JudgedFilters = {
  readonly filters: FilterResult[]
  readonly counts: VerdictCounts
  readonly ofZones: ReadonlyMap<ZoneInRun, VerdictCounts>
}

function judgeFilters(
  input: RunInput,
  terminals: readonly Measured[],
  zones: readonly ZoneInRun[],
  rules: RulesInForce,
  errors: RunErrors,
): JudgedFilters {
  const counts = noVerdicts()
  const ofZones = new Map(zones.map((zone) => [zone, noVerdicts()]))
  const own = input.zones.length === 0 ? (zones[0] ?? null) : null
  const leastAveragingS = leastAveragingTimeS(input)
  const byId = new Map(zones.map((zone) => [zone.id, zone]))
  const { samplesPerPoint } = input.run
  const becauseOf = carriedBecause(input)
  const stoodForBy = standInsAmong(terminals)
  const filters = terminals.map((terminal) => {
    const { zoneId, of } = terminal.as_indicated
    const zone = zoneId === null ? own : (byId.get(zoneId) ?? null)
    const results = judgeFilter(zone ? zone.criteria : rules.room, terminal, zone?.area ?? null, errors)
    tally(counts, results)
    const ofZone = zone && ofZones.get(zone)
    if (ofZone) tally(ofZone, results)
    const voided = input.voidedByTerminal.get(of.terminal.id) ?? 0
    return filterResult(terminal, results, {
      errors,
      voided,
      leastAveragingS,
      samplesPerPoint,
      carriedBecause: becauseOf.get(of.terminal.id) ?? null,
      ducts: stoodForBy(terminal),
    })
  })
  return { filters, counts, ofZones }
}

/** Whether a room without zones is shown as one: where the air is unidirectional, or a criterion on zones applies. */
function showsAsZone(input: RunInput, zone: ZoneResult): boolean {
  return (
    input.zones.length > 0 ||
    input.room.body.airflowType === 'unidirectional' ||
    zone.criteria.some((one) => one.verdict !== 'not_applicable')
  )
}

/** Terminals in service that the run cannot measure, since nothing says how: named, so that nobody takes the run for the whole room. */
function leftOutNotes({ terminals }: RunInput, { wayOf }: AirflowScope): Sentence[] {
  const tags = terminals.flatMap(({ body }) => (body.closed === null && wayOf(body) === null ? [body.tag] : []))
  return tags.length === 0 ? [] : [message('note.no_way', { tags: tags.join(', '), terminals: tags.length })]
}

export type { AirflowScope } from './seen-room.ts'

/**
 * Computes a run of flow: every terminal by its way, every zone, the room with its balance, each criterion's verdict with its reason, and the
 * roll-up. SI inside; each figure as indicated, of standard air and of the actual air where the conditions and the instruments allow it.
 * The same function for screen, report, comparison and command line; it looks at nothing but its input.
 */
export function computeAirflow(input: RunInput, scope: AirflowScope): RunResult {
  const { run, room } = input
  const seen = seeRoom(input, scope)
  const { air, errors, terminals, rules, zones, faces, supply, balance, givesFlow } = seen
  const { filters, counts, ofZones } = judgeFilters(input, terminals, zones, rules, errors)
  const judgedZones = zones
    .map((zone) => zoneResult(zone, ofZones.get(zone) ?? noVerdicts(), givesFlow))
    .filter((zone) => showsAsZone(input, zone))
  const whole = roomResult({
    id: room.id,
    body: room.body,
    faces,
    supply,
    balance,
    criteria: rules.room,
    errors,
    settings: settingsOf(input, null),
    partOnly: run.zoneId !== null,
    givesFlow,
  })
  tally(counts, whole.criteria)
  for (const zone of judgedZones) tally(counts, zone.criteria)
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
    doors: doorResults(input, whole.figures.balance?.offsetM3ps ?? null, whole.figures.uncertainty?.offset?.expanded ?? 0),
    air: airResult(air, input),
    notes: scope.wholeRoom ? leftOutNotes(input, scope) : [],
    room: whole.figures,
    verdict,
    counts,
    headline: runHeadline(verdict, counts, parts, room.body.number),
  }
}
