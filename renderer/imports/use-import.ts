import { useEffect, useRef } from 'react'
import { type ImportOrder, ImportOutcome } from '#core/api/imports.ts'
import type { Sentence } from '#core/model/results.ts'
import { api } from '../app/client.ts'
import { newCommand } from '../app/session.tsx'
import { useJob } from '../projects/job.ts'

export type AskedImport = Omit<ImportOrder, 'command' | 'dryRun' | 'seen'>

export type Followed = {
  readonly running: boolean
  readonly progress: number
  readonly outcome: ImportOutcome | null
  readonly failed: Sentence | null
  readonly cancelled: boolean
  readonly start: () => void
  readonly cancel: () => void
  /** puts what became of it out of sight */
  readonly forget: () => void
}

/** A changed mapping is looked through after a moment without another change. */
const QUIET_MS = 350

/**
 * Looks through the file whenever it was chosen (`chosen` counts that) or something of the order changes, and imports it when asked to.
 */
export function useImport(order: AskedImport | null, chosen: number): { readonly seen: Followed; readonly keep: Followed } {
  const latest = useRef(order)
  latest.current = order
  const begin = (dryRun: boolean, sha256: string | null) => {
    const asked = latest.current
    if (!asked) return Promise.reject(new Error('an import has a file and a mapping'))
    return api.imports.start({ command: newCommand(), ...asked, dryRun, seen: sha256 })
  }
  const seen = useFollowed(() => begin(true, null))
  // What is kept is what was seen: the file may have been written to since.
  const keep = useFollowed(() => begin(false, seen.outcome?.sha256 ?? null))
  // Saying "once more all the same" changes nothing about the rows.
  const key = order === null ? null : JSON.stringify({ ...order, chosen, again: false, mapping: { ...order.mapping, name: '', note: '' } })
  const look = useRef(seen)
  look.current = seen
  useEffect(() => {
    if (key === null) return
    const timer = setTimeout(() => {
      if (look.current.running) look.current.cancel()
      look.current.start()
    }, QUIET_MS)
    return () => clearTimeout(timer)
  }, [key])
  return { seen, keep }
}

function useFollowed(begin: () => ReturnType<typeof api.imports.start>): Followed {
  const { job, running, start, cancel, forget } = useJob(begin)
  const read = job?.state === 'done' ? ImportOutcome.safeParse(job.result) : null
  return {
    running,
    progress: job?.progress ?? 0,
    outcome: read?.success ? read.data : null,
    failed: job?.failure?.sentence ?? null,
    cancelled: job?.state === 'cancelled',
    start,
    cancel,
    forget,
  }
}
