// Behind a feet mark inches may follow at once (7'6); behind a word only after a gap or with a mark of their own, as ft2 is an area.
const FEET_AND_INCHES =
  /^(-?)(\d+(?:[.,]\d+)?) ?(?:' ?[-,]? ?|(?:ft\.?|feet|foot)(?: ?[-,] ?| |$|(?=\d+ ?(?:"|'|in))))(?:(\d+ \d+\/\d+|\d+\/\d+|\d+(?:[.,]\d+)?) ?("|in\.?|inch(?:es)?)?)?$/i
const FRACTION = /^(-?)(?:(\d+)[ -])?(\d+)\/(\d+) ?([^\d].*)?$/
const NUMBER_AND_SUFFIX = /^(-?)((?:\d|[.,' ](?=\d))+)(?:e([+-]?\d{1,2})(?!\d))?(.*)$/i
/** Three digits right behind the mark, as in a number whose thousands are parted by an apostrophe. Nobody writes inches with three. */
const GROUP_AFTER_MARK = /^-?[1-9]\d{0,2}'\d{3}(?:[.,]\d+)?(?: ?(?:"|in\.?|inch(?:es)?))?$/i

/** What nearly every entry is, and nothing below would change. */
const PLAIN_ALREADY = /^\d+(?:[.,]\d+)?$/
const VULGAR_FRACTION = /[\u00bc-\u00be\u2150-\u215e]/g
// What Unicode calls a number that is no decimal digit: raised, lowered and circled ones.
const ODD_DIGIT_IN_A_NUMBER = /(?:^|[\d.,])\s*\p{No}/u

/**
 * Whether a raised, lowered or circled digit stands where the number is: "0.45²" may be a square or a slip, and is not 0.452. Within a
 * unit (m³/h, inH₂O) they belong.
 */
export function hasOddDigit(text: string): boolean {
  return !PLAIN_ALREADY.test(text) && ODD_DIGIT_IN_A_NUMBER.test(text.replace(VULGAR_FRACTION, ' '))
}

/** Typographic variants brought to one plain form: signs, primes, spaces, vulgar fractions, wide and raised digits. */
export function plainText(text: string): string {
  if (PLAIN_ALREADY.test(text)) return text
  return (
    text
      .replace(VULGAR_FRACTION, ' $&')
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

export type Parts =
  | {
      readonly kind: 'feet_and_inches'
      readonly negative: boolean
      readonly feet: string
      readonly inches: string
      /** written like a whole number with an apostrophe between its groups: "1'005" */
      readonly likeGroups: boolean
    }
  | { readonly kind: 'fraction'; readonly negative: boolean; readonly value: number; readonly suffix: string }
  | { readonly kind: 'number'; readonly negative: boolean; readonly digits: string; readonly exponent: string; readonly suffix: string }

/** Takes a plain text apart; null where it begins like no number. `lengthExpected` lets a lone mark be one of feet. */
export function partsOf(plain: string, lengthExpected: boolean): Parts | null {
  const feet = FEET_AND_INCHES.exec(plain)
  // Where no length is asked for, 1'234 is a whole number with an apostrophe between its groups, and 5 ft 2 an area.
  if (feet && (lengthExpected || feet[4] !== undefined || /^-?\d{1,2}'(?: |$|\d{1,2}$)/.test(plain))) {
    const likeGroups = GROUP_AFTER_MARK.test(plain)
    return { kind: 'feet_and_inches', negative: feet[1] === '-', feet: feet[2] ?? '', inches: feet[3] ?? '', likeGroups }
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

/** Inches as written behind feet: "6", "6,5", "6 1/2", "1/2". */
export function inchesOf(text: string): number {
  const [whole, over] = text.includes(' ') ? text.split(' ') : text.includes('/') ? ['0', text] : [text, '0/1']
  const [upper, lower] = (over ?? '0/1').split('/')
  return Number((whole ?? '0').replace(',', '.')) + Number(upper) / Number(lower)
}
