import { z } from 'zod'
import { Uuid } from '../model/values.ts'
import { Failure } from './errors.ts'

/** A long piece of work of the engine. */
export const Job = z.strictObject({
  id: Uuid,
  kind: z.enum(['check', 'export', 'import']),
  state: z.enum(['running', 'done', 'cancelled', 'failed']),
  progress: z.number().min(0).max(1),
  result: z.unknown(),
  failure: Failure.nullable(),
})
export type Job = z.infer<typeof Job>
