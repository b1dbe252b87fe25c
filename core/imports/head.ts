import { type Spelling, spelledUnit } from '#core/units/spellings.ts'
import { dimensionOf } from '#core/units/units.ts'

/** The cells of one row of a delimited file. */
export type Cells = readonly string[]

/** How far down a file its head is looked for, in rows. */
export const HEAD_WITHIN_ROWS = 200

const NUMBER = /^[-+\u2212]?\d[\d.,' ]*(?:e[-+]?\d+)?(?:\s*[^\d\s].{0,12})?$/i
const HAS_LETTER = /\p{L}/u

/** Cells of a head in the form in which two heads are compared: without regard to case and blanks, empty cells at the end left out. */
export function signatureOf(cells: Cells): string[] {
  const plain = cells.map((cell) => cell.normalize('NFKC').trim().toLowerCase().replace(/\s+/g, ' ').slice(0, 200))
  while (plain.length > 0 && plain.at(-1) === '') plain.pop()
  return plain
}

/** Whether two heads are of one kind of file. */
export function sameHead(a: Cells, b: Cells): boolean {
  const [one, other] = [signatureOf(a), signatureOf(b)]
  return one.length === other.length && one.every((cell, index) => cell === other[index])
}

/** A row with nothing in it. */
export function isBlank(cells: Cells): boolean {
  return cells.every((cell) => cell.trim() === '')
}

/** Whether a row can hold a reading: at least one of its cells is a number, with or without a unit behind it. */
export function looksLikeData(cells: Cells): boolean {
  return cells.some((cell) => NUMBER.test(cell.trim()))
}

function widthOf(cells: Cells): number {
  return signatureOf(cells).length
}

/** The longest run of rows of data that have the same number of columns; blank rows within it do not end it. */
function longestRun(rows: readonly Cells[]): { readonly start: number; readonly length: number } {
  let best = { start: 0, length: 0 }
  let start = 0
  while (start < rows.length) {
    const width = rows[start]?.length ?? 0
    let length = 0
    let end = start
    for (; end < rows.length; end += 1) {
      const cells = rows[end] ?? []
      if (length > 0 && isBlank(cells)) continue
      if (cells.length !== width || !looksLikeData(cells)) break
      length += 1
    }
    if (length > best.length) best = { start, length }
    start = Math.max(end, start + 1)
  }
  return best
}

/**
 * The row of the head, counted from 1, wherever it stands: the last row of words, more of them than of numbers, before the longest run of rows
 * of data that have the same number of columns. Null where readings begin without a head.
 */
export function findHead(rows: readonly Cells[]): number | null {
  const best = longestRun(rows)
  if (best.length === 0) return null
  const width = rows[best.start]?.length ?? 0
  for (let row = best.start - 1; row >= 0; row -= 1) {
    const cells = rows[row] ?? []
    if (isBlank(cells)) continue
    const numbers = cells.filter((cell) => NUMBER.test(cell.trim())).length
    const words = cells.filter((cell) => HAS_LETTER.test(cell) && !NUMBER.test(cell.trim())).length
    if (numbers > 0 && numbers >= words) continue
    return words > 0 && cells.length <= width && widthOf(cells) > width / 2 ? row + 1 : null
  }
  return null
}

/** The row at which a known head stands in a file, counted from 1; null where it does not. */
export function whereHeadStands(rows: readonly Cells[], header: Cells): number | null {
  const at = rows.slice(0, HEAD_WITHIN_ROWS).findIndex((cells) => sameHead(cells, header))
  return at < 0 ? null : at + 1
}

/**
 * The unit that a head's cell names, with the text it is written in: in brackets ("Velocity [m/s]"), or as the last word where that can
 * be nothing else ("Velocity fpm"). Null when there is none that the program knows.
 */
export function unitInHead(cell: string): (Spelling & { readonly text: string }) | null {
  const plain = cell.normalize('NFKC').trim()
  const bracketed = /[[(]\s*([^\][()]+?)\s*[\])]\s*$/.exec(plain)?.[1]
  if (bracketed !== undefined) {
    const spelled = spelledUnit(bracketed)
    return spelled ? { ...spelled, text: bracketed } : null
  }
  const last = plain.split(/[\s_:;,]+/).at(-1) ?? ''
  if (last === plain) return null
  const spelled = spelledUnit(last)
  const plainly = spelled && ['velocity', 'flow', 'pressure'].includes(dimensionOf(spelled.unit))
  return plainly ? { ...spelled, text: last } : null
}
