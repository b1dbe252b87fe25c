import type { Message } from '#core/messages/say.ts'
import type { Dimension, Entered, Unit } from '#core/model/values.ts'
import { LARGEST_IN_UNIT } from './largest.ts'
import { readNumber } from './number-text.ts'
import { type Spelling, spelledUnit } from './spellings.ts'
import { hasOddDigit, inchesOf, type Parts, partsOf, plainText } from './typed-text.ts'
import { dimensionOf, fromSi, toSi, toSiDifference, unitLabel } from './units.ts'

export type ParseProblem = Extract<Message, { code: `units.${string}` }>
export type ParsedEntry = { readonly ok: true; readonly value: Entered } | { readonly ok: false; readonly problem: ParseProblem }

/** A place on a scale, or a difference of two (a step, an uncertainty): in °F the two convert differently. */
export type EnteredAs = 'value' | 'difference'

/**
 * What a field asks for. `largestSi`: the largest magnitude that can be meant there, where that is another than what can be meant in the
 * unit at all, such as for an altitude.
 */
export type EntryAsked = { readonly as?: EnteredAs | undefined; readonly largestSi?: number | undefined }

/** Entries longer than this are refused; the same limit as the schema of {@link Entered}. */
const MOST_CHARACTERS = 40

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

/** Reads one entry, once its text is plain. */
class Reading {
  readonly #typed: string
  readonly #fallbackUnit: Unit
  readonly #expected: Dimension
  readonly #convert: (value: number, unit: Unit) => number
  readonly #largestSi: number | undefined

  constructor(typed: string, fallbackUnit: Unit, { as = 'value', largestSi }: EntryAsked) {
    this.#typed = typed
    this.#fallbackUnit = fallbackUnit
    this.#expected = dimensionOf(fallbackUnit)
    this.#convert = as === 'difference' ? toSiDifference : toSi
    this.#largestSi = largestSi
  }

  of(parts: Parts): ParsedEntry {
    const { negative } = parts
    if (parts.kind === 'feet_and_inches') return this.#feetAndInches(parts)
    if (parts.kind === 'number' && /^[.,' ]+$/.test(parts.suffix)) return this.#notANumber()
    const unit = unitOf(parts.suffix, this.#fallbackUnit)
    if ('code' in unit) return refuse(unit)
    if (parts.kind === 'number') return this.#number(negative, parts.digits, unit, parts.exponent)
    return this.#expected === 'length' ? this.#accept(negative, parts.value * unit.times, unit.unit) : this.#notANumber()
  }

  #notANumber(): ParsedEntry {
    return refuse({ code: 'units.not_a_number', params: { typed: this.#typed.trim() } })
  }

  #accept(negative: boolean, magnitude: number, unit: Unit): ParsedEntry {
    const si = this.#convert(negative ? -magnitude : magnitude, unit)
    if (!Number.isFinite(si)) return this.#notANumber()
    return { ok: true, value: { si: si === 0 ? 0 : si, typed: this.#typed, unit } }
  }

  #canBe(magnitude: number, unit: Unit): boolean {
    return magnitude <= (this.#largestSi === undefined ? LARGEST_IN_UNIT[unit] : Math.abs(fromSi(this.#largestSi, unit)))
  }

  #number(negative: boolean, digits: string, { unit, times }: Spelling, exponent = ''): ParsedEntry {
    const number = readNumber(digits)
    if (!number) return this.#notANumber()
    if (number.kind === 'one') {
      if (digits.includes(' ') && !this.#canBe(number.value * times, unit)) {
        return refuse({ code: 'units.two_numbers', params: { typed: this.#typed.trim() } })
      }
      return this.#accept(negative, Number(`${number.value}e${exponent || '0'}`) * times, unit)
    }
    // A number with an exponent has one to three digits before its decimal sign and is never grouped.
    if (exponent !== '') return this.#accept(negative, Number(`${number.asFraction}e${exponent}`) * times, unit)
    if (!this.#canBe(number.asWhole * times, unit)) return this.#accept(negative, number.asFraction * times, unit)
    const params = { typed: this.#typed.trim(), whole: String(number.asWhole), fraction: `${digits}0` }
    return refuse({ code: 'units.ambiguous', params })
  }

  #feetAndInches({ negative, feet: feetText, inches: inchesText, likeGroups }: Extract<Parts, { kind: 'feet_and_inches' }>): ParsedEntry {
    if (this.#expected !== 'length') {
      return refuse({ code: 'units.other_dimension', params: { given: unitLabel('ft'), example: unitLabel(this.#fallbackUnit) } })
    }
    if (inchesText === '') return this.#number(negative, feetText, { unit: 'ft', times: 1 })
    const feet = Number(feetText.replace(',', '.'))
    const inches = inchesOf(inchesText)
    if (!Number.isInteger(feet) || !(inches < 12)) {
      // Where metres are typed, 600 behind the mark are no inches, and the mark parts the thousands.
      const inMetres = this.#fallbackUnit === 'm' || this.#fallbackUnit === 'mm'
      if (likeGroups && inMetres && !/["i]/.test(this.#typed)) {
        return this.#number(negative, `${feetText}'${inchesText}`, { unit: this.#fallbackUnit, times: 1 })
      }
      return refuse({ code: 'units.inches_too_many', params: { typed: this.#typed.trim() } })
    }
    if (likeGroups) {
      const params = { typed: this.#typed.trim(), whole: `${feetText}${inchesText}`, feet: `${feet}' ${inches}"` }
      return refuse({ code: 'units.feet_or_thousands', params })
    }
    return this.#accept(negative, feet + inches / 12, 'ft')
  }
}

/**
 * Reads what a person typed: a number alone (then in `fallbackUnit`) or with a unit of the same dimension, in any spelling of
 * {@link spelledUnit}; lengths also as feet and inches (7' 6", 7 ft 6 1/2 in). Decimal comma and point, thousands groups,
 * typographic minus and spaces are understood. The text is kept verbatim beside the SI value; `unit` is the one it was typed
 * in, or the nearest one of the program (ft/s is kept as typed, under ft/min).
 *
 * Refused, with a sentence: no number, an unknown unit or one of another dimension, more than 40 characters, a raised digit in the
 * number ("0.45²"), and what can be read in two ways: "1,234" m3/h, unless one of the two lies beyond what anybody writes in the
 * unit or can mean in this field; "1'005" where a length is asked for; "92 100" ft/min, which is two numbers or one that does not exist.
 */
export function parseEntered(text: string, fallbackUnit: Unit, asked: EntryAsked = {}): ParsedEntry {
  if (hasOddDigit(text)) return refuse({ code: 'units.raised_digit', params: { typed: text.trim() } })
  return parsePlain(text, fallbackUnit, asked)
}

function parsePlain(text: string, fallbackUnit: Unit, asked: EntryAsked): ParsedEntry {
  const plain = plainText(text)
  if (plain === '') return refuse({ code: 'units.empty', params: {} })
  if (text.length > MOST_CHARACTERS) return refuse({ code: 'units.too_long', params: { most: MOST_CHARACTERS } })
  const parts = partsOf(plain, dimensionOf(fallbackUnit) === 'length')
  if (!parts) return refuse({ code: 'units.not_a_number', params: { typed: text.trim() } })
  return new Reading(text, fallbackUnit, asked).of(parts)
}

/**
 * Everything that a stored text may stand for, in SI: one value, two where it can be read in two ways, none where it is no number.
 * Earlier programs took more texts than {@link parseEntered} does, and what they wrote has to hold for ever.
 */
export function readingsOf(typed: string, unit: Unit, as: EnteredAs): readonly number[] {
  const read = parsePlain(typed, unit, { as })
  if (read.ok) return [read.value.si]
  const sign = /^\s*[-\u2212]/.test(typed) ? -1 : 1
  const convert = as === 'difference' ? toSiDifference : toSi
  const of = (digits: string) => convert(sign * Number(digits), unit)
  switch (read.problem.code) {
    case 'units.ambiguous':
      return [of(read.problem.params.whole), of(read.problem.params.fraction.replace(',', '.'))]
    case 'units.feet_or_thousands': {
      const feet = parsePlain(read.problem.params.feet, unit, { as })
      return feet.ok ? [of(read.problem.params.whole.replace(',', '.')), sign * feet.value.si] : []
    }
    case 'units.two_numbers': {
      const whole = parsePlain(typed, unit, { as, largestSi: Number.POSITIVE_INFINITY })
      return whole.ok ? [whole.value.si] : []
    }
    default:
      return []
  }
}

/** Whether an entry names its unit itself ("92 fpm", 7' 6"), so that none has to be printed behind it. */
export function namesItsUnit({ typed, unit }: Pick<Entered, 'typed' | 'unit'>): boolean {
  // An entry in feet whose inches have three digits ("1'005") comes from an earlier program, which read it so.
  const parts = partsOf(plainText(typed), unit === 'ft')
  return parts !== null && (parts.kind === 'feet_and_inches' || parts.suffix !== '')
}
