import type { RunInVisit } from './current-runs.ts'

/** What the choice looks at in a run. */
export type Speaking = Pick<RunInVisit, 'zoneId' | 'method' | 'phase' | 'state'> & {
  readonly result: { readonly room: { readonly supplyFlowM3ps: number | null } }
}

/** Complete before open, as left before as found, a known supply before none, the air of every terminal before the faces of filters. */
function weightOf({ state, phase, result, method }: Speaking): number {
  return (
    (state === 'open' ? 0 : 8) +
    (phase === 'as_left' ? 4 : 0) +
    (result.room.supplyFlowM3ps === null ? 0 : 2) +
    (method === 'room_airflow' ? 1 : 0)
  )
}

/**
 * The one run out of several that a room's headline, air changes, supply and its terminals' figures come from: a run over the whole room, and of
 * two methods the one that measured the air of every terminal where it is complete. Among equals the later in the list. Null where no run covers
 * the whole room. Verdicts are rolled up over every current run all the same.
 */
export function speakerOf<T extends Speaking>(runs: readonly T[]): T | null {
  let speaker: T | null = null
  for (const run of runs) if (run.zoneId === null && (speaker === null || weightOf(run) >= weightOf(speaker))) speaker = run
  return speaker
}
