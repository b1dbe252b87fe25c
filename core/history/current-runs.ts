import type { RunResult, RunSummary, Signature } from '#core/model/results.ts'
import type { MethodId } from '#core/model/runs.ts'
import type { MeasuringPlane, Phase, Uuid } from '#core/model/values.ts'

/** What a run over one zone says nothing about, as the room stood when the run was begun; empty for a run over the whole room. */
export type BeyondTheZone = {
  /** filters in service in the room */
  readonly roomFilterIds: readonly Uuid[]
  /** criteria on the room as a whole */
  readonly roomCriteria: number
}

/** A run of a visit as the roll-up sees it. */
export type RunInVisit = {
  readonly runId: Uuid
  readonly roomId: Uuid
  readonly zoneId: Uuid | null
  readonly method: MethodId
  readonly plane: MeasuringPlane['kind']
  readonly phase: Phase
  readonly state: RunSummary['state']
  /** grows with the time of completion; null while open. Runs of one order keep the order they are given in */
  readonly completedOrder: number | null
  readonly result: RunResult
  readonly beyondTheZone: BeyondTheZone
  readonly pointsPlanned: number
  readonly pointsMeasured: number
  /** valid samples that measured points have fewer than planned */
  readonly samplesLacking: number
  readonly signatures: readonly Signature[]
}

function laterOf<T extends Pick<RunInVisit, 'completedOrder'>>(runs: readonly T[]): T | null {
  let latest: T | null = null
  for (const run of runs) if (latest === null || (run.completedOrder ?? 0) >= (latest.completedOrder ?? 0)) latest = run
  return latest
}

/**
 * The run that counts among the runs of one room or zone by one method: the latest complete as-left run, else the latest
 * complete as-found run. While none is complete, the latest open one shows how far the work is. Source: the house's rule A4.
 */
export function currentRun<T extends Pick<RunInVisit, 'phase' | 'state' | 'completedOrder'>>(runs: readonly T[]): T | null {
  const complete = runs.filter((run) => run.state !== 'open')
  const asLeft = complete.filter((run) => run.phase === 'as_left')
  return laterOf(asLeft) ?? laterOf(complete) ?? laterOf(runs)
}

/**
 * Runs of one room by what they cover: the whole room or one zone each, by one method. A measuring plane under the filters and one at working
 * height stand beside each other, since criteria ask for the one or the other.
 */
export function byCoverage<T extends Pick<RunInVisit, 'zoneId' | 'method' | 'plane'>>(runs: readonly T[]): T[][] {
  const groups = new Map<string, T[]>()
  for (const run of runs) {
    const key = [run.zoneId ?? '', run.method, run.method === 'plane_velocity_grid' ? run.plane : ''].join(' ')
    const group = groups.get(key)
    if (group) group.push(run)
    else groups.set(key, [run])
  }
  return [...groups.values()]
}
