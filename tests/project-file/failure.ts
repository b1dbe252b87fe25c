import { expect } from 'vitest'
import type { Failure } from '#core/api/errors.ts'
import { say } from '#core/messages/say.ts'
import { ProblemError } from '#electron/project-file/problem.ts'

/** Runs something that must be refused and answers the refusal. */
export function refusal(work: () => unknown): Failure {
  try {
    work()
  } catch (error) {
    if (error instanceof ProblemError) return error.failure
    throw error
  }
  throw new Error('this was not refused')
}

/** The sentence that the user reads, which must be whole: no code, no unfilled parameter. */
export function sentenceOf(sentence: { code: string; params: Record<string, unknown> }): string {
  // The sentences of files hold no quantities, so that no formatter is needed to say them.
  const said = say('en', undefined as never, sentence.code, sentence.params)
  expect(said).not.toBe(sentence.code)
  expect(said).not.toMatch(/undefined|null|\[object/)
  return said
}
