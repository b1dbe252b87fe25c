import type { QueryClient } from '@tanstack/react-query'
import { useEffect } from 'react'
import { api, connection, queryClient } from './client.ts'
import { type Stale, staleAfter } from './staleness.ts'
import { followTurn, forgetTurn } from './turning.ts'

/** Follows the engine's change stream for as long as the page lives, and lets what went stale be fetched again. */
export function useChangeStream(): void {
  useEffect(() => {
    const stop = new AbortController()
    void follow(stop.signal)
    return () => stop.abort()
  }, [])
}

async function follow(stop: AbortSignal): Promise<void> {
  const refresh = refresher(queryClient)
  for (let first = true; !stop.aborted; first = false) {
    try {
      const stream = await api.changes.subscribe(undefined, { signal: stop })
      // Whatever happened while nobody listened.
      if (!first) {
        forgetTurn()
        refresh({ path: [], afterMs: 0 })
      }
      for await (const change of stream) {
        if (change.what === 'job') followTurn(change.job)
        for (const stale of staleAfter(change)) refresh(stale)
      }
    } catch {
      // The channel dropped; the next subscription waits for the next channel.
    }
    if (!stop.aborted && connection.state.get() === 'open') await new Promise((resolve) => setTimeout(resolve, 1000))
  }
}

/** Gathers what went stale, so that a burst of changes costs one refetch each. */
function refresher(client: QueryClient): (stale: Stale) => void {
  const waiting = new Map<string, ReturnType<typeof setTimeout>>()
  return (stale) => {
    const name = JSON.stringify([stale.path, stale.input ?? null])
    clearTimeout(waiting.get(name))
    waiting.set(
      name,
      setTimeout(() => {
        waiting.delete(name)
        void client.invalidateQueries({ queryKey: stale.path.length === 0 ? [] : [stale.path, stale.input ? { input: stale.input } : {}] })
      }, stale.afterMs),
    )
  }
}
