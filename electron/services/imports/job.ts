import { z } from 'zod'
import { ImportOrder, type ImportOutcome } from '#core/api/imports.ts'
import { openReader } from '../../project-file/read-only.ts'
import { openSecondWriter } from '../../project-file/second-writer.ts'
import { type Change, Session } from '../session.ts'
import { keepImport } from './keep.ts'
import { type GatheredImport, readImport } from './read-file.ts'

/** The opening that a worker writes in. */
export const WriterOpening = z.strictObject({
  uuid: z.string(),
  opened: z.strictObject({ openedAt: z.string(), openedBy: z.string(), openedWhere: z.string(), program: z.string() }),
})

export const ImportJob = z.strictObject({
  kind: z.literal('import'),
  projectPath: z.string(),
  order: ImportOrder,
  attachmentId: z.string(),
  nowMs: z.number(),
  /** null where only the engine itself can write, as on a network drive */
  writer: WriterOpening.nullable(),
})
export type ImportJob = z.infer<typeof ImportJob>

export type ImportWatch = {
  readonly progress: (share: number) => void
  readonly cancelled: () => boolean
  /** waits until the engine writes nothing itself; false when the job was cancelled meanwhile */
  readonly mayWrite: () => boolean
  readonly changed: (event: Change) => void
}

/** Reading a file takes about this share of an import; for the progress bar alone. */
export const READING_SHARE = 0.5

/** Reads a file and writes what it holds, in a worker thread. A gathered import comes back where the engine has to write it. */
export async function importFile(job: ImportJob, watch: ImportWatch): Promise<ImportOutcome | GatheredImport | null> {
  const { order, nowMs } = job
  const gathered = await gather(job, watch)
  if (!gathered) return null
  const { outcome } = gathered
  if (order.dryRun || outcome.refused !== null) return outcome
  if (!job.writer) return gathered
  if (!watch.mayWrite()) return null
  const session = new Session(openSecondWriter(job.projectPath, job.writer), {
    clock: () => nowMs,
    uuid: () => {
      throw new Error('an import makes no identities of its own')
    },
    publish: watch.changed,
    log: () => undefined,
  })
  try {
    return keepImport(session, gathered, order, job.attachmentId, {
      cancelled: watch.cancelled,
      progress: (share) => watch.progress(READING_SHARE + (1 - READING_SHARE) * share),
    })
  } finally {
    session.file.close()
  }
}

async function gather({ projectPath, order, nowMs }: ImportJob, watch: ImportWatch): Promise<GatheredImport | null> {
  const file = openReader(projectPath)
  try {
    const session = new Session(file, { clock: () => nowMs, uuid: () => '', publish: () => undefined, log: () => undefined })
    const share = order.dryRun ? 1 : READING_SHARE
    return await readImport(session, order, nowMs, { cancelled: watch.cancelled, progress: (read) => watch.progress(read * share) })
  } finally {
    file.close()
  }
}
