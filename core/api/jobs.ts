import { z } from 'zod'
import { Sentence } from '../model/results.ts'
import { Uuid } from '../model/values.ts'
import { base } from './base.ts'
import { Failure } from './errors.ts'

/** A long piece of work of the engine. */
export const Job = z.strictObject({
  id: Uuid,
  kind: z.enum(['check', 'export', 'import', 'undo', 'redo']),
  state: z.enum(['running', 'done', 'cancelled', 'failed']),
  progress: z.number().min(0).max(1),
  result: z.unknown(),
  failure: Failure.nullable(),
})
export type Job = z.infer<typeof Job>

/** What `check` found, in words; sound when every finding is one of kind ok. */
export const CheckFinding = z.strictObject({ kind: z.enum(['ok', 'problem', 'note']), sentence: Sentence })

export const jobs = {
  startCheck: base.output(Job),
  startExport: base.input(z.strictObject({ path: z.string() })).output(Job),
  get: base.input(z.strictObject({ id: Uuid })).output(Job),
  cancel: base.input(z.strictObject({ id: Uuid })).output(Job),
}
