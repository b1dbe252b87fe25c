import { say } from '#core/messages/say.ts'
import type { Sentence } from '#core/model/results.ts'
import { createFormatter } from '#core/units/format.ts'

const plain = createFormatter({ velocity: 'm/s', flow: 'm3/h', length: 'm', pressure: 'Pa', temperature: 'degC' }, 'en', 'UTC')

/** A sentence for a terminal, where nobody has chosen a language or units. */
export const plainWords = ({ code, params }: Sentence): string => say('en', plain, code, params)
