import { api } from '../app/client.ts'

/** What someone else, or this page itself, changed of a run. */
export type RunNews = 'readings' | 'run'

/** Hears of every change of one run for as long as the signal lives; a dropped stream is taken up again and counts as a change. */
export async function followRun(runId: string, tell: (news: RunNews) => void, stop: AbortSignal): Promise<void> {
  for (let first = true; !stop.aborted; first = false) {
    try {
      const stream = await api.changes.subscribe(undefined, { signal: stop })
      if (!first) tell('run')
      for await (const change of stream) {
        if ((change.what === 'readings' || change.what === 'run') && change.runId === runId) tell(change.what)
      }
    } catch {
      // The channel dropped. Calls wait for the next one, and so does the next subscription.
    }
    if (!stop.aborted) await new Promise((resolve) => setTimeout(resolve, 1_000))
  }
}
