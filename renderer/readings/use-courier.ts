import { useEffect } from 'react'
import { api } from '../app/client.ts'
import { useSession } from '../app/session.tsx'
import { createCourier } from './courier.ts'
import { tell, waitFor } from './run-transport.ts'

/** The courier of this window. */
export const courier = createCourier({
  storage: window.localStorage,
  send: tell,
  wait: waitFor,
})

/** Sends what earlier openings of this project left unsent, without anybody having to go back to its run. */
export function useCourier(): void {
  const { files } = useSession()
  const projectId = files?.open?.projectId ?? null
  const mayWrite = files?.open?.readOnly === false
  useEffect(() => {
    if (projectId === null || !mayWrite) return
    let gone = false
    const shelved = courier.shelved()
    if (shelved.length > 0)
      api.entities.list({ kinds: ['run'], within: null }).then(
        (runs) => {
          const here = new Set(runs.map(({ id }) => id))
          if (!gone) for (const runId of shelved) if (here.has(runId)) courier.take(runId)
        },
        // Without an answer the queues wait on their shelves for the next opening, or for their run's screen.
        () => undefined,
      )
    return () => {
      gone = true
      courier.rest()
    }
  }, [projectId, mayWrite])
}
