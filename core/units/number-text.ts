/** A written number: one value, or the two that it may stand for, or null when it is none. */
export type NumberText =
  | { readonly kind: 'one'; readonly value: number }
  | { readonly kind: 'two'; readonly asFraction: number; readonly asWhole: number; readonly separator: '.' | ',' }

const GROUPED_BY_GAP = /^[1-9]\d{0,2}(?:[\s']\d{3})+(?:[.,]\d+)?$/
const GROUPED_THEN_FRACTION = /^[1-9]\d{0,2}(?:(?:\.\d{3})+,\d+|(?:,\d{3})+\.\d+)$/
const GROUPED_TWICE = /^[1-9]\d{0,2}(?:(?:\.\d{3}){2,}|(?:,\d{3}){2,})$/
const ONE_SEPARATOR = /^(\d*)([.,])(\d+)$/

/**
 * Reads digits with a decimal sign and thousands separators, without a sign in front. Decimal comma and decimal point are both
 * understood, and so are groups of three by space, apostrophe, point or comma. Exactly one point or comma with exactly three
 * digits behind it and one to three in front ("1.234", "12,500") can be either; both values are given back and the caller
 * decides. A leading zero cannot begin a group, so "0,450" is a fraction. Null when the text is no number.
 */
export function readNumber(text: string): NumberText | null {
  if (/^\d+$/.test(text)) return { kind: 'one', value: Number(text) }
  if (GROUPED_BY_GAP.test(text)) return { kind: 'one', value: Number(text.replace(/[\s']/g, '').replace(',', '.')) }
  if (GROUPED_TWICE.test(text)) return { kind: 'one', value: Number(text.replace(/[.,]/g, '')) }
  if (GROUPED_THEN_FRACTION.test(text)) {
    const fractionAt = Math.max(text.lastIndexOf('.'), text.lastIndexOf(','))
    return { kind: 'one', value: Number(`${text.slice(0, fractionAt).replace(/[.,]/g, '')}.${text.slice(fractionAt + 1)}`) }
  }
  const [, front, separator, behind] = ONE_SEPARATOR.exec(text) ?? []
  if (front === undefined || separator === undefined || behind === undefined) return null
  const asFraction = Number(`${front}.${behind}`)
  if (behind.length === 3 && /^[1-9]\d{0,2}$/.test(front)) {
    return { kind: 'two', asFraction, asWhole: Number(front + behind), separator: separator === ',' ? ',' : '.' }
  }
  return { kind: 'one', value: asFraction }
}
