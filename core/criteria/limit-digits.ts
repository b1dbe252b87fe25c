import type { Unit } from '#core/model/values.ts'
import { readNumber } from '#core/units/number-text.ts'
import { partsOf, plainText } from '#core/units/typed-text.ts'
import { fromSi, toSi } from '#core/units/units.ts'
import { RELATIVE_TOLERANCE } from './compare-limit.ts'

/** How a value is rounded before it is held against a limit: to so many decimals of the limit's unit. */
export type LimitDigits = { readonly unit: Unit; readonly decimals: number }

const MOST_DECIMALS = 9

/** The fewest decimals that write the number in full, at most nine. */
export function decimalsOf(value: number): number {
  for (let decimals = 0; decimals < MOST_DECIMALS; decimals += 1) {
    const step = 10 ** decimals
    if (Math.abs(Math.round(value * step) / step - value) <= RELATIVE_TOLERANCE * Math.abs(value)) return decimals
  }
  return MOST_DECIMALS
}

/** The decimals of a text that stands for `value` in a unit; 0 where it is written in another way (feet and inches, fractions). */
function writtenDecimals(typed: string, value: number): number {
  const parts = partsOf(plainText(typed), false)
  if (parts?.kind !== 'number') return 0
  const number = readNumber(parts.digits)
  const [, front, behind] = /^(.*)[.,](\d+)$/.exec(parts.digits) ?? []
  if (number === null || front === undefined || behind === undefined) return 0
  const asFraction = Number(`${front.replace(/\D/g, '') || '0'}.${behind}`)
  // Of two readings the value tells which was meant; of one, whether its last sign parts a fraction or thousands.
  const meant = number.kind === 'one' ? number.value : Math.abs(value)
  const isFraction = parts.exponent !== '' || Math.abs(asFraction - meant) <= RELATIVE_TOLERANCE * Math.abs(meant)
  return isFraction ? behind.length : 0
}

/**
 * The decimals a limit was written with: 3 for "0.020" inH2O, 0 for "20", 2 for ".50" and for "50e-2". What was typed counts, so that a
 * written zero counts; where the text does not stand for the value (feet and inches, grouped thousands), the fewest decimals that write
 * the value.
 */
export function digitsOfLimit(si: number, typed: string, unit: Unit): LimitDigits {
  const value = fromSi(si, unit)
  const least = decimalsOf(value)
  const parts = partsOf(plainText(typed), false)
  const shift = parts?.kind === 'number' && parts.exponent !== '' ? Number(parts.exponent) : 0
  const written = writtenDecimals(typed, value) - shift
  return { unit, decimals: Math.min(MOST_DECIMALS, Math.max(least, written)) }
}

/**
 * Rounds an SI value to the limit's digits in the limit's unit, halves away from zero; a value within 1e-9 relative of a half
 * counts as the half. Returns SI.
 */
export function roundToLimit(si: number, digits: LimitDigits): number {
  const step = 10 ** digits.decimals
  const scaled = Math.abs(fromSi(si, digits.unit)) * step
  const sign = fromSi(si, digits.unit) < 0 ? -1 : 1
  return toSi((sign * Math.floor(scaled + 0.5 + RELATIVE_TOLERANCE * Math.max(1, scaled))) / step, digits.unit)
}
