import { say } from '#core/messages/say.ts'
import type { Formatter } from '#core/units/formatter.ts'

/** An answer of the command line, as data and as lines of text. */
export type Told = { readonly json: unknown; readonly lines: readonly string[] }

/** Says sentences in the project's units. */
export function sentences(f: Formatter): (sentence: { readonly code: string; readonly params: unknown }) => string {
  // Parameters of a message are plain data under names.
  return ({ code, params }) => say('en', f, code, params as Record<string, unknown>)
}
