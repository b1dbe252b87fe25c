import { z } from 'zod'
import { Sentence } from '../model/results.ts'

/** The named kinds of failure. Each carries a sentence of the catalogue that says what to do. */
export const ERROR_KINDS = [
  'not_found',
  'invalid_input',
  'conflict',
  'locked',
  'read_only',
  'damaged_file',
  'newer_file',
  'not_a_project',
  'already_exists',
  'disk_full',
  'no_project',
  'refused',
  'internal',
] as const
export const ErrorKind = z.enum(ERROR_KINDS)
export type ErrorKind = z.infer<typeof ErrorKind>

/** Flat data, as it crosses the channel. `field` names the input field that the page marks, where there is one. */
export const Failure = z.strictObject({ kind: ErrorKind, sentence: Sentence, field: z.string().nullable() })
export type Failure = z.infer<typeof Failure>
