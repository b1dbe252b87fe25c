import type { EntityBody } from '#core/model/entities.ts'
import type { CriterionResult, FilterResult, RunResult } from '#core/model/results.ts'
import type { Basis, Uuid } from '#core/model/values.ts'
import { airChangesPerHour, flowForAirChangesM3ps } from './air-changes.ts'
import { countsInRoom, standsFor } from './stand-ins.ts'
import { type AdjustableFilter, changeFanSpeed, type RoomRemedies, remediesFor, type SpeedChange, speedRatioFor } from './what-if.ts'

/** A terminal in the revision that the run pinned. */
export type TerminalOfRun = { readonly id: Uuid; readonly body: EntityBody<'terminal'> }

type RunForWhatIf = Pick<RunResult, 'filters' | 'room' | 'roomCriteria'>

/** A limit of the room that its supply can be brought to, and which filter alone would do it. */
export type RoomQuestion = {
  readonly criterion: CriterionResult
  readonly side: 'at_least' | 'at_most'
  /** the limit, moved by the guard band where the rule has one, in the criterion's own unit of SI */
  readonly limit: number
  readonly basis: Basis
  /** null while a terminal of the supply has no flow on the basis of the criterion */
  readonly answer: RoomRemedies | null
  /** tags of terminals without a flow on the basis of the criterion */
  readonly missing: readonly string[]
}

type Contributor = { readonly result: FilterResult; readonly terminal: TerminalOfRun }

/** What makes up the supply that a limit speaks of; ducts that count in the room stand for the filters behind them, as in the room's totals. */
function contributorsOf({ filters }: RunForWhatIf, terminals: readonly TerminalOfRun[], outsideOnly: boolean): Contributor[] {
  const byId = new Map(terminals.map((terminal) => [terminal.id, terminal]))
  const supply = filters.flatMap((result): Contributor[] => {
    const terminal = byId.get(result.terminalId)
    return terminal && result.direction === 'supply' && !result.closed ? [{ result, terminal }] : []
  })
  const ducts = supply.filter(({ terminal }) => countsInRoom(terminal.body))
  const own = supply.filter(({ terminal: { body } }) => body.kind !== 'duct_section')
  const all = [...ducts, ...own.filter(({ terminal }) => !ducts.some((duct) => standsFor(duct.terminal.body, terminal.body)))]
  return outsideOnly ? all.filter(({ terminal }) => terminal.body.airSource === 'air_handler') : all
}

function flowOn({ result }: Contributor, basis: Basis): number | null {
  return result.byBasis ? (result.byBasis[basis]?.flowM3ps ?? null) : result.flowM3ps
}

function velocityOn({ result }: Contributor, basis: Basis): number | null {
  return result.byBasis ? (result.byBasis[basis]?.meanVelocityMps ?? null) : result.meanVelocityMps
}

/**
 * The velocity a filter has to keep within: the narrowest of its own criteria on face velocity and on flow, guard bands taken off, on one
 * basis. Flow is turned into velocity as the filter itself has them now.
 */
function velocityLimitsOf(one: Contributor, basis: Basis): AdjustableFilter['velocityLimits'] {
  const flowM3ps = flowOn(one, basis)
  const velocityMps = velocityOn(one, basis)
  const perFlow = flowM3ps !== null && flowM3ps > 0 && velocityMps !== null ? velocityMps / flowM3ps : null
  let lowMps: number | null = null
  let highMps: number | null = null
  for (const { quantity, scope, low, high, guardBand, basis: own, verdict } of one.result.criteria) {
    const factor = quantity === 'face_velocity' ? 1 : quantity === 'flow' ? perFlow : null
    if (factor === null || scope !== 'filter' || own !== basis || verdict === 'not_applicable') continue
    if (low !== null) lowMps = Math.max(lowMps ?? 0, (low + (guardBand ?? 0)) * factor)
    if (high !== null) highMps = Math.min(highMps ?? Number.POSITIVE_INFINITY, (high - (guardBand ?? 0)) * factor)
  }
  return { lowMps, highMps }
}

function adjustable(one: Contributor, basis: Basis): AdjustableFilter | null {
  const flowM3ps = flowOn(one, basis)
  if (flowM3ps === null) return null
  return {
    terminalId: one.terminal.id,
    flowM3ps,
    meanVelocityMps: velocityOn(one, basis),
    designFlowM3ps: one.result.designFlowM3ps,
    velocityLimits: velocityLimitsOf(one, basis),
    adjustable: one.terminal.body.adjustable,
  }
}

function sideOf(criterion: CriterionResult): { side: RoomQuestion['side']; limit: number } | null {
  const { value, low, high, guardBand } = criterion
  const guard = guardBand ?? 0
  if (high !== null && value !== null && value > high - guard && (low === null || value >= low + guard)) {
    return { side: 'at_most', limit: high - guard }
  }
  if (low !== null) return { side: 'at_least', limit: low + guard }
  return high === null ? null : { side: 'at_most', limit: high - guard }
}

/**
 * For each limit of the room on its supply (air changes, air changes by the air handler, supply flow): which filter, raised or lowered alone by how
 * much, brings the room to it. Looks at a result only and changes nothing. Limits are moved by the guard band where there is one, on the
 * basis of the criterion. Rooms without such a limit give no question. Source: flows add up (see {@link remediesFor}).
 */
export function roomQuestions(run: RunForWhatIf, terminals: readonly TerminalOfRun[]): RoomQuestion[] {
  const { volumeM3 } = run.room
  return run.roomCriteria.flatMap((criterion): RoomQuestion[] => {
    const isRate = criterion.quantity === 'air_changes' || criterion.quantity === 'outside_air_changes'
    const limit = sideOf(criterion)
    if ((!isRate && criterion.quantity !== 'flow') || criterion.verdict === 'not_applicable' || !limit) return []
    if (isRate && !(volumeM3 > 0)) return []
    const { basis } = criterion
    const contributors = contributorsOf(run, terminals, criterion.quantity === 'outside_air_changes')
    const filters = contributors.map((one) => adjustable(one, basis))
    const missing = contributors.filter((_, index) => filters[index] === null).map(({ result }) => result.tag)
    const targetM3ps = isRate ? flowForAirChangesM3ps(limit.limit, volumeM3) : limit.limit
    const known = filters.filter((filter) => filter !== null)
    const answer = missing.length > 0 ? null : remediesFor(known, limit.side, targetM3ps)
    return [{ criterion, ...limit, basis, answer, missing }]
  })
}

/** A change of fan speed over a group, and what the room would then be. */
export type SpeedAnswer = {
  readonly basis: Basis
  readonly change: SpeedChange
  readonly airChangesBefore: number | null
  readonly airChangesAfter: number | null
  /** filters that would leave the velocity they have to keep within */
  readonly outsideLimits: ReadonlySet<Uuid>
  /** the speed ratio by which the group alone brings the room to each of its limits; null where it cannot */
  readonly ratioForLimit: readonly { readonly question: RoomQuestion; readonly ratio: number | null }[]
}

/** The filters of a run whose speed can be thought of as changed, on the basis of the run's main figures; those without a flow are left out. */
export function speedFilters(
  run: RunForWhatIf,
  terminals: readonly TerminalOfRun[],
): (AdjustableFilter & { tag: string; isFan: boolean })[] {
  return contributorsOf(run, terminals, false).flatMap((one) => {
    const filter = adjustable(one, run.room.basis)
    return filter ? [{ ...filter, tag: one.result.tag, isFan: one.terminal.body.kind === 'fan_filter_unit' }] : []
  })
}

/**
 * What the room would be with the fans of a group at another speed; `ratio` is new over old speed. Null for a ratio not above zero, or while a
 * filter of the supply has no flow. Changes nothing. Source: see {@link changeFanSpeed}.
 */
export function speedAnswer(
  run: RunForWhatIf,
  terminals: readonly TerminalOfRun[],
  group: ReadonlySet<Uuid>,
  ratio: number,
): SpeedAnswer | null {
  const filters = speedFilters(run, terminals)
  if (filters.length < contributorsOf(run, terminals, false).length) return null
  const change = changeFanSpeed(filters, group, ratio)
  if (!change) return null
  const { volumeM3, basis } = run.room
  const outside = change.filters.filter(({ terminalId, afterVelocityMps }) => {
    const limits = filters.find((filter) => filter.terminalId === terminalId)?.velocityLimits
    if (!limits || afterVelocityMps === null) return false
    const { lowMps, highMps } = limits
    return (lowMps !== null && afterVelocityMps < lowMps * (1 - 1e-9)) || (highMps !== null && afterVelocityMps > highMps * (1 + 1e-9))
  })
  const ratioForLimit = roomQuestions(run, terminals)
    .filter((question) => question.basis === basis && question.criterion.quantity !== 'outside_air_changes' && question.answer !== null)
    .map((question) => ({ question, ratio: speedRatioFor(filters, group, question.answer?.targetM3ps ?? Number.NaN) }))
  return {
    basis,
    change,
    airChangesBefore: airChangesPerHour(change.supplyBeforeM3ps, volumeM3),
    airChangesAfter: airChangesPerHour(change.supplyAfterM3ps, volumeM3),
    outsideLimits: new Set(outside.map(({ terminalId }) => terminalId)),
    ratioForLimit,
  }
}
