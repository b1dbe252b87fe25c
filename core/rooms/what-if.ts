import type { Uuid } from '#core/model/values.ts'
import { type HeldLimits, leavesLimits } from './what-if-limits.ts'

/** A filter as the what-if sees it. Flow and area belong together: flow = mean velocity x area (x correction factor). */
export type AdjustableFilter = {
  readonly terminalId: Uuid
  readonly flowM3ps: number
  /** null for a terminal measured as a flow */
  readonly meanVelocityMps: number | null
  readonly designFlowM3ps: number | null
  /** what the filter itself is held to, each on its own basis: its figures move in proportion to its flow */
  readonly limits: readonly HeldLimits[]
  /** false for what cannot be set: a damper at its end, a filter without one */
  readonly adjustable: boolean
}

/** One filter, changed alone, that brings the room to its target. */
export type Remedy = {
  readonly terminalId: Uuid
  readonly fromM3ps: number
  readonly toM3ps: number
  readonly changeM3ps: number
  /** null for a filter that gives no air now */
  readonly changePercent: number | null
  readonly toVelocityMps: number | null
  readonly toPercentOfDesign: number | null
  /** why this filter alone is no answer; null when it is one */
  readonly hindrance: 'above_velocity_limit' | 'below_velocity_limit' | 'not_adjustable' | 'not_running' | 'would_reverse' | null
}

export type RoomRemedies = {
  readonly supplyM3ps: number
  readonly targetM3ps: number
  /** still to be gained (positive) or shed (negative); 0 when the room is where it should be */
  readonly changeM3ps: number
  /** the feasible ones first, and among them the filter that stands worst against its design, or has the smallest change in percent */
  readonly remedies: readonly Remedy[]
  /** said with every answer: in a real duct the neighbours move too */
  readonly neighboursMove: true
}

/** Whether a filter at so many times its flow leaves one of its own limits. */
export function leavesOwnLimits({ limits }: Pick<AdjustableFilter, 'limits'>, factor: number): 'above' | 'below' | null {
  const left = limits.map((one) => leavesLimits(one, factor))
  return left.find((side) => side === 'above') ?? left.find((side) => side === 'below') ?? null
}

function hindranceOf(filter: AdjustableFilter, factor: number): Remedy['hindrance'] {
  if (!filter.adjustable) return 'not_adjustable'
  const left = leavesOwnLimits(filter, factor)
  if (left === 'above') return 'above_velocity_limit'
  return left === 'below' ? 'below_velocity_limit' : null
}

function remedyBy(filter: AdjustableFilter, changeM3ps: number): Remedy {
  const { flowM3ps, designFlowM3ps, meanVelocityMps } = filter
  const toM3ps = flowM3ps + changeM3ps
  const running = flowM3ps > 0
  const toVelocityMps = meanVelocityMps !== null && running ? (meanVelocityMps * toM3ps) / flowM3ps : null
  return {
    terminalId: filter.terminalId,
    fromM3ps: flowM3ps,
    toM3ps,
    changeM3ps,
    changePercent: running ? (100 * changeM3ps) / flowM3ps : null,
    toVelocityMps,
    toPercentOfDesign: designFlowM3ps !== null && designFlowM3ps > 0 ? (100 * toM3ps) / designFlowM3ps : null,
    hindrance: !running ? 'not_running' : toM3ps < 0 ? 'would_reverse' : hindranceOf(filter, toM3ps / flowM3ps),
  }
}

/** Lower is a better answer. Raising: farthest under design first. Lowering: farthest over design first. */
function rank(remedy: Remedy, filter: AdjustableFilter): number {
  const { designFlowM3ps, flowM3ps } = filter
  const share = designFlowM3ps !== null && designFlowM3ps > 0 ? flowM3ps / designFlowM3ps : null
  if (share === null) return 1000 + Math.abs(remedy.changePercent ?? 0)
  return remedy.changeM3ps >= 0 ? share : -share
}

/**
 * Which filter, raised or lowered by how much, brings a room's supply to a target: without touching any data. `targetM3ps` is the flow that the
 * room's limit stands for (air changes: limit x volume / 3600; with a guard band the limit moved by it), on the basis of the flows; it may
 * differ from filter to filter, whose uncertainty moves the guard band, and is null where this filter brings no pass. Every filter is tried
 * alone; told is the nearest target. Null when there is no filter, or no target. Source: flows add up; that neighbours on the same duct stay put is not true, and
 * is said with the answer.
 */
export function remediesFor(
  filters: readonly AdjustableFilter[],
  side: 'at_least' | 'at_most',
  target: number | ((filter: AdjustableFilter) => number | null),
): RoomRemedies | null {
  const aims = filters.flatMap((filter) => {
    const targetM3ps = typeof target === 'number' ? target : target(filter)
    return targetM3ps === null ? [] : [{ filter, targetM3ps }]
  })
  const targets = aims.map(({ targetM3ps }) => targetM3ps)
  if (targets.length === 0) return null
  const supplyM3ps = filters.reduce((sum, { flowM3ps }) => sum + flowM3ps, 0)
  const changeTo = (targetM3ps: number) => {
    const gap = targetM3ps - supplyM3ps
    return side === 'at_least' ? Math.max(0, gap) : Math.min(0, gap)
  }
  const targetM3ps = side === 'at_least' ? Math.min(...targets) : Math.max(...targets)
  const changeM3ps = changeTo(targetM3ps)
  const tried = aims.map((aim) => ({ filter: aim.filter, remedy: remedyBy(aim.filter, changeTo(aim.targetM3ps)) }))
  const ordered = tried.sort(
    (one, other) =>
      Number(one.remedy.hindrance !== null) - Number(other.remedy.hindrance !== null) ||
      rank(one.remedy, one.filter) - rank(other.remedy, other.filter),
  )
  const remedies = changeM3ps === 0 ? [] : ordered.map(({ remedy }) => remedy)
  return { supplyM3ps, targetM3ps, changeM3ps, remedies, neighboursMove: true }
}

export type SpeedChange = {
  readonly supplyBeforeM3ps: number
  readonly supplyAfterM3ps: number
  readonly filters: readonly {
    readonly terminalId: Uuid
    readonly inGroup: boolean
    readonly beforeM3ps: number
    readonly afterM3ps: number
    readonly afterVelocityMps: number | null
  }[]
  readonly neighboursMove: true
}

/**
 * What a change of fan speed over a group of fan filter units does to a room: flow scales with speed, the others stay. `speedRatio` is new over
 * old speed, above zero; null otherwise. Holds for a modest change against the same resistance; others move in a shared plenum, and the answer
 * says so. Source: fan affinity law, flow proportional to speed (common practice).
 */
export function changeFanSpeed(
  filters: readonly Pick<AdjustableFilter, 'terminalId' | 'flowM3ps' | 'meanVelocityMps'>[],
  groupIds: ReadonlySet<Uuid>,
  speedRatio: number,
): SpeedChange | null {
  if (!(speedRatio > 0 && Number.isFinite(speedRatio))) return null
  const changed = filters.map(({ terminalId, flowM3ps, meanVelocityMps }) => {
    const inGroup = groupIds.has(terminalId)
    const ratio = inGroup ? speedRatio : 1
    const afterVelocityMps = meanVelocityMps === null ? null : meanVelocityMps * ratio
    return { terminalId, inGroup, beforeM3ps: flowM3ps, afterM3ps: flowM3ps * ratio, afterVelocityMps }
  })
  return {
    supplyBeforeM3ps: changed.reduce((sum, { beforeM3ps }) => sum + beforeM3ps, 0),
    supplyAfterM3ps: changed.reduce((sum, { afterM3ps }) => sum + afterM3ps, 0),
    filters: changed,
    neighboursMove: true,
  }
}

/** The speed ratio that brings a room's supply to the target by the group alone; null when the group gives no air or would have to reverse. */
export function speedRatioFor(
  filters: readonly Pick<AdjustableFilter, 'terminalId' | 'flowM3ps'>[],
  groupIds: ReadonlySet<Uuid>,
  targetM3ps: number,
): number | null {
  let group = 0
  let others = 0
  for (const { terminalId, flowM3ps } of filters) {
    if (groupIds.has(terminalId)) group += flowM3ps
    else others += flowM3ps
  }
  const ratio = group > 0 ? (targetM3ps - others) / group : 0
  return ratio > 0 ? ratio : null
}
