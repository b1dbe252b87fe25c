import { worseThan } from '#core/criteria/roll-up.ts'
import type { Verdict } from '#core/model/criteria.ts'
import type {
  CertificationState,
  Comparison,
  ComparisonRow,
  CriterionResult,
  FilterResult,
  RunResult,
  Sentence,
} from '#core/model/results.ts'
import type { Uuid } from '#core/model/values.ts'
import { filterBreaks, roomBreaks } from './breaks.ts'
import { summarise } from './compare-summary.ts'
import type { RunWithEvidence } from './evidence.ts'
import { filterDiffersFromSigned, roomDiffersFromSigned } from './signed-difference.ts'

/** One visit of a comparison. Runs that are not current in its state are left aside. */
export type ComparedVisit = {
  readonly certificationId: Uuid
  readonly state: CertificationState
  readonly runs: readonly RunWithEvidence[]
}

export type CompareInput = {
  readonly earlier: ComparedVisit
  readonly later: ComparedVisit
  /** how each room is called */
  readonly roomLabels: ReadonlyMap<Uuid, string>
  /** null compares every room of both visits */
  readonly roomId: Uuid | null
}

/** A filter in its current run; `frozen` is its signed result, undefined where the run is not signed. */
export type FilterIn = { readonly filter: FilterResult; readonly run: RunWithEvidence; readonly frozen: FilterResult | null | undefined }

/** The current runs of a visit, and each filter within them. */
export type CurrentOf = {
  readonly rooms: ReadonlyMap<Uuid, RunWithEvidence>
  readonly filters: ReadonlyMap<Uuid, FilterIn>
  readonly runs: readonly RunWithEvidence[]
}

function currentOf(visit: ComparedVisit, roomId: Uuid | null): CurrentOf {
  const current = new Set<Uuid>()
  const speakers = new Set<Uuid>()
  for (const room of visit.state.rooms) {
    for (const run of room.runs) if (run.current) current.add(run.runId)
    if (room.figuresFrom) speakers.add(room.figuresFrom.runId)
  }
  const runs = visit.runs.filter((run) => current.has(run.runId) && (roomId === null || run.roomId === roomId))
  const rooms = new Map<Uuid, RunWithEvidence>()
  const filters = new Map<Uuid, FilterIn>()
  // A terminal is told by the run that tells of its room, if that has measured it; else by the one that has most of its points.
  const tells = ({ pointsMeasured }: FilterResult, { runId }: RunWithEvidence) =>
    pointsMeasured > 0 && speakers.has(runId) ? Number.POSITIVE_INFINITY : pointsMeasured
  for (const run of runs) {
    const known = rooms.get(run.roomId)
    // A run over one zone stands for the room only where none covers the whole of it.
    if (!known || !speakers.has(known.runId)) rooms.set(run.roomId, run)
    const frozen = run.signed ? new Map(run.signed.filters.map((filter) => [filter.terminalId, filter])) : null
    for (const filter of run.result.filters) {
      const known = filters.get(filter.terminalId)
      if (!known || tells(filter, run) > tells(known.filter, known.run))
        filters.set(filter.terminalId, { filter, run, frozen: frozen ? (frozen.get(filter.terminalId) ?? null) : undefined })
    }
  }
  return { rooms, filters, runs }
}

/** Then, now, change and change in percent; change is none unless both are known and speak of the same air (of one basis), percent none when then is 0. */
export function changeBetween(then: number | null, now: number | null, ofOneAir = true): ComparisonRow['figure'] {
  const change = then === null || now === null || !ofOneAir ? null : now - then
  const changePercent = change === null || then === null || then === 0 ? null : (100 * change) / Math.abs(then)
  return { earlier: then, later: now, change, changePercent }
}

function filterDiffers(side: FilterIn | undefined): boolean {
  return side?.frozen !== undefined && filterDiffersFromSigned(side.frozen, side.filter)
}

function roomDiffers(run: RunWithEvidence | undefined): boolean {
  return run?.signed ? roomDiffersFromSigned(run.signed, run.result) : false
}

/** The reason of the criterion that makes a verdict what it is; null for a pass. */
function decidingReason(criteria: readonly CriterionResult[], verdict: Verdict): Sentence | null {
  if (verdict === 'pass') return null
  return criteria.find((criterion) => criterion.verdict === verdict)?.reason ?? null
}

function filterRow(id: Uuid, then: FilterIn | undefined, now: FilterIn | undefined): ComparisonRow {
  const known = now ?? then
  const verdictNow = now?.filter.verdict ?? 'not_tested'
  // Where one of the two was no face velocity, flows are what both have.
  const byFlow = [then, now].some((side) => side !== undefined && side.filter.way !== 'face_grid')
  return {
    kind: 'filter',
    id,
    roomId: known?.run.roomId ?? '',
    label: known?.filter.tag ?? '',
    quantity: byFlow ? 'flow' : 'face_velocity',
    dimension: byFlow ? 'flow' : 'velocity',
    figure: byFlow
      ? changeBetween(then?.filter.flowM3ps ?? null, now?.filter.flowM3ps ?? null, then?.filter.basis === now?.filter.basis)
      : changeBetween(then?.filter.meanVelocityMps ?? null, now?.filter.meanVelocityMps ?? null, then?.filter.basis === now?.filter.basis),
    verdictThen: then?.filter.verdict ?? 'not_tested',
    verdictNow,
    reasonNow: now ? decidingReason(now.filter.criteria, verdictNow) : null,
    breaks: then && now ? filterBreaks(id, then.run, now.run) : [],
    differsFromSigned: filterDiffers(then) || filterDiffers(now),
  }
}

/** Rooms are compared by their air changes, unless their criteria ask for a velocity and not for air changes. */
function roomQuantity(result: RunResult | undefined): 'air_changes' | 'face_velocity' {
  const asks = (criteria: readonly CriterionResult[], quantity: string) =>
    criteria.some((criterion) => criterion.quantity === quantity && criterion.verdict !== 'not_applicable')
  if (!result || asks(result.roomCriteria, 'air_changes')) return 'air_changes'
  return result.zones.some((zone) => asks(zone.criteria, 'face_velocity')) ? 'face_velocity' : 'air_changes'
}

function roomFigure(result: RunResult | undefined, quantity: 'air_changes' | 'face_velocity'): number | null {
  if (!result) return null
  return quantity === 'air_changes' ? result.room.airChangesPerHour : result.room.areaWeightedMeanVelocityMps
}

function worstReason(result: RunResult): Sentence | null {
  const everything = [result.roomCriteria, ...result.zones.map((zone) => zone.criteria), ...result.filters.map((filter) => filter.criteria)]
  for (const criteria of everything) {
    const reason = decidingReason(criteria, result.verdict)
    if (reason) return reason
  }
  return null
}

/** Why the room reads as it does: from the run that its figures come from, else from the current run that decides. */
function reasonOf(verdict: Verdict, now: RunWithEvidence, runs: readonly RunWithEvidence[]): Sentence | null {
  const deciding = now.result.verdict === verdict ? now : runs.find((run) => run.roomId === now.roomId && run.result.verdict === verdict)
  return worstReason((deciding ?? now).result)
}

function roomRow(id: Uuid, input: CompareInput, earlier: CurrentOf, later: CurrentOf): ComparisonRow {
  const [then, now] = [earlier.rooms.get(id), later.rooms.get(id)]
  const verdictOf = (visit: ComparedVisit) => visit.state.rooms.find((room) => room.roomId === id)?.verdict ?? 'not_tested'
  const quantity = roomQuantity((now ?? then)?.result)
  return {
    kind: 'room',
    id,
    roomId: id,
    label: input.roomLabels.get(id) ?? '',
    quantity,
    dimension: quantity === 'air_changes' ? 'air_change_rate' : 'velocity',
    figure: changeBetween(
      roomFigure(then?.result, quantity),
      roomFigure(now?.result, quantity),
      then?.result.room.basis === now?.result.room.basis,
    ),
    verdictThen: verdictOf(input.earlier),
    verdictNow: verdictOf(input.later),
    reasonNow: now ? reasonOf(verdictOf(input.later), now, later.runs) : null,
    breaks: then && now ? roomBreaks(then, now) : [],
    differsFromSigned: roomDiffers(then) || roomDiffers(now),
  }
}

/** What got worst comes first: a verdict that became worse, then what fails, then the largest loss; rows without a change last. */
export function byWhatGotWorst(a: ComparisonRow, b: ComparisonRow): number {
  const worsened = (row: ComparisonRow) => Math.max(0, worseThan(row.verdictNow, row.verdictThen))
  return (
    worsened(b) - worsened(a) ||
    worseThan(b.verdictNow, a.verdictNow) ||
    (a.figure.changePercent ?? Number.POSITIVE_INFINITY) - (b.figure.changePercent ?? Number.POSITIVE_INFINITY) ||
    0
  )
}

/**
 * Holds one visit against another: a row for each filter (mean face velocity) and each room (air changes, or mean velocity where that is
 * what its criteria ask for) of the current runs of either visit, sorted by what got worst, each with what breaks the
 * comparison; and a summary in sentences. Velocities in m/s, air changes per hour. A filter or room that one visit did not measure has
 * none there and reads not tested.
 */
export function compareCertifications(input: CompareInput): Comparison {
  const then = currentOf(input.earlier, input.roomId)
  const now = currentOf(input.later, input.roomId)
  const rows: ComparisonRow[] = []
  for (const id of new Set([...now.filters.keys(), ...then.filters.keys()]))
    rows.push(filterRow(id, then.filters.get(id), now.filters.get(id)))
  for (const id of new Set([...now.rooms.keys(), ...then.rooms.keys()])) rows.push(roomRow(id, input, then, now))
  rows.sort(byWhatGotWorst)
  return { thenId: input.earlier.certificationId, nowId: input.later.certificationId, rows, summary: summarise(input, then, now, rows) }
}
