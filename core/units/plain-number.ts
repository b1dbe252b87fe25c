import { readNumber } from './number-text.ts'
import { hasOddDigit, plainText } from './typed-text.ts'

/** What a number without a unit can be at its place, both ends included. */
export type NumberRange = { readonly least: number; readonly most: number }

/** `outside`: a number, but none that can stand there. `two`: both readings of "1,500" can. */
export type PlainNumber =
  | { readonly kind: 'one'; readonly value: number }
  | { readonly kind: 'outside' | 'none' }
  | { readonly kind: 'two'; readonly asWhole: number; readonly asFraction: number }

/**
 * Reads a number that has no unit and is known to lie in a range: a coverage factor, a multiple, a percentage. Decimal comma and point
 * are understood, and of the two readings of "1,645" the one counts that can stand there: 1.645 as a coverage factor, since 1645 is
 * none. Where both can, neither is taken.
 */
export function readPlainNumber(text: string, { least, most }: NumberRange): PlainNumber {
  if (hasOddDigit(text)) return { kind: 'none' }
  const plain = plainText(text)
  const negative = plain.startsWith('-')
  const read = readNumber(negative ? plain.slice(1) : plain)
  if (read === null) return { kind: 'none' }
  const within = (value: number) => value >= least && value <= most
  const signed = (value: number) => (negative && value !== 0 ? -value : value)
  if (read.kind === 'one') {
    const value = signed(read.value)
    return within(value) ? { kind: 'one', value } : { kind: 'outside' }
  }
  const asWhole = signed(read.asWhole)
  const asFraction = signed(read.asFraction)
  if (within(asWhole) && within(asFraction)) return { kind: 'two', asWhole, asFraction }
  if (within(asWhole)) return { kind: 'one', value: asWhole }
  return within(asFraction) ? { kind: 'one', value: asFraction } : { kind: 'outside' }
}

/** The number, or NaN where none can be taken ({@link readPlainNumber}). */
export function plainNumberOf(text: string, range: NumberRange): number {
  const read = readPlainNumber(text, range)
  return read.kind === 'one' ? read.value : Number.NaN
}
