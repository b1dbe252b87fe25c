import { closeSync, fstatSync, openSync, readSync } from 'node:fs'
import path from 'node:path'
import Papa from 'papaparse'
import type { ImportLook } from '#core/api/imports.ts'
import { type Cells, HEAD_WITHIN_ROWS, isBlank, looksLikeData } from '#core/imports/head.ts'
import { proposeMapping } from '#core/imports/propose.ts'
import { message } from '#core/messages/say.ts'
import type { ImportMapping } from '#core/model/import-mapping.ts'
import { naming, problem } from '../project-file/problem.ts'
import { encodingOf, isText, TELLING_BYTES } from './encoding.ts'

type Delimiter = ImportMapping['delimiter']
const DELIMITERS: readonly Delimiter[] = ['\t', ';', ',']
/** As many rows are read for a first look. */
const LOOKED_AT = HEAD_WITHIN_ROWS + 100
const MOST_CELL_CHARACTERS = 200

/** The first rows of a file and a proposal how it is read; with a delimiter that a person chose, or the likeliest one. */
export function lookAt(file: string, delimiter: Delimiter | null): Omit<ImportLook, 'fitting'> {
  const name = path.basename(file)
  const { start, bytes } = startOf(file)
  const encoding = encodingOf(start)
  if (!isText(start, encoding)) throw problem('invalid_input', message('import.not_text', { name }), { field: 'path' })
  const text = new TextDecoder(encoding).decode(start, { stream: true })
  const whole = bytes <= start.length
  const candidates = (delimiter === null ? DELIMITERS : [delimiter]).map((candidate) => ({
    delimiter: candidate,
    rows: rowsOf(text, candidate, whole),
  }))
  const [best] = candidates.sort((a, b) => score(b.rows) - score(a.rows))
  if (!best || candidates.some(({ rows }) => rows.every(isBlank)))
    throw problem('invalid_input', message('import.file_empty', { name }), { field: 'path' })
  const stem = name
    .replace(/\.[^.]+$/, '')
    .trim()
    .slice(0, 120)
  return {
    path: file,
    name,
    bytes,
    encoding,
    rows: best.rows.map((cells) => cells.map((cell) => cell.slice(0, MOST_CELL_CHARACTERS))),
    proposed: proposeMapping(best.rows, best.delimiter, stem === '' ? name.slice(0, 120) : stem),
  }
}

function startOf(file: string): { start: Buffer; bytes: number } {
  const handle = naming(file, () => openSync(file, 'r'))
  try {
    const buffer = Buffer.alloc(TELLING_BYTES)
    const length = naming(file, () => readSync(handle, buffer, 0, TELLING_BYTES, 0))
    return { start: buffer.subarray(0, length), bytes: fstatSync(handle).size }
  } finally {
    closeSync(handle)
  }
}

function rowsOf(text: string, delimiter: Delimiter, whole: boolean): string[][] {
  const { data, meta } = Papa.parse<string[]>(text, { delimiter, preview: LOOKED_AT, skipEmptyLines: false })
  // The last row of a first part may have been cut through.
  const rows = whole || meta.truncated ? data : data.slice(0, -1)
  while (rows.length > 0 && isBlank(rows.at(-1) ?? [])) rows.pop()
  return rows
}

/** How well a delimiter parts the rows: many rows of one width, of more than one column, with numbers in them. */
function score(rows: readonly Cells[]): number {
  const widths = new Map<number, number>()
  for (const cells of rows) {
    if (cells.length > 1 && looksLikeData(cells)) widths.set(cells.length, (widths.get(cells.length) ?? 0) + 1)
  }
  const most = Math.max(0, ...widths.values())
  // Where one width is as frequent as another delimiter's, more columns say more: "1;0,45" parts at the comma, too, but less well.
  const width = Math.max(0, ...[...widths].filter(([, count]) => count === most).map(([columns]) => columns))
  return most + width / 1000
}
