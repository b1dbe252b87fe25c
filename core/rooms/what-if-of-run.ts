import type { EntityBody } from '#core/model/entities.ts'
import type { CriterionResult, FilterResult, RunResult, Uncertainty } from '#core/model/results.ts'
import type { Basis, Uuid } from '#core/model/values.ts'
import { airChangesPerHour, flowForAirChangesM3ps } from './air-changes.ts'
import { countsInRoom, standsFor } from './stand-ins.ts'
import {
  type AdjustableFilter,
  changeFanSpeed,
  leavesOwnLimits,
  type RoomRemedies,
  remediesFor,
  type SpeedChange,
  speedRatioFor,
} from './what-if.ts'
import { type HeldLimits, heldLimits, type Moving, passingValue } from './what-if-limits.ts'

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
  /** no supply of this room passes by this instrument: the guard bands meet, or grow as fast as the figure */
  readonly undecidable: boolean
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

/** What the filter itself is held to in velocity and flow, each criterion on its own basis; of its points the one that was named. */
function ownLimitsOf(one: Contributor): HeldLimits[] {
  return one.result.criteria.flatMap((criterion) => {
    const { quantity, scope, basis, verdict } = criterion
    if ((quantity !== 'face_velocity' && quantity !== 'flow') || verdict === 'not_applicable') return []
    const figure = scope !== 'filter' ? null : quantity === 'flow' ? flowOn(one, basis) : velocityOn(one, basis)
    const held = heldLimits(criterion)
    return [{ ...held, value: figure ?? held.value }]
  })
}

function adjustable(one: Contributor, basis: Basis): AdjustableFilter | null {
  const flowM3ps = flowOn(one, basis)
  if (flowM3ps === null) return null
  return {
    terminalId: one.terminal.id,
    flowM3ps,
    meanVelocityMps: velocityOn(one, basis),
    designFlowM3ps: one.result.designFlowM3ps,
    limits: ownLimitsOf(one),
    adjustable: one.terminal.body.adjustable,
  }
}

function sideOf({ value, low, high, guardBand }: CriterionResult): RoomQuestion['side'] | null {
  const guard = guardBand ?? 0
  if (high !== null && value !== null && value > high - guard && (low === null || value >= low + guard)) return 'at_most'
  return low !== null ? 'at_least' : high === null ? null : 'at_most'
}

function relativeOf(uncertainty: Uncertainty | null | undefined, value: number | null): number | null {
  return uncertainty && value ? uncertainty.expanded / uncertainty.coverageFactor / Math.abs(value) : null
}

/** Standard uncertainty that comes with each unit of a filter's flow, and its coverage factor; where it is not known, all that the room has. */
function movingWith({ result }: Contributor, ofRoom: Moving): Moving {
  const { flow = null } = result.uncertainty ?? {}
  const standardPerUnit = relativeOf(flow, result.flowM3ps)
  return standardPerUnit === null || !flow ? ofRoom : { standardPerUnit, coverageFactor: flow.coverageFactor }
}

/** A limit of the room as flows of its supply, and what raising each filter does to its guard band. */
type Aim = {
  readonly criterion: CriterionResult
  readonly side: RoomQuestion['side']
  /** limits in m3/s of supply */
  readonly limits: HeldLimits
  /** of the criterion's unit, one m3/s of supply */
  readonly perFlow: number
  readonly supplyM3ps: number
  readonly contributors: readonly Contributor[]
  /** uncertainty of the volume, relative, which grows with the air changes; 0 where the limit is a flow */
  readonly ofVolume: number
  readonly ofRoom: Moving
}

/** Relative standard uncertainty of air changes that is not their flow's. */
function volumePart({ room }: RunForWhatIf, ofCriterion: number, quantity: CriterionResult['quantity']): number {
  const ofSupply = quantity === 'air_changes' ? relativeOf(room.uncertainty?.supplyFlow, room.supplyFlowM3ps) : null
  return ofSupply === null ? ofCriterion : Math.sqrt(Math.max(0, ofCriterion ** 2 - ofSupply ** 2))
}

function aimAt(run: RunForWhatIf, terminals: readonly TerminalOfRun[], criterion: CriterionResult): Aim | null {
  const { volumeM3 } = run.room
  const { quantity, basis, verdict } = criterion
  const isRate = quantity === 'air_changes' || quantity === 'outside_air_changes'
  const side = sideOf(criterion)
  if ((!isRate && quantity !== 'flow') || verdict === 'not_applicable' || !side) return null
  if (isRate && !(volumeM3 > 0)) return null
  const perFlow = isRate ? 3600 / volumeM3 : 1
  const held = heldLimits(criterion)
  const flowOf = (figure: number | null) => (figure === null ? null : isRate ? flowForAirChangesM3ps(figure, volumeM3) : figure)
  const contributors = contributorsOf(run, terminals, quantity === 'outside_air_changes')
  const supplyM3ps = contributors.reduce((sum, one) => sum + (flowOn(one, basis) ?? 0), 0)
  const { expandedUncertainty, coverageFactor, value } = criterion
  const relative =
    expandedUncertainty !== null && coverageFactor !== null && value ? expandedUncertainty / coverageFactor / Math.abs(value) : 0
  return {
    criterion,
    side,
    limits: {
      ...held,
      low: flowOf(held.low),
      high: flowOf(held.high),
      guard: held.guard / perFlow,
      halfStep: held.halfStep / perFlow,
      value: supplyM3ps,
    },
    perFlow,
    supplyM3ps,
    contributors,
    ofVolume: isRate ? volumePart(run, relative, quantity) : 0,
    ofRoom: { standardPerUnit: relative, coverageFactor: held.coverageFactor },
  }
}

/** The supply at which the limit is passed when these contributors alone are changed, all in one proportion; null where none is. */
function targetOf(aim: Aim, changed: readonly Contributor[]): number | null {
  const { limits, supplyM3ps, side, ofVolume, ofRoom, criterion } = aim
  const flows = changed.map((one) => Math.abs(flowOn(one, criterion.basis) ?? 0))
  const all = flows.reduce((sum, flow) => sum + flow, 0)
  const movings = changed.map((one) => movingWith(one, ofRoom))
  const share = (index: number) => (all > 0 ? (flows[index] ?? 0) / all : 1 / flows.length)
  return passingValue(limits, supplyM3ps, side, {
    standardPerUnit: ofVolume + movings.reduce((sum, { standardPerUnit }, index) => sum + standardPerUnit * share(index), 0),
    coverageFactor: Math.max(...movings.map(({ coverageFactor }) => coverageFactor)),
  })
}

function passes({ verdict, would }: CriterionResult): boolean {
  return verdict === 'pass' || (verdict === 'not_valid' && would === 'pass')
}

/**
 * For each limit of the room on its supply (air changes, air changes by the air handler, supply flow): which filter, raised or lowered alone by how
 * much, brings the room to it. Looks at a result only and changes nothing. A guard band moves the limit, and grows with the uncertainty of what
 * is raised (see {@link passingValue}); a room that passes lacks nothing, and where no supply would pass nothing is offered. Rooms
 * without such a limit give no question. Source: flows add up (see {@link remediesFor}).
 */
export function roomQuestions(run: RunForWhatIf, terminals: readonly TerminalOfRun[]): RoomQuestion[] {
  return run.roomCriteria.flatMap((criterion): RoomQuestion[] => {
    const aim = aimAt(run, terminals, criterion)
    if (!aim) return []
    const { contributors, side, supplyM3ps, limits, perFlow } = aim
    const { basis } = criterion
    const filters = contributors.map((one) => adjustable(one, basis))
    const missing = contributors.filter((_, index) => filters[index] === null).map(({ result }) => result.tag)
    const known = filters.filter((filter) => filter !== null)
    const byId = new Map(contributors.map((one) => [one.terminal.id, one]))
    const target = ({ terminalId }: AdjustableFilter) => {
      const one = byId.get(terminalId)
      return one ? targetOf(aim, [one]) : null
    }
    const now = side === 'at_least' ? (limits.low ?? 0) + limits.guard : (limits.high ?? 0) - limits.guard
    const passed = passes(criterion)
    const sought = missing.length > 0 ? null : remediesFor(known, side, passed ? supplyM3ps : target)
    // What passes lacks nothing, rounding included; told is still the flow that its limit stands for.
    const answer = sought && passed ? { ...sought, targetM3ps: now } : sought
    const undecidable = missing.length === 0 && known.length > 0 && answer === null
    const limit = (answer ? answer.targetM3ps : now) * perFlow
    return [{ criterion, side, limit, basis, answer, missing, undecidable }]
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
  const outside = change.filters.filter(({ terminalId, inGroup }) => {
    const filter = filters.find((one) => one.terminalId === terminalId)
    return filter !== undefined && leavesOwnLimits(filter, inGroup ? ratio : 1) !== null
  })
  const ratioForLimit = roomQuestions(run, terminals)
    .filter((question) => question.basis === basis && question.criterion.quantity !== 'outside_air_changes' && question.answer !== null)
    .map((question) => ({ question, ratio: ratioTo(run, terminals, question, filters, group) }))
  return {
    basis,
    change,
    airChangesBefore: airChangesPerHour(change.supplyBeforeM3ps, volumeM3),
    airChangesAfter: airChangesPerHour(change.supplyAfterM3ps, volumeM3),
    outsideLimits: new Set(outside.map(({ terminalId }) => terminalId)),
    ratioForLimit,
  }
}

function ratioTo(
  run: RunForWhatIf,
  terminals: readonly TerminalOfRun[],
  { criterion, answer }: RoomQuestion,
  filters: readonly AdjustableFilter[],
  group: ReadonlySet<Uuid>,
): number | null {
  const aim = aimAt(run, terminals, criterion)
  if (!aim || !answer) return null
  const changed = aim.contributors.filter(({ terminal }) => group.has(terminal.id))
  const target = passes(criterion) ? answer.targetM3ps : changed.length === 0 ? null : targetOf(aim, changed)
  return target === null ? null : speedRatioFor(filters, group, target)
}
