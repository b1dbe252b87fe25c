import { useQuery } from '@tanstack/react-query'
import { useMemo, useState } from 'react'
import type { RunResult, RunSummary } from '#core/model/results.ts'
import type { Uuid } from '#core/model/values.ts'
import { orpc } from '#renderer/app/client.ts'

export type ShownRun = {
  readonly waiting: boolean
  readonly error: unknown
  readonly runs: readonly RunSummary[]
  readonly run: RunResult | null
  readonly failedAsFound: boolean
  readonly show: (runId: Uuid) => void
}

/** The run whose results the plan carries: the current one of the whole room, or else of a zone, until another is picked. */
export function useShownRun(roomId: Uuid, certificationId: Uuid | null): ShownRun {
  const [picked, setPicked] = useState<Uuid | null>(null)
  const room = useQuery(
    orpc.evaluation.room.queryOptions({ input: { certificationId: certificationId ?? '', roomId }, enabled: certificationId !== null }),
  )
  return useMemo(() => {
    const runs = room.data?.state.runs ?? []
    const current = runs.filter((summary) => summary.current)
    const wanted =
      runs.find((summary) => summary.runId === picked) ??
      current.findLast((summary) => summary.zoneId === null) ??
      current.at(-1) ??
      runs.at(-1)
    return {
      waiting: certificationId !== null && room.isPending,
      error: room.error,
      runs,
      run: room.data?.results.find((result) => result.runId === wanted?.runId) ?? null,
      failedAsFound: room.data?.state.failedAsFound ?? false,
      show: setPicked,
    }
  }, [room.data, room.isPending, room.error, picked, certificationId])
}
