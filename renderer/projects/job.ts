import { useQuery } from '@tanstack/react-query'
import { useState } from 'react'
import type { z } from 'zod'
import type { Job } from '#core/api/jobs.ts'
import { api, orpc, queryClient } from '../app/client.ts'
import { useToast } from '../ui/toast.tsx'

type JobData = z.infer<typeof Job>

/** Follows one long piece of work of the engine: started, its progress, stopped, its end. */
export function useJob(start: () => Promise<JobData>) {
  const toast = useToast()
  const [id, setId] = useState<string | null>(null)
  const query = useQuery(
    orpc.jobs.get.queryOptions({
      input: { id: id ?? '' },
      enabled: id !== null,
      // The change stream tells too; this is for the case that it was down meanwhile.
      refetchInterval: (state) => (state.state.data?.state === 'running' ? 1000 : false),
    }),
  )
  const job = id === null ? null : (query.data ?? null)
  return {
    job,
    running: id !== null && (job === null || job.state === 'running'),
    start: () => {
      start().then(
        (started) => {
          queryClient.setQueryData(orpc.jobs.get.queryKey({ input: { id: started.id } }), started)
          setId(started.id)
        },
        (error: unknown) => toast.problem(error),
      )
    },
    /** lets go of the job, as if none had been started */
    forget: () => setId(null),
    cancel: () => {
      if (id) void api.jobs.cancel({ id }).catch((error: unknown) => toast.problem(error))
    },
  }
}
