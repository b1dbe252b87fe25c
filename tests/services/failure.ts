import { ORPCError } from '@orpc/server'
import { Failure } from '#core/api/errors.ts'

/** The failure that a call was answered with; a call that succeeds, or fails without a kind, fails the test. */
export async function failureOf(call: Promise<unknown>): Promise<Failure> {
  try {
    await call
  } catch (error) {
    if (error instanceof ORPCError && error.defined) return Failure.parse(error.data)
    throw error
  }
  throw new Error('the call was answered, and should have been refused')
}
