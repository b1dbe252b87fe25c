import { readFileSync } from 'node:fs'
import path from 'node:path'
import type { ImportedRow, ImportOrder, ImportOutcome, ImportProblem } from '#core/api/imports.ts'
import { type Cells, HEAD_WITHIN_ROWS, isBlank, whereHeadStands } from '#core/imports/head.ts'
import { laidInOrder, RowPlacer } from '#core/imports/placing.ts'
import { type Placed, placesOf } from '#core/imports/target.ts'
import type { LaidRows } from '#core/imports/time-order.ts'
import { type Message, message } from '#core/messages/say.ts'
import type { Sentence } from '#core/model/results.ts'
import { addRow, type ImportedRows, noRows } from '../../import/imported-rows.ts'
import { type RowsWatch, readRows } from '../../import/rows.ts'
import { ATTACHMENT_CAP_BYTES, sha256Of } from '../../project-file/attachments.ts'
import { problem } from '../../project-file/problem.ts'
import type { Stores } from '../../project-file/stores.ts'
import type { Session } from '../session.ts'
import { type GatheredTarget, gatherTarget, type TargetInstrument, type TargetRun } from './target.ts'

const MOST_PROBLEMS = 1000
const MOST_PREVIEW = 2000

/** A file read from end to end: what would be written, and what is told of it. Plain data, to be handed from thread to thread. */
export type GatheredImport = {
  readonly outcome: ImportOutcome
  readonly rows: ImportedRows
  readonly runs: readonly TargetRun[]
  readonly instruments: readonly TargetInstrument[]
  readonly ownerId: string
}

/** Reads every row of a file against the project. Writes nothing; null when it was cancelled. */
export async function readImport(session: Session, order: ImportOrder, nowMs: number, watch: RowsWatch): Promise<GatheredImport | null> {
  const gathered = gatherTarget(session, order, nowMs)
  const read = await readInOrder(order, gathered, watch)
  if (!read) return null
  const { reader, facts } = read
  const earlier = earlierImports(session.stores, facts)
  const outcome: ImportOutcome = {
    imported: false,
    refused: reader.refusal(),
    name: path.basename(order.path),
    ...facts,
    keptWhole: facts.bytes <= ATTACHMENT_CAP_BYTES,
    ...reader.told(),
    notes: reader.notes(),
    earlier,
  }
  return { outcome, rows: reader.rows, runs: gathered.runs, instruments: gathered.instruments, ownerId: gathered.ownerId }
}

type Facts = { readonly bytes: number; readonly sha256: string }

/** Goes through the file once; and once more where its rows have to be laid in another order than they stand in. */
async function readInOrder(
  order: ImportOrder,
  gathered: GatheredTarget,
  watch: RowsWatch,
): Promise<{ reader: FileReader; facts: Facts } | null> {
  const { mapping } = order
  const passes = laidInOrder(mapping) ? 2 : 1
  const go = async (reader: FileReader, pass: number): Promise<Facts | null> => {
    const progress = (share: number) => watch.progress((pass + share) / passes)
    const facts = await readRows(order.path, mapping.delimiter, { ...watch, progress }, (rows, first) => reader.take(rows, first))
    if (!facts) return null
    refuseOther(order, facts.sha256)
    reader.end()
    return facts
  }
  const reader = new FileReader(order, gathered)
  const facts = await go(reader, 0)
  const laid = facts && reader.laidByTime()
  if (!facts || !laid) return facts && { reader, facts }
  const second = new FileReader(order, gathered, laid)
  const again = await go(second, 1)
  if (!again) return null
  if (again.sha256 !== facts.sha256) throw problem('conflict', message('import.file_changed', { name: path.basename(order.path) }))
  return { reader: second, facts }
}

function refuseOther({ seen, path: file }: ImportOrder, sha256: string): void {
  if (seen !== null && seen !== sha256)
    throw problem('conflict', message('import.file_changed', { name: path.basename(file) }), { field: 'seen' })
}

class FileReader {
  readonly rows = noRows()
  readonly #order: ImportOrder
  readonly #gathered: GatheredTarget
  /** rows that come before the head is known */
  #start: Cells[] | null = []
  #placer: RowPlacer | null = null
  #headRow = 0
  #data = 0
  #problemRows = 0
  readonly #problems: ImportProblem[] = []
  readonly #preview: ImportedRow[] = []
  readonly #places: ReturnType<typeof placesOf>[]
  readonly #laid: LaidRows | null

  constructor(order: ImportOrder, gathered: GatheredTarget, laid: LaidRows | null = null) {
    this.#order = order
    this.#laid = laid
    this.#gathered = gathered
    this.#places = gathered.target.runs.map(placesOf)
  }

  take(rows: readonly Cells[], first: number): void {
    if (this.#start) {
      this.#start.push(...rows)
      if (this.#start.length < HEAD_WITHIN_ROWS) return
      this.#begin()
    } else for (const [index, cells] of rows.entries()) this.#row(cells, first + index)
  }

  end(): void {
    if (this.#start) this.#begin()
    const name = path.basename(this.#order.path)
    if (this.#data === 0) throw problem('invalid_input', message('import.no_rows', { name }), { field: 'mapping.headerRow' })
  }

  #begin(): void {
    const start = this.#start ?? []
    this.#start = null
    const { mapping } = this.#order
    const name = path.basename(this.#order.path)
    if (mapping.headerRow !== null) {
      const at = mapping.header.length === 0 ? mapping.headerRow : whereHeadStands(start, mapping.header)
      if (at === null) {
        throw problem('invalid_input', message('import.other_head', { name, mapping: mapping.name }), { field: 'mapping.headerRow' })
      }
      this.#headRow = at
    }
    const { columns, timeFormat } = mapping
    if (timeFormat === null && (columns.time !== null || columns.date !== null)) {
      const cells = start.slice(this.#headRow).find((row) => !isBlank(row)) ?? []
      const text = cells[(columns.date ?? columns.time ?? 1) - 1]?.trim().slice(0, 60) ?? ''
      throw problem('invalid_input', message('import.time_not_chosen', { text }), { field: 'mapping.timeFormat' })
    }
    const head = this.#headRow === 0 ? [] : (start[this.#headRow - 1] ?? [])
    this.#placer = new RowPlacer(mapping, this.#gathered.target, head, this.#laid)
    for (const [index, cells] of start.entries()) this.#row(cells, index + 1)
  }

  #row(cells: Cells, row: number): void {
    if (row <= this.#headRow || !this.#placer || isBlank(cells)) return
    this.#data += 1
    const placed = this.#placer.place(cells, row)
    if (placed.ok) {
      addRow(this.rows, placed)
      if (this.#preview.length < MOST_PREVIEW) this.#preview.push(this.#shown(placed, row))
      return
    }
    this.#problemRows += 1
    if (this.#problems.length >= MOST_PROBLEMS) return
    const text = placed.column === null ? '' : (cells[placed.column - 1]?.trim().slice(0, 200) ?? '')
    this.#problems.push({ row, column: placed.column, text, sentence: asSentence(placed.problem) })
  }

  #shown(placed: Placed, row: number): ImportedRow {
    const run = this.#gathered.target.runs[placed.run]
    const point = run?.points[placed.point]
    if (!run || !point) throw new Error('a reading has its run and point')
    const { terminalId, number } = point.location
    return {
      row,
      runId: run.runId,
      tag: this.#gathered.tagOf(placed.run, terminalId),
      terminalId,
      point: number,
      order: this.#places[placed.run]?.[placed.point]?.order ?? number,
      sample: placed.sample,
      quantity: point.quantity,
      si: placed.si,
      typed: placed.typed,
      unit: placed.unit,
      at: new Date(placed.atMs).toISOString(),
      flags: [...placed.flags],
    }
  }

  refusal(): Sentence | null {
    if (this.#order.dryRun || this.#problemRows === 0) return null
    return asSentence(message('import.problems', { problems: this.#problemRows, rows: this.#data }))
  }

  told(): Pick<ImportOutcome, 'rows' | 'readings' | 'problemRows' | 'problems' | 'preview' | 'runs' | 'flags'> {
    const { rows } = this
    const perRun = new Uint32Array(this.#gathered.runs.length)
    const perSet = new Uint32Array(rows.flagSets.length)
    for (let index = 0; index < rows.length; index += 1) {
      const [run, set] = [rows.run[index] ?? 0, rows.flags[index] ?? 0]
      perRun[run] = (perRun[run] ?? 0) + 1
      perSet[set] = (perSet[set] ?? 0) + 1
    }
    const flags = new Map<ImportOutcome['flags'][number]['flag'], number>()
    for (const [set, flagged] of rows.flagSets.entries())
      for (const flag of flagged) flags.set(flag, (flags.get(flag) ?? 0) + (perSet[set] ?? 0))
    return {
      rows: this.#data,
      readings: rows.length,
      problemRows: this.#problemRows,
      problems: this.#problems,
      preview: this.#preview,
      runs: this.#gathered.runs.flatMap(({ runId }, index) => (perRun[index] ? [{ runId, readings: perRun[index] }] : [])),
      flags: [...flags].map(([flag, readings]) => ({ flag, readings })),
    }
  }

  /** Places in order of time, where the file has another order; null where it is in order or names its points. */
  laidByTime(): LaidRows | null {
    return this.#outOfOrder() ? (this.#placer?.inOrderOfTime() ?? null) : null
  }

  #outOfOrder() {
    return this.#placer?.rowTimes?.outOfOrder() ?? null
  }

  notes(): Sentence[] {
    const { columns } = this.#order.mapping
    const places = columns.terminal === null && columns.point === null ? (this.#placer?.placesLeft ?? 0) : 0
    const outOfOrder = this.#laid ? this.#outOfOrder() : null
    return [
      ...(outOfOrder ? [asSentence(message('import.not_in_order', outOfOrder))] : []),
      ...(places > 0 ? [asSentence(message('import.fewer_values', { places }))] : []),
    ]
  }
}

function asSentence({ code, params }: Pick<Message, 'code'> & { readonly params: object | undefined }): Sentence {
  return { code, params: { ...params } }
}

/** What is kept of a file above the cap of attachments: its hash and size. The same file gives the same receipt. */
export function receiptOf({ sha256, bytes }: { sha256: string; bytes: number }): Buffer {
  return Buffer.from(`sha256 ${sha256}\nbytes ${bytes}\n`)
}

/** Earlier imports of the same bytes that stand, by what was kept of them: one that was undone may come in again as it is. */
export function earlierImports(stores: Stores, file: { sha256: string; bytes: number }): ImportOutcome['earlier'] {
  const hashes = new Set([file.sha256, sha256Of(receiptOf(file))])
  return stores.attachments.all().flatMap(({ sha256, name, entryId }) => {
    if (!hashes.has(sha256)) return []
    const entry = stores.trail.find(entryId)?.entry
    return entry?.command === 'reading.import' && !stores.trail.isUndone(entry.scope, entry.commandId)
      ? [{ name, at: entry.at, personId: entry.personId }]
      : []
  })
}

/** The bytes of a file that is kept whole, or its receipt; refused where it is not the file any more that was read. */
export function keptContent(file: string, { sha256, bytes, keptWhole }: ImportOutcome): Buffer {
  if (!keptWhole) return receiptOf({ sha256, bytes })
  const content = readFileSync(file)
  if (sha256Of(content) !== sha256) throw problem('conflict', message('import.file_changed', { name: path.basename(file) }))
  return content
}
