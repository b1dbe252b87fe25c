import { ORPCError, ValidationError } from '@orpc/server'
import type { z } from 'zod'
import { ERROR_KINDS, type Failure } from '#core/api/errors.ts'
import { message } from '#core/messages/say.ts'
import { ProblemError } from '../project-file/problem.ts'
import { issueInWords } from './input-words.ts'

function asError(failure: Failure, cause: unknown): ORPCError<Failure['kind'], Failure> {
  return new ORPCError(failure.kind, { defined: true, message: failure.sentence.code, data: failure, cause })
}

/** Any failure as the contract carries it. What is not a named kind is logged and becomes `internal`. */
export function toContractError(error: unknown, log: (error: unknown) => void): ORPCError<string, unknown> {
  if (error instanceof ProblemError) {
    if (error.failure.kind === 'internal') log(error)
    return asError(error.failure, error.cause)
  }
  if (error instanceof ORPCError) {
    if (error.code === 'BAD_REQUEST' && error.cause instanceof ValidationError) return asError(inputFailure(error.cause), error.cause)
    if (ERROR_KINDS.some((kind) => kind === error.code)) return error
  }
  log(error instanceof ORPCError && error.cause ? error.cause : error)
  const sentence = message('error.internal', { cause: error instanceof Error ? error.name : typeof error })
  return asError({ kind: 'internal', sentence, field: null }, error)
}

/** The first thing that the input's schema found, with the field it is about. */
function inputFailure(error: ValidationError): Failure {
  const [issue] = error.issues
  const path = (issue?.path ?? []).map((part) => String(typeof part === 'object' ? part.key : part))
  // The schemas of the contract are zod's, and so are the issues that carry a code.
  const said = issue && 'code' in issue ? issueInWords(issue as z.core.$ZodIssue) : (issue?.message ?? '')
  return {
    kind: 'invalid_input',
    sentence: message('error.invalid_input', { detail: [...path.slice(-1), said].join(': ') }),
    field: path.length > 0 ? path.join('.') : null,
  }
}
