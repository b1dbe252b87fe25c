import { z } from 'zod'
import type { ImportOutcome } from '#core/api/imports.ts'
import type { CheckFinding } from '#core/api/jobs.ts'
import { checkProject } from '../project-file/check/check.ts'
import { naming } from '../project-file/problem.ts'
import { openForCheck, openReader } from '../project-file/read-only.ts'
import { refuseDamaged } from '../project-file/soundness.ts'
import { createStores } from '../project-file/stores.ts'
import { writeExchange } from './exchange/write-file.ts'
import { ImportJob, type ImportWatch, importFile } from './imports/job.ts'
import type { GatheredImport } from './imports/read-file.ts'
import { recalculateKept, recalculateSigned } from './signed-recalculation.ts'
import { type Turned, TurnJob, turnFile } from './turn-job.ts'

export const JobOrder = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('check'), projectPath: z.string() }),
  z.strictObject({ kind: z.literal('export'), projectPath: z.string(), target: z.string(), uniqueName: z.string() }),
  ImportJob,
  TurnJob,
])
export type JobOrder = z.infer<typeof JobOrder>

/** Every page of a file read once, beside the work; no job that anybody asked for. */
export const LookForDamage = z.strictObject({ kind: z.literal('look_for_damage'), projectPath: z.string() })

export type JobWatch = { readonly progress: (share: number) => void; readonly cancelled: () => boolean }

export type JobOutcome =
  | { readonly findings: z.infer<typeof CheckFinding>[] }
  | { readonly path: string; readonly bytes: number }
  | ImportOutcome
  | GatheredImport
  | Turned

/** The long work itself, on a connection of its own that only reads, but for the end of an import and for undo. Null when it was cancelled. */
export async function doJob(order: JobOrder, watch: ImportWatch): Promise<JobOutcome | null> {
  switch (order.kind) {
    case 'import':
      return await importFile(order, watch)
    case 'undo':
    case 'redo':
      return turnFile(order, watch)
    case 'check':
      return checkFile(order.projectPath, watch)
    case 'export':
      return exportFile(order, watch)
  }
}

export function checkFile(projectPath: string, watch?: JobWatch): { findings: z.infer<typeof CheckFinding>[] } | null {
  const file = openForCheck(projectPath)
  try {
    const findings = checkProject(file, watch ?? {})
    if (findings === null) return null
    // What is broken cannot be computed with: then the problems alone are the answer.
    const sound = findings.every(({ kind }) => kind !== 'problem')
    return { findings: sound ? [...findings, ...recalculateKept(file), ...recalculateSigned(file)] : findings }
  } finally {
    file.close()
  }
}

/** Answers null for a sound file; else it throws what is wrong. */
export function lookForDamage({ projectPath }: z.infer<typeof LookForDamage>): null {
  const file = openReader(projectPath)
  try {
    naming(projectPath, () => refuseDamaged(file.db, projectPath))
    return null
  } finally {
    file.close()
  }
}

/** A full form takes about this many characters for each byte of the file; for the progress bar alone. */
const CHARACTERS_PER_BYTE = 1.2

function exportFile(order: Extract<JobOrder, { kind: 'export' }>, watch: JobWatch): JobOutcome | null {
  const file = openReader(order.projectPath)
  try {
    const expected = Number(file.db.pragma('page_count', { simple: true })) * 4096 * CHARACTERS_PER_BYTE
    return writeExchange(createStores(file), order.target, {
      uniqueName: order.uniqueName,
      goesOn: (characters) => {
        watch.progress(Math.min(0.99, characters / expected))
        return !watch.cancelled()
      },
    })
  } finally {
    file.close()
  }
}
