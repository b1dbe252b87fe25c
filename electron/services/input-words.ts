import type { z } from 'zod'
import { message } from '#core/messages/say.ts'
import { plainWords } from '../plain-words.ts'

type Issue = z.core.$ZodIssue

/** What a schema found, in words of ours; rules of the model carry their own. */
export function issueInWords(issue: Issue): string {
  return plainWords(sentenceOf(issue))
}

function sentenceOf(issue: Issue) {
  switch (issue.code) {
    case 'invalid_type':
      return message('input.wanted', { what: issue.expected })
    case 'too_small':
      return message('input.too_small', { of: issue.origin, least: String(issue.minimum), itself: issue.inclusive !== false })
    case 'too_big':
      return message('input.too_big', { of: issue.origin, most: String(issue.maximum), itself: issue.inclusive !== false })
    case 'unrecognized_keys':
      return message('input.unknown', { names: issue.keys.join(', ') })
    case 'invalid_value':
      return message('input.one_of', { values: issue.values.map(String).join(', ') })
    case 'invalid_format':
      return message('input.form', { form: issue.format })
    case 'invalid_union':
      return message('input.none_fits', {})
    default:
      return message('input.other', { detail: issue.message })
  }
}
