import type { Message } from '#core/messages/say.ts'
import type { Dimension, Entered, Unit } from '#core/model/values.ts'
import { readNumber } from './number-text.ts'
import { type Spelling, spelledUnit } from './spellings.ts'
import { dimensionOf, toSi, toSiDifference, unitLabel } from './units.ts'

export type ParseProblem = Extract<Message, { code: `units.${string}` }>
export type ParsedEntry = { readonly ok: true; readonly value: Entered } | { readonly ok: false; readonly problem: ParseProblem }

/** A place on a scale, or a difference of two (a step, an uncertainty): in °F the two convert differently. */
export type EnteredAs = 'value' | 'difference'

/** Entries longer than this are refused; the same limit as the schema of {@link Entered}. */
const MOST_CHARACTERS = 40

/**
 * The largest magnitude, in SI, that a value of the trade can have: generous bounds, for one purpose only. Of the two readings
 * of "1.234" the whole one is struck out when it lies beyond its bound (1234 m/s of air, a ceiling 1234 m high); when both can
 * be, the entry is refused, since a wrong guess would be off by a factor of 1000.
 */
const LARGEST_IN_SI: Readonly<Record<Dimension, number>> = {
  velocity: 60,
  flow: 300,
  length: 100,
  area: 900,
  volume: 1_000_000,
  pressure: 120_000,
  temperature: 150,
  percent: 999,
  air_change_rate: 5000,
  duration: 100_000,
}

// Behind a feet mark inches may follow at once (7'6); behind a word only after a gap or with a mark of their own, as ft2 is an area.
const FEET_AND_INCHES =
  /^(-?)(\d+(?:[.,]\d+)?) ?(?:' ?[-,]? ?|(?:ft\.?|feet|foot)(?: ?[-,] ?| |$|(?=\d+ ?(?:"|'|in))))(?:(\d+ \d+\/\d+|\d+\/\d+|\d+(?:[.,]\d+)?) ?("|in\.?|inch(?:es)?)?)?$/i
const FRACTION = /^(-?)(?:(\d+)[ -])?(\d+)\/(\d+) ?([^\d].*)?$/
const NUMBER_AND_SUFFIX = /^(-?)((?:\d|[.,' ](?=\d))+)(?:e([+-]?\d{1,2})(?!\d))?(.*)$/i

/** What nearly every entry is, and nothing below would change. */
const PLAIN_ALREADY = /^\d+(?:[.,]\d+)?$/

/** Typographic variants brought to one plain form: signs, primes, spaces, vulgar fractions, wide and raised digits. */
function plainText(text: string): string {
  if (PLAIN_ALREADY.test(text)) return text
  return (
    text
      .replace(/[\u00bc-\u00be\u2150-\u215e]/g, ' $&')
      .replace(/[\u2032\u2018\u2019\u00b4`]/g, "'")
      .replace(/[\u2033\u201c\u201d]|''/g, '"')
      .normalize('NFKC')
      .replace(/\u2044/g, '/')
      .replace(/[\u2212\u2013\u2010\u2011]/g, '-')
      .replace(/\s+/g, ' ')
      .trim()
      .replace(/^\+ ?/, '')
      .replace(/^- /, '-')
      // "20 1/h" is the unit spelled out; in "21/h" the 1 belongs to the number.
      .replace(/(?<=\d) 1 ?\/ ?(?:h|hr|hour)$/i, ' /h')
  )
}

type Parts =
  | { readonly kind: 'feet_and_inches'; readonly negative: boolean; readonly feet: string; readonly inches: string }
  | { readonly kind: 'fraction'; readonly negative: boolean; readonly value: number; readonly suffix: string }
  | { readonly kind: 'number'; readonly negative: boolean; readonly digits: string; readonly exponent: string; readonly suffix: string }

function partsOf(plain: string, lengthExpected: boolean): Parts | null {
  const feet = FEET_AND_INCHES.exec(plain)
  // Where no length is asked for, 1'234 is a whole number with an apostrophe between its groups, and 5 ft 2 an area.
  if (feet && (lengthExpected || feet[4] !== undefined || /^-?\d{1,2}'(?: |$|\d{1,2}$)/.test(plain))) {
    return { kind: 'feet_and_inches', negative: feet[1] === '-', feet: feet[2] ?? '', inches: feet[3] ?? '' }
  }
  const fraction = FRACTION.exec(plain)
  if (fraction && Number(fraction[4]) > 0) {
    const value = Number(fraction[2] ?? 0) + Number(fraction[3]) / Number(fraction[4])
    return { kind: 'fraction', negative: fraction[1] === '-', value, suffix: (fraction[5] ?? '').trim() }
  }
  const number = NUMBER_AND_SUFFIX.exec(plain)
  if (!number) return null
  return {
    kind: 'number',
    negative: number[1] === '-',
    digits: number[2] ?? '',
    exponent: number[3] ?? '',
    suffix: (number[4] ?? '').trim(),
  }
}

function refuse(problem: ParseProblem): ParsedEntry {
  return { ok: false, problem }
}

function unitOf(suffix: string, fallbackUnit: Unit): Spelling | ParseProblem {
  const expected = dimensionOf(fallbackUnit)
  if (suffix === '' || (suffix === '°' && expected === 'temperature')) return { unit: fallbackUnit, times: 1 }
  const spelled = spelledUnit(suffix)
  const example = unitLabel(fallbackUnit)
  if (!spelled) return { code: 'units.unknown_unit', params: { suffix, example } }
  if (dimensionOf(spelled.unit) !== expected) return { code: 'units.other_dimension', params: { given: suffix, example } }
  return spelled
}

function inchesOf(text: string): number {
  const [whole, over] = text.includes(' ') ? text.split(' ') : text.includes('/') ? ['0', text] : [text, '0/1']
  const [upper, lower] = (over ?? '0/1').split('/')
  return Number((whole ?? '0').replace(',', '.')) + Number(upper) / Number(lower)
}

/**
 * Reads what a person typed: a number alone (then in `fallbackUnit`) or with a unit of the same dimension, in any spelling of
 * {@link spelledUnit}; lengths also as feet and inches (7' 6", 7 ft 6 1/2 in). Decimal comma and point, thousands groups,
 * typographic minus and spaces are understood. The text is kept verbatim beside the SI value; `unit` is the one it was typed
 * in, or the nearest one of the program (ft/s is kept as typed, under ft/min).
 *
 * Refused, with a sentence: no number, an unknown unit or one of another dimension, more than 40 characters, and a number
 * that can be read in two ways ("1,234" m3/h) unless one of the two lies beyond what the dimension can have at all.
 */
export function parseEntered(text: string, fallbackUnit: Unit, as: EnteredAs = 'value'): ParsedEntry {
  const plain = plainText(text)
  if (plain === '') return refuse({ code: 'units.empty', params: {} })
  if (text.length > MOST_CHARACTERS) return refuse({ code: 'units.too_long', params: { most: MOST_CHARACTERS } })
  const convert = as === 'difference' ? toSiDifference : toSi
  const expected = dimensionOf(fallbackUnit)
  const parts = partsOf(plain, expected === 'length')
  const notANumber = refuse({ code: 'units.not_a_number', params: { typed: text.trim() } })
  if (!parts) return notANumber

  const accept = (magnitude: number, unit: Unit): ParsedEntry => {
    const si = convert(parts.negative ? -magnitude : magnitude, unit)
    if (!Number.isFinite(si)) return notANumber
    return { ok: true, value: { si: si === 0 ? 0 : si, typed: text, unit } }
  }

  const acceptNumber = (digits: string, unit: Unit, times = 1, exponent = ''): ParsedEntry => {
    const number = readNumber(digits)
    if (!number) return notANumber
    if (number.kind === 'one') return accept(Number(`${number.value}e${exponent || '0'}`) * times, unit)
    // A number with an exponent has one to three digits before its decimal sign and is never grouped.
    if (exponent !== '') return accept(Number(`${number.asFraction}e${exponent}`) * times, unit)
    const whole = Math.abs(convert(number.asWhole * times, unit))
    if (whole > LARGEST_IN_SI[expected]) return accept(number.asFraction * times, unit)
    const params = { typed: text.trim(), whole: String(number.asWhole), fraction: `${digits}0` }
    return refuse({ code: 'units.ambiguous', params })
  }

  if (parts.kind === 'feet_and_inches') {
    if (expected !== 'length') {
      return refuse({ code: 'units.other_dimension', params: { given: unitLabel('ft'), example: unitLabel(fallbackUnit) } })
    }
    const feet = Number(parts.feet.replace(',', '.'))
    if (parts.inches === '') return acceptNumber(parts.feet, 'ft')
    const inches = inchesOf(parts.inches)
    if (!Number.isInteger(feet) || !(inches < 12)) return refuse({ code: 'units.inches_too_many', params: { typed: text.trim() } })
    return accept(feet + inches / 12, 'ft')
  }

  if (parts.kind === 'number' && /^[.,' ]+$/.test(parts.suffix)) return notANumber
  const unit = unitOf(parts.suffix, fallbackUnit)
  if ('code' in unit) return refuse(unit)
  if (parts.kind === 'fraction') return expected === 'length' ? accept(parts.value * unit.times, unit.unit) : notANumber
  return acceptNumber(parts.digits, unit.unit, unit.times, parts.exponent)
}

/** Whether an entry names its unit itself ("92 fpm", 7' 6"), so that none has to be printed behind it. */
export function namesItsUnit(typed: string): boolean {
  const parts = partsOf(plainText(typed), false)
  return parts !== null && (parts.kind === 'feet_and_inches' || parts.suffix !== '')
}
