import { parentPort, workerData } from 'node:worker_threads'
import { z } from 'zod'
import type { Failure } from '#core/api/errors.ts'
import { ProblemError } from '../project-file/problem.ts'
import { MAY_WRITE, STOP } from './job-signals.ts'
import { doJob, JobOrder, type JobOutcome, LookForDamage, lookForDamage } from './job-work.ts'
import type { Change } from './session.ts'

/** What the worker tells the engine. */
export type JobMessage =
  | { readonly tell: 'progress'; readonly share: number }
  | { readonly tell: 'waits_to_write' }
  | { readonly tell: 'changed'; readonly event: Change }
  | { readonly tell: 'done'; readonly outcome: JobOutcome | null }
  | { readonly tell: 'failed'; readonly failure: Failure | null; readonly cause: string }

const Started = z.object({ order: z.discriminatedUnion('kind', [JobOrder, LookForDamage]), stop: z.instanceof(SharedArrayBuffer) })

function tell(message: JobMessage): void {
  parentPort?.postMessage(message)
}

const { order, stop } = Started.parse(workerData)
const flag = new Int32Array(stop)
try {
  const outcome =
    order.kind === 'look_for_damage'
      ? lookForDamage(order)
      : await doJob(order, {
          progress: (share) => tell({ tell: 'progress', share }),
          cancelled: () => Atomics.load(flag, STOP) === 1,
          mayWrite: () => {
            tell({ tell: 'waits_to_write' })
            Atomics.wait(flag, MAY_WRITE, 0)
            return Atomics.load(flag, STOP) === 0
          },
          changed: (event) => tell({ tell: 'changed', event }),
        })
  tell({ tell: 'done', outcome })
} catch (error) {
  const failure = error instanceof ProblemError ? error.failure : null
  tell({ tell: 'failed', failure, cause: error instanceof Error ? (error.stack ?? error.message) : String(error) })
}
