import type { ImportColumns, ImportMapping } from '#core/model/import-mapping.ts'
import { type Cells, findHead, isBlank, signatureOf, unitInHead } from './head.ts'
import { provenDecimal } from './numbers.ts'
import { proposedFormat } from './times.ts'

type Use = keyof ImportColumns

/** Words that heads of columns begin or end with in the trade and in loggers' files (common practice), in the order they are looked for. */
const WORDS: readonly (readonly [Use, RegExp])[] = [
  ['instrument', /\b(serial|instrument|probe|logger|sensor)\b/],
  ['unit', /^units?$/],
  ['quantity', /^(quantity|parameter|measurand)$/],
  ['date', /^date$/],
  ['time', /\b(time ?stamp|date ?time|date and time|time|recorded at)\b/],
  ['sample', /\b(sample|repeat|replicate)\b/],
  ['point', /\b(point|position|pt)\b/],
  ['terminal', /\b(terminal|tag|filter|diffuser|grille|opening|outlet|ffu)\b/],
  ['value', /\b(value|reading|velocity|speed|flow|volume|pressure|measured)\b/],
]

const NONE: ImportColumns = {
  value: 1,
  terminal: null,
  point: null,
  sample: null,
  unit: null,
  quantity: null,
  date: null,
  time: null,
  instrument: null,
}

/** How a file whose first rows are these is most likely read: a proposal that a person looks through before anything is kept. */
export function proposeMapping(rows: readonly Cells[], delimiter: ImportMapping['delimiter'], name: string): ImportMapping {
  const headerRow = findHead(rows)
  return proposeFor(rows, delimiter, name, headerRow)
}

/** The same where a person has said in which row the head stands. */
export function proposeFor(
  rows: readonly Cells[],
  delimiter: ImportMapping['delimiter'],
  name: string,
  headerRow: number | null,
): ImportMapping {
  const head = headerRow === null ? [] : (rows[headerRow - 1] ?? [])
  const data = rows.slice(headerRow ?? 0).filter((cells) => !isBlank(cells))
  const columns = columnsByHead(head, data)
  const times = timesOf(data, columns)
  return {
    name,
    delimiter,
    headerRow,
    header: head.length === 0 ? [] : signatureOf(head),
    decimal: provenDecimal(textsOf(data, columns.value)),
    columns,
    unit: unitInHead(head[columns.value - 1] ?? '')?.unit ?? null,
    quantity: null,
    timeFormat: proposedFormat(times),
    note: '',
  }
}

function textsOf(data: readonly Cells[], column: number | null): string[] {
  return column === null ? [] : data.map((cells) => cells[column - 1]?.trim() ?? '')
}

/** The times of rows of data as they stand in a file, date and time together where they stand in two columns. */
export function timesOf(data: readonly Cells[], { date, time }: Pick<ImportColumns, 'date' | 'time'>): string[] {
  const clock = textsOf(data, time)
  return date === null ? clock : textsOf(data, date).map((day, row) => `${day} ${clock[row] ?? ''}`.trim())
}

function columnsByHead(head: Cells, data: readonly Cells[]): ImportColumns {
  const columns = { ...NONE }
  const taken = new Set<number>()
  let value: number | null = null
  const plain = signatureOf(head).map((cell) =>
    cell
      .replace(/[[(].*$/, '')
      .replace(/[_.:/-]+/g, ' ')
      .trim(),
  )
  for (const [use, words] of WORDS) {
    const at = plain.findIndex((cell, index) => !taken.has(index) && words.test(cell))
    if (at < 0) continue
    taken.add(at)
    if (use === 'value') value = at + 1
    else columns[use] = at + 1
  }
  const width = Math.max(head.length, ...data.slice(0, 50).map((cells) => cells.length), 1)
  const open = Array.from({ length: width }, (_, index) => index).filter((index) => !taken.has(index))
  const share = (index: number, fits: (text: string) => boolean) =>
    data.length > 0 && data.slice(0, 50).every((cells) => fits(cells[index]?.trim() ?? ''))
  if (columns.time === null && columns.date === null) {
    const time = open.find((index) => share(index, (text) => /\d[:]\d\d/.test(text)))
    if (time !== undefined) {
      columns.time = time + 1
      open.splice(open.indexOf(time), 1)
    }
  }
  // Without a word for it, the last column of numbers is what was measured.
  value ??= (open.findLast((index) => share(index, (text) => /^[-+\u2212]?[\d.,]*\d/.test(text))) ?? open.at(-1) ?? 0) + 1
  return { ...columns, value }
}
