import { expect } from 'vitest'
import type { Failure } from '#core/api/errors.ts'
import { say } from '#core/messages/say.ts'
import { createFormatter } from '#core/units/format.ts'
import { ProblemError } from '#electron/project-file/problem.ts'

const DISPLAY = { velocity: 'm/s', flow: 'm3/h', length: 'm', pressure: 'Pa', temperature: 'degC' } as const
const FORMATTER = createFormatter(DISPLAY, 'en-GB', 'Europe/Vienna')

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
  const said = say('en', FORMATTER, sentence.code, sentence.params)
  expect(said).not.toBe(sentence.code)
  expect(said).not.toMatch(/undefined|null|\[object/)
  return said
}
