import type { CriterionResult, FilterResult, History, HistoryPoint, RunResult, RunSummary, Uncertainty } from '#core/model/results.ts'
import type { MethodId } from '#core/model/runs.ts'
import type { Basis, Uuid } from '#core/model/values.ts'
import { filterBreaks, roomBreaks } from './breaks.ts'
import type { RunWithEvidence } from './evidence.ts'
import { speakerOf } from './room-speaker.ts'

/** A run within the history, with the visit it belongs to. Only runs that are complete or signed, or the current open one. */
export type RunInHistory = RunWithEvidence & {
  readonly certificationId: Uuid
  readonly certificationName: string
  /** plain date of the visit */
  readonly on: string
  readonly completedOrder: number | null
  readonly method: MethodId
  readonly state: RunSummary['state']
}

export type HistoryInput = {
  readonly subjectId: Uuid
  readonly kind: 'filter' | 'room'
  readonly label: string
  readonly quantity: History['quantity']
  readonly runs: readonly RunInHistory[]
}

const DIMENSION = { face_velocity: 'velocity', flow: 'flow', air_changes: 'air_change_rate' } as const

type Look = {
  /** which air the value speaks of */
  readonly basis: Basis
  readonly value: number | null
  readonly uncertainty: Uncertainty | null
  readonly criteria: readonly CriterionResult[]
  readonly verdict: HistoryPoint['verdict']
}

function lookAtFilter(filter: FilterResult, quantity: History['quantity']): Look {
  const isVelocity = quantity === 'face_velocity'
  const value = isVelocity ? filter.meanVelocityMps : quantity === 'flow' ? filter.flowM3ps : null
  const uncertainty = (isVelocity ? filter.uncertainty?.meanVelocity : filter.uncertainty?.flow) ?? null
  return {
    basis: filter.basis,
    value,
    uncertainty,
    criteria: filter.criteria.filter((criterion) => criterion.scope === 'filter'),
    verdict: filter.verdict,
  }
}

function lookAtRoom(result: RunResult, quantity: History['quantity']): Look {
  const { room } = result
  const value =
    quantity === 'air_changes' ? room.airChangesPerHour : quantity === 'flow' ? room.supplyFlowM3ps : room.areaWeightedMeanVelocityMps
  const uncertainty =
    (quantity === 'air_changes' ? room.uncertainty?.airChanges : quantity === 'flow' ? room.uncertainty?.supplyFlow : null) ?? null
  const own = result.zones.find((zone) => zone.zoneId === result.roomId)
  return { basis: room.basis, value, uncertainty, criteria: [...result.roomCriteria, ...(own?.criteria ?? [])], verdict: result.verdict }
}

function pointOf(run: RunInHistory, look: Look, quantity: History['quantity']): HistoryPoint {
  const ofQuantity = look.criteria.filter(
    (criterion) =>
      criterion.quantity === quantity && criterion.verdict !== 'not_applicable' && (criterion.low !== null || criterion.high !== null),
  )
  // A limit on other air than the figure is none to draw beside it; its verdict stands.
  const drawn = ofQuantity.find(({ basis }) => basis === look.basis)
  const limiting = drawn ?? ofQuantity[0]
  return {
    certificationId: run.certificationId,
    runId: run.runId,
    on: run.on,
    label: run.certificationName,
    phase: run.result.phase,
    value: look.value,
    expandedUncertainty: look.value === null ? null : (look.uncertainty?.expanded ?? null),
    low: drawn?.low ?? null,
    high: drawn?.high ?? null,
    verdict: limiting?.verdict ?? look.verdict,
    overall: look.verdict,
    broken: [],
  }
}

/** Of two methods over the whole room in one visit and phase, those of the one that the room's figures come from. */
function ofOneMethod(runs: readonly RunInHistory[], subjectId: Uuid, kind: HistoryInput['kind']): RunInHistory[] {
  const tells = ({ result }: RunInHistory) =>
    kind === 'room' || result.filters.some((one) => one.terminalId === subjectId && one.pointsMeasured > 0)
  const wholeRoom = Map.groupBy(
    runs.filter((run) => run.result.zoneId === null && tells(run)),
    keyOf,
  )
  const methods = new Map(
    [...wholeRoom].map(([key, group]) => {
      const speaking = group.map((run) => ({ ...run, zoneId: run.result.zoneId, phase: run.result.phase }))
      return [key, speakerOf(speaking)?.method]
    }),
  )
  return runs.filter((run) => run.result.zoneId !== null || (methods.get(keyOf(run)) ?? run.method) === run.method)
}

function keyOf({ certificationId, roomId, result }: RunInHistory): string {
  return [certificationId, roomId, result.phase].join(' ')
}

function inTime(a: RunInHistory, b: RunInHistory): number {
  if (a.on !== b.on) return a.on < b.on ? -1 : 1
  if (a.certificationId !== b.certificationId) return a.certificationId < b.certificationId ? -1 : 1
  if (a.result.phase !== b.result.phase) return a.result.phase === 'as_found' ? -1 : 1
  return (a.completedOrder ?? Number.MAX_SAFE_INTEGER) - (b.completedOrder ?? Number.MAX_SAFE_INTEGER)
}

/**
 * The history of one filter or room over the visits, oldest first, as found before as left: the figure in SI (air changes per hour as such) with its U, the
 * limits of the criterion on it in that run where they speak of the same air, its verdict (that criterion's; without one the overall one), the overall verdict
 * of the filter or of the room's run, and what breaks the trend just before a point. A run that says nothing about the subject is left out; of two
 * methods in one visit only the runs of the one that the room's figures come from are told.
 */
export function historyOf(input: HistoryInput): History {
  const points: HistoryPoint[] = []
  let previous: RunInHistory | null = null
  for (const run of ofOneMethod(input.runs, input.subjectId, input.kind).sort(inTime)) {
    const filter = input.kind === 'filter' ? run.result.filters.find((one) => one.terminalId === input.subjectId) : undefined
    if (input.kind === 'filter' ? !filter : run.roomId !== input.subjectId || run.result.zoneId !== null) continue
    const look = filter ? lookAtFilter(filter, input.quantity) : lookAtRoom(run.result, input.quantity)
    const broken = previous === null ? [] : filter ? filterBreaks(input.subjectId, previous, run) : roomBreaks(previous, run)
    points.push({ ...pointOf(run, look, input.quantity), broken })
    previous = run
  }
  const { subjectId, label, quantity } = input
  return { subjectId, label, quantity, dimension: DIMENSION[quantity], points }
}
