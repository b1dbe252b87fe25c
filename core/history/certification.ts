import { addCounts, noVerdicts, worseThan, worstVerdict } from '#core/criteria/roll-up.ts'
import { message } from '#core/messages/say.ts'
import type { CertificationState, RoomState, Sentence } from '#core/model/results.ts'
import type { Uuid } from '#core/model/values.ts'
import { byCoverage, currentRun, type RunInVisit } from './current-runs.ts'
import { speakerOf } from './room-speaker.ts'

export type CertificationInput = {
  readonly certificationId: Uuid
  /** rooms in the scope of the visit, also those without a run */
  readonly roomIds: readonly Uuid[]
  readonly runs: readonly RunInVisit[]
}

type LeftOut = { readonly filters: number; readonly criteria: number }

/** What the runs that count leave out of a room when none of them covers the whole of it. */
function leftOutOf(current: readonly RunInVisit[]): LeftOut {
  if (current.length === 0 || current.some((run) => run.zoneId === null)) return { filters: 0, criteria: 0 }
  const covered = new Set(current.flatMap((run) => run.result.filters.map((filter) => filter.terminalId)))
  const inRoom = new Set(current.flatMap((run) => run.beyondTheZone.roomFilterIds))
  return {
    filters: [...inRoom].filter((id) => !covered.has(id)).length,
    criteria: Math.max(...current.map((run) => run.beyondTheZone.roomCriteria)),
  }
}

function roomHeadline(current: readonly RunInVisit[], speaker: RunInVisit | null, failedAsFound: boolean, leftOut: LeftOut): Sentence {
  let deciding = speaker
  for (const run of current) if (deciding === null || worseThan(run.result.verdict, deciding.result.verdict) > 0) deciding = run
  if (!deciding) return message('headline.no_run', {})
  const { headline } = deciding.result
  // The headline must not pass for one of the run that the figures beside it come from.
  const run =
    speaker && deciding !== speaker && deciding.zoneId === null && deciding.method !== speaker.method
      ? message('headline.by_method', { run: headline, method: deciding.method })
      : headline
  if (leftOut.filters + leftOut.criteria > 0 && worseThan('not_tested', deciding.result.verdict) > 0)
    return message('headline.zones_only', { leftOut })
  if (current.some((one) => one.state === 'open')) return message('headline.open', { run })
  return failedAsFound ? message('headline.retested', { run }) : run
}

/** Filters of the current runs, each once: a zone's run and a run over the whole room may both hold it. */
function filterCount(current: readonly RunInVisit[]): { planned: number; measured: number } {
  const done = new Map<Uuid, boolean>()
  for (const run of current)
    for (const filter of run.result.filters) {
      if (filter.closed) continue
      const complete = filter.pointsPlanned > 0 && filter.pointsMeasured >= filter.pointsPlanned
      done.set(filter.terminalId, complete || (done.get(filter.terminalId) ?? false))
    }
  let measured = 0
  for (const complete of done.values()) if (complete) measured += 1
  return { planned: done.size, measured }
}

/** The state of one room in a visit, out of all its runs there. */
export function roomState(roomId: Uuid, runs: readonly RunInVisit[]): RoomState {
  const groups = byCoverage(runs)
  const current = groups.map((group) => currentRun(group)).filter((run) => run !== null)
  const isCurrent = new Set(current)
  const counts = noVerdicts()
  for (const run of current) addCounts(counts, run.result.counts)
  const leftOut = leftOutOf(current)
  const open = current.length === 0 ? 1 : leftOut.filters + leftOut.criteria
  counts.not_tested += open
  const failedAsFound = runs.some(
    (run) => run.phase === 'as_found' && run.state !== 'open' && !isCurrent.has(run) && run.result.verdict === 'fail',
  )
  const whole = speakerOf(current)
  const alone = current.filter((run) => run.zoneId === null).length === 1
  const filters = filterCount(current)
  return {
    roomId,
    verdict: worstVerdict([...current.map((run) => run.result.verdict), ...(open > 0 ? ['not_tested' as const] : [])]),
    counts,
    failedAsFound,
    headline: roomHeadline(current, whole, failedAsFound, leftOut),
    airChangesPerHour: whole?.result.room.airChangesPerHour ?? null,
    supplyFlowM3ps: whole?.result.room.supplyFlowM3ps ?? null,
    figuresFrom: whole ? { runId: whole.runId, method: whole.method, alone } : null,
    filtersMeasured: filters.measured,
    filtersPlanned: filters.planned + leftOut.filters,
    runs: runs.map((run) => ({
      runId: run.runId,
      roomId,
      zoneId: run.zoneId,
      phase: run.phase,
      state: run.state,
      current: isCurrent.has(run),
      pointsPlanned: run.pointsPlanned,
      pointsMeasured: run.pointsMeasured,
      samplesLacking: run.samplesLacking,
      repeats: run.result.filters.reduce((sum, { readingsVoided }) => sum + readingsVoided, 0),
      verdict: run.result.verdict,
      headline: run.result.headline,
      signatures: [...run.signatures],
    })),
  }
}

/**
 * The state of a visit: every room in scope by its current runs, and the roll-up over the rooms. A room without a run reads not tested,
 * and so does what no run covers where only zones of a room were measured.
 * A run still open gives the state of its room while no run is complete: what is missing keeps it from passing, and when nothing
 * is missing the headline still says that it is open. A room that failed as found and was measured again as left keeps the
 * trace of it. Source: the house's rule A4.
 */
export function certificationState(input: CertificationInput): CertificationState {
  const byRoom = new Map<Uuid, RunInVisit[]>(input.roomIds.map((id) => [id, []]))
  for (const run of input.runs) {
    const runs = byRoom.get(run.roomId)
    if (runs) runs.push(run)
    else byRoom.set(run.roomId, [run])
  }
  const rooms = [...byRoom].map(([roomId, runs]) => roomState(roomId, runs))
  const counts = noVerdicts()
  for (const room of rooms) addCounts(counts, room.counts)
  return { certificationId: input.certificationId, verdict: worstVerdict(rooms.map((room) => room.verdict)), counts, rooms }
}
