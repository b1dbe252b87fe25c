import { ORPCError } from '@orpc/client'
import { Failure } from '#core/api/errors.ts'

/**
 * What a thrown thing means as one of the named kinds. Anything that did not come from the engine as a failure (a dropped
 * connection, a fault of the page) reads as `internal` with the sentence that nothing was changed.
 */
export function failureOf(error: unknown): Failure {
  if (error instanceof ORPCError) {
    const parsed = Failure.safeParse(error.data)
    if (parsed.success) return parsed.data
  }
  return { kind: 'internal', sentence: { code: 'app.connection.refused', params: {} }, field: null }
}

/** The failure's sentence belongs at this field of a form, or null when it is about something else. */
export function isAboutField(failure: Failure, field: string): boolean {
  return failure.field === field || (failure.field?.endsWith(`.${field}`) ?? false)
}
