import { type Fell, type Killed, killAfter, killAtCall } from './killing.ts'
import type { PreparedRun } from './prepared-run.ts'
import { hasTracer, traceRecorder, whileRecording } from './traced-calls.ts'

const RECORDINGS = 3
/** The random kills fall within this time after the recorder is ready; it records for longer than that. */
const RANDOM_WITHIN_MS = 250

export type Campaign = { readonly kills: readonly (Killed & { readonly how: string })[]; readonly report: string }

/**
 * Kills recorders at the writes and syncs of a few recordings and of closing (`atCalls` of them, evenly spread over all; every one when
 * that is more than there are), and by the clock (`byClock` times, `seed` chooses when).
 */
export async function killCampaign(
  prepared: PreparedRun,
  options: { atCalls: number; byClock: number; seed: number; onKill?: (done: number) => void },
): Promise<Campaign> {
  const kills: (Killed & { how: string })[] = []
  if (hasTracer) {
    const calls = whileRecording(traceRecorder(prepared, RECORDINGS))
    for (const { call, ordinal, target } of spread(calls, options.atCalls)) {
      const how = `at ${call} ${ordinal} of ${target.split('/').at(-1)}`
      kills.push({ how, ...(await killAtCall(prepared, call, ordinal, RECORDINGS)) })
      options.onKill?.(kills.length)
    }
  }
  const random = randomNumbers(options.seed)
  for (let kill = 0; kill < options.byClock; kill += 1) {
    const delayMs = Math.floor(random() * RANDOM_WITHIN_MS)
    kills.push({ how: `${delayMs} ms after it was ready`, ...(await killAfter(prepared, delayMs)) })
    options.onKill?.(kills.length)
  }
  return { kills, report: report(kills) }
}

function spread<T>(items: readonly T[], most: number): T[] {
  if (items.length <= most) return [...items]
  return Array.from({ length: most }, (_unused, index) => items[Math.floor((index * items.length) / most)]).filter(
    (item) => item !== undefined,
  )
}

/** A small seeded generator (mulberry32), so that a campaign can be repeated. */
function randomNumbers(seed: number): () => number {
  let state = seed >>> 0
  return () => {
    state = (state + 0x6d2b79f5) >>> 0
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state)
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32
  }
}

function report(kills: Campaign['kills']): string {
  const counts = new Map<Fell, number>()
  for (const { fell } of kills) counts.set(fell, (counts.get(fell) ?? 0) + 1)
  const inside = kills.filter(isInside).length
  const answered = kills.reduce((sum, kill) => sum + kill.answered, 0)
  const lines = [...counts].sort().map(([fell, count]) => `  ${String(count).padStart(4)}  ${fell}`)
  return [`${kills.length} kills, ${inside} of them inside a transaction; ${answered} readings had been answered`, ...lines].join('\n')
}

export function isInside({ fell }: Killed): boolean {
  return fell.startsWith('inside a recording')
}
