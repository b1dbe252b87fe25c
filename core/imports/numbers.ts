import type { Message } from '#core/messages/say.ts'
import type { Entered, Unit } from '#core/model/values.ts'
import { readNumber } from '#core/units/number-text.ts'
import { parseEntered } from '#core/units/parse.ts'
import { toSi } from '#core/units/units.ts'

export type Decimal = 'point' | 'comma' | null
export type NumberProblem = Extract<Message, { code: `units.${string}` | `import.${string}` }>
export type ReadNumber = { readonly ok: true; readonly value: Entered } | { readonly ok: false; readonly problem: NumberProblem }

const PLAIN = { point: /^[-+]?(?:\d+\.?\d*|\.\d+)(?:e[-+]?\d{1,2})?$/i, comma: /^[-+]?(?:\d+,?\d*|,\d+)(?:e[-+]?\d{1,2})?$/i } as const
const GROUPED = { point: /^[-+]?[1-9]\d{0,2}(?:,\d{3})+(?:\.\d+)?$/, comma: /^[-+]?[1-9]\d{0,2}(?:\.\d{3})+(?:,\d+)?$/ } as const
const ONLY_NUMBER = /^[-+]?[\d.,]+$/
/** Groups of thousands parted by a space or an apostrophe, and what follows them. */
const GROUPED_BY_GAP = /^\s*[-+\u2212]?\s*([1-9]\d{0,2}(?:[\s'\u2019]\d{3})+(?:[.,]\d+)*)(?!\d)/

/** As many characters as a reading keeps of what was typed. */
const MOST_CHARACTERS = 40

/**
 * Reads one value of a file in `unit`, or in the unit behind it. With a stated decimal sign "1,234" is one thing only, and a number that
 * uses the other sign is refused; without one, a number that can be read in two ways is refused with a sentence
 * ({@link parseEntered}). The text is kept as it stands in the file. SI values are finite.
 */
export function readImported(cell: string, decimal: Decimal, unit: Unit): ReadNumber {
  if (decimal === null) return parseEntered(cell, unit)
  if (cell.length <= MOST_CHARACTERS && PLAIN[decimal].test(cell)) return accept(cell, cell, decimal, unit)
  if (cell.length <= MOST_CHARACTERS && GROUPED[decimal].test(cell)) {
    return accept(cell, decimal === 'point' ? cell.replaceAll(',', '') : cell.replaceAll('.', ''), decimal, unit)
  }
  if (ONLY_NUMBER.test(cell) && /\d/.test(cell))
    return { ok: false, problem: { code: 'import.other_decimal', params: { typed: cell, decimal } } }
  // A unit stands behind the number, a typographic minus before it, and the like; the stated sign goes on to decide.
  const number = GROUPED_BY_GAP.exec(cell)?.[1] ?? /^\s*[-+\u2212]?\s*([\d.,]*\d)/.exec(cell)?.[1] ?? ''
  const ungapped = number.replace(/[\s'\u2019]/g, '')
  if (ungapped !== '' && !PLAIN[decimal].test(ungapped) && (ungapped !== number || !GROUPED[decimal].test(number))) {
    return { ok: false, problem: { code: 'import.other_decimal', params: { typed: cell, decimal } } }
  }
  const inPoints = decimal === 'comma' ? number.replaceAll('.', '').replace(',', '.') : number.replaceAll(',', '')
  // Four figures behind the sign or more keep "1.234" from being taken for a group of thousands, and "1.20" from becoming one.
  const certain = inPoints.includes('.') ? `${inPoints}000` : inPoints
  const read = parseEntered(cell.replace(number, certain), unit)
  return read.ok ? { ok: true, value: { ...read.value, typed: cell } } : read
}

function accept(typed: string, number: string, decimal: 'point' | 'comma', unit: Unit): ReadNumber {
  const value = Number(decimal === 'comma' ? number.replace(',', '.') : number)
  const si = toSi(value, unit)
  if (!Number.isFinite(si)) return { ok: false, problem: { code: 'units.not_a_number', params: { typed } } }
  return { ok: true, value: { si: si === 0 ? 0 : si, typed, unit } }
}

/**
 * The decimal sign that numbers of one column prove, from those that can be read in one way only; null where none does, or where they
 * contradict each other.
 */
export function provenDecimal(cells: readonly string[]): Decimal {
  const signs = new Set<Decimal>()
  for (const cell of cells) {
    const number = /^\s*[-+\u2212]?\s*([\d.,]*\d)/.exec(cell)?.[1] ?? ''
    const marks = number.match(/[.,]/g) ?? []
    const last = marks.at(-1)
    if (last === undefined || readNumber(number)?.kind !== 'one') continue
    // Several marks of one kind part groups of thousands, so the decimal sign is the other one.
    const onlyGroups = marks.length > 1 && marks.every((mark) => mark === last)
    signs.add((last === '.') !== onlyGroups ? 'point' : 'comma')
  }
  const [sign] = signs
  return signs.size === 1 ? (sign ?? null) : null
}
