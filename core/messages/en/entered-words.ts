import type { Entered } from '#core/model/values.ts'
import { enteredText } from '#core/units/format.ts'
import { namesItsUnit } from '#core/units/parse.ts'

const MINUS = '\u2212'
const EN_DASH = '\u2013'

function withMinus(text: string): string {
  return text.replace(/^-/, MINUS)
}

/** A typed value with its unit within a sentence or table: as typed, but for the sign, which is a minus whatever key it came from. */
export function enteredWords(value: Entered): string {
  return withMinus(enteredText(value))
}

/**
 * A range of two typed values, the unit once where both have the same: "0.05–5 m/s". Where a value has a sign, or a unit of its own, the
 * dash stands free, so that nobody takes it for one more minus: "−10 – 60 °C".
 */
export function enteredRange(low: Entered, high: Entered): string {
  const bare = low.unit === high.unit && !namesItsUnit(low)
  const from = bare ? withMinus(low.typed.trim()) : enteredWords(low)
  const to = enteredWords(high)
  const free = !bare || from.startsWith(MINUS) || to.startsWith(MINUS)
  return free ? `${from} ${EN_DASH} ${to}` : `${from}${EN_DASH}${to}`
}
