import { oc } from '@orpc/contract'
import { z } from 'zod'
import { Uuid } from '../model/values.ts'
import { Failure } from './errors.ts'

const failure = { data: Failure }
/** What every procedure of the contract starts from: the named kinds of failure. */
export const base = oc.errors({
  not_found: failure,
  invalid_input: failure,
  conflict: failure,
  locked: failure,
  read_only: failure,
  damaged_file: failure,
  newer_file: failure,
  not_a_project: failure,
  already_exists: failure,
  disk_full: failure,
  no_project: failure,
  refused: failure,
  internal: failure,
})

/** Identity of a change: made by the page, so that a repeated message is answered and never done twice. */
export const Command = z.strictObject({
  id: Uuid,
  personId: Uuid,
  reason: z.string().max(1000).default(''),
})
export type Command = z.infer<typeof Command>
