import { keepsHigh, reachesLow } from '#core/criteria/compare-limit.ts'
import type { Message } from '#core/messages/say.ts'
import { type EnteredAs, readingsOf } from '#core/units/parse.ts'
import { dimensionOf } from '#core/units/units.ts'
import type { Dimension, Entered, Quantity } from './values.ts'

/** A broken invariant: the field as a path with points ("senses.0.low"), and the sentence to show there. */
export type RuleProblem = { readonly field: string } & Extract<Message, { code: `rule.${string}` }>

/** What a reading of each quantity is, in dimension. */
export const DIMENSION_OF_QUANTITY: Readonly<Record<Quantity, Dimension>> = {
  velocity: 'velocity',
  flow: 'flow',
  pressure_difference: 'pressure',
  velocity_pressure: 'pressure',
  temperature: 'temperature',
  relative_humidity: 'percent',
  barometric_pressure: 'pressure',
}

/**
 * An entered value at its field: of the dimension that the field asks for, its text saying the same as its SI value (for a text
 * that can be read in two ways: one of the two), and above or not below zero where asked.
 */
export function checkEntered(
  field: string,
  entered: Entered | null,
  dimension: Dimension,
  least: 'any' | 'above_zero' | 'not_below_zero' = 'any',
  as: EnteredAs = 'value',
): RuleProblem[] {
  if (entered === null) return []
  if (dimensionOf(entered.unit) !== dimension) {
    return [{ field, code: 'rule.dimension', params: { expected: dimension, given: entered.unit } }]
  }
  if (!saysTheSame(entered, as)) {
    return [{ field, code: 'rule.typed_differs', params: { typed: entered.typed, si: entered.si, dimension } }]
  }
  if (least === 'above_zero' && !(entered.si > 0)) return [{ field, code: 'rule.above_zero', params: {} }]
  if (least === 'not_below_zero' && !(entered.si >= 0)) return [{ field, code: 'rule.not_below_zero', params: {} }]
  return []
}

/**
 * An entered difference (a step, a half width, an uncertainty) at its field. One whose SI value was reckoned as a place on the scale,
 * which only a temperature in °F shows, has a rule of its own: earlier programs wrote such ones.
 */
export function checkDifference(
  field: string,
  entered: Entered | null,
  dimension: Dimension,
  least: 'any' | 'above_zero' | 'not_below_zero' = 'any',
): RuleProblem[] {
  if (entered === null) return []
  const asValue = checkEntered(field, entered, dimension)
  const shifted = asValue.length === 0 && !saysTheSame(entered, 'difference')
  if (shifted) return [{ field, code: 'rule.difference_shifted', params: { typed: entered.typed } }]
  return checkEntered(field, entered, dimension, least, 'difference')
}

function saysTheSame(entered: Entered, as: EnteredAs): boolean {
  return readingsOf(entered.typed, entered.unit, as).some((si) => reachesLow(entered.si, si) && keepsHigh(entered.si, si))
}

/** Each value that stands in a list for a second time, at its own field. */
export function checkUnique(values: readonly string[], fieldOf: (index: number) => string): RuleProblem[] {
  return values.flatMap((what, index): RuleProblem[] =>
    values.indexOf(what) < index ? [{ field: fieldOf(index), code: 'rule.repeated', params: { what } }] : [],
  )
}

/** Two ends of a range, both of one dimension and in order. */
export function checkRange(field: string, low: Entered, high: Entered, dimension: Dimension): RuleProblem[] {
  const ends = [...checkEntered(`${field}low`, low, dimension), ...checkEntered(`${field}high`, high, dimension)]
  if (ends.length > 0 || low.si < high.si) return ends
  return [{ field: `${field}high`, code: 'rule.low_not_below_high', params: {} }]
}
