import { type MessageCode, type ParamsOf, say } from '#core/messages/say.ts'
import { createFormatter } from '#core/units/format.ts'

const METRIC = { velocity: 'm/s', flow: 'm3/h', length: 'm', pressure: 'Pa', temperature: 'degC' } as const
const formatter = createFormatter(METRIC, 'en-US', 'Europe/Vienna')

/** A text of the catalogue as the page shows it: specs find things by what a person reads, and survive a change of wording. */
export function words<C extends MessageCode>(code: C, params: ParamsOf<C> extends undefined ? Record<never, never> : ParamsOf<C>): string {
  return say('en', formatter, code, { ...params })
}
