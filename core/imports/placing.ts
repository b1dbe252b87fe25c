import { type Message, message } from '#core/messages/say.ts'
import type { ImportMapping } from '#core/model/import-mapping.ts'
import { DIMENSION_OF_QUANTITY } from '#core/model/rule-problem.ts'
import type { Quantity } from '#core/model/values.ts'
import { type Spelling, spelledUnit } from '#core/units/spellings.ts'
import { dimensionOf } from '#core/units/units.ts'
import { FlagBook } from './flags.ts'
import { type Cells, unitInHead } from './head.ts'
import { readImported } from './numbers.ts'
import { quantityCalled } from './quantity-words.ts'
import { SlotBook, type SlotChoice } from './slots.ts'
import type { ImportTarget, Placed } from './target.ts'
import { type LaidRows, RowTimes } from './time-order.ts'
import { kindOfTime, type TimeKind, TimeReader } from './times.ts'

/** What keeps a row from becoming a reading, with the column it is about (counted from 1). */
export type RowProblem = { readonly ok: false; readonly column: number | null; readonly problem: Message }

const refuse = (column: number | null, problem: Message): RowProblem => ({ ok: false, column, problem })

/** Reads the rows of one file, in their order, as readings of the target. Keeps account of the places that are taken. */
export class RowPlacer {
  readonly #mapping: ImportMapping
  readonly #target: ImportTarget
  readonly #slots: SlotBook
  readonly #flags: FlagBook
  readonly #times: TimeReader
  readonly #headUnit: (Spelling & { readonly text: string }) | null
  readonly #instruments: ReadonlyMap<string, number>
  /** times of the rows that have only their order to say where they belong; null where points are named or there are no times */
  readonly rowTimes: RowTimes | null
  readonly #laid: LaidRows | null
  #firstKind: { readonly kind: TimeKind; readonly row: number } | null = null

  /** `laid` holds the places of rows that an earlier placer of the same file found out of their order, see `inOrderOfTime`. */
  constructor(mapping: ImportMapping, target: ImportTarget, head: Cells, laid: LaidRows | null = null) {
    this.#mapping = mapping
    this.#target = target
    this.#slots = new SlotBook(target)
    this.#laid = laid
    this.rowTimes = laidInOrder(mapping) ? new RowTimes() : null
    this.#flags = new FlagBook(target)
    this.#times = new TimeReader(mapping.timeFormat ?? '', target.timeZone)
    this.#headUnit = unitInHead(head[mapping.columns.value - 1] ?? '')
    this.#instruments = new Map(target.serials.map((serial, index) => [serial.trim().toLowerCase(), index]))
  }

  /** Points that are still without a value after the last row, where values only have their order. */
  get placesLeft(): number {
    return (this.#laid ?? this.#slots).placesLeft
  }

  /** The places of all rows of this file in the order of their times, for the placer that goes through the file again. */
  inOrderOfTime(): LaidRows | null {
    return this.rowTimes?.lay(new SlotBook(this.#target), this.#times) ?? null
  }

  place(cells: Cells, row: number): Placed | RowProblem {
    const { columns } = this.#mapping
    const typed = cells[columns.value - 1]?.trim() ?? ''
    if (typed === '') return refuse(columns.value, message('import.no_value', {}))
    const atMs = this.#time(cells, row)
    if (typeof atMs !== 'number') return atMs
    const slot = this.#slotOf(cells, row, atMs)
    if (!slot.ok) return slot
    const run = this.#target.runs[slot.run]
    const point = run?.points[slot.point]
    if (!run || !point) throw new Error('a place that was found has its run and point')
    const asked = this.#quantityAsked(cells)
    if (!asked.ok) return asked
    const { quantity } = point
    if (asked.quantity !== null && asked.quantity !== quantity) {
      return refuse(columns.quantity, message('import.other_quantity', { given: asked.quantity, measured: quantity }))
    }
    const value = this.#value(cells, typed, quantity, run.unitOf(quantity))
    if (!value.ok) return value
    const instrument = this.#instrument(cells)
    if (typeof instrument !== 'number') return instrument
    const flags = this.#flags.of({ run: slot.run, point: slot.point, sample: slot.sample, ...value.entered, instrument, atMs })
    if ('code' in flags) return refuse(columns.value, flags)
    if (!this.#laid) this.#slots.take(slot, row)
    const { si, unit } = value.entered
    return {
      ok: true,
      run: slot.run,
      point: slot.point,
      sample: slot.sample,
      si,
      typed: value.entered.typed,
      unit,
      atMs,
      instrument,
      flags,
    }
  }

  #slotOf(cells: Cells, row: number, atMs: number): ({ readonly ok: true } & SlotChoice) | RowProblem {
    const { columns } = this.#mapping
    const text = (column: number | null) => (column === null ? null : (cells[column - 1]?.trim() ?? ''))
    const [tag, sample] = [text(columns.terminal), text(columns.sample)]
    this.rowTimes?.add(row, atMs, tag, sample)
    const found = this.#laid?.next() ?? this.#slots.find(tag, text(columns.point), sample)
    return 'column' in found ? refuse(columns[found.column], found.problem) : { ok: true, ...found }
  }

  #quantityAsked(cells: Cells): { readonly ok: true; readonly quantity: Quantity | null } | RowProblem {
    const { columns, quantity } = this.#mapping
    if (columns.quantity === null) return { ok: true, quantity }
    const text = cells[columns.quantity - 1]?.trim() ?? ''
    if (text === '') return { ok: true, quantity }
    const called = quantityCalled(text)
    return called ? { ok: true, quantity: called } : refuse(columns.quantity, message('import.unknown_quantity', { text }))
  }

  #value(cells: Cells, typed: string, quantity: Quantity, ofRun: Spelling['unit'] | null) {
    const { columns, decimal, unit: chosen } = this.#mapping
    const named = columns.unit === null ? '' : (cells[columns.unit - 1]?.trim() ?? '')
    const spelled = named === '' ? null : spelledUnit(named.normalize('NFKC'))
    if (named !== '' && !spelled) return refuse(columns.unit, message('import.unknown_unit', { text: named }))
    // A head such as "[kPa]" says more than the unit that was chosen from the list, which knows pascals only.
    const head = this.#headUnit && (chosen === null || chosen === this.#headUnit.unit) ? this.#headUnit : null
    const unit = spelled?.unit ?? head?.unit ?? chosen ?? ofRun
    if (unit === null) return refuse(columns.value, message('import.no_unit', { quantity }))
    if (dimensionOf(unit) !== DIMENSION_OF_QUANTITY[quantity]) {
      return refuse(columns.unit ?? columns.value, message('import.other_unit', { unit, measured: quantity }))
    }
    const times = spelled?.times ?? head?.times ?? 1
    const text = times === 1 ? typed : `${typed} ${spelled ? named : (head?.text ?? '')}`
    const read = readImported(text, decimal, unit)
    return read.ok ? ({ ok: true, entered: read.value } as const) : refuse(columns.value, read.problem)
  }

  #time(cells: Cells, row: number): number | RowProblem {
    const { columns, timeFormat } = this.#mapping
    const { nowMs } = this.#target
    if (columns.time === null && columns.date === null) return nowMs
    const part = (column: number | null) => (column === null ? '' : (cells[column - 1]?.trim() ?? ''))
    const text =
      columns.date !== null && columns.time !== null ? `${part(columns.date)} ${part(columns.time)}` : part(columns.date ?? columns.time)
    const column = columns.time ?? columns.date
    if (timeFormat === null) return refuse(column, message('import.time_not_chosen', { text }))
    const kind = kindOfTime(text.trim(), timeFormat)
    if (kind === null) return refuse(column, message('import.no_day', { text }))
    const atMs = this.#times.read(text)
    if (atMs === null) return refuse(column, message('import.no_time', { text, format: timeFormat }))
    if (this.rowTimes) {
      this.#firstKind ??= { kind, row }
      if (this.#firstKind.kind !== kind) return refuse(column, message('import.time_otherwise', { text, row: this.#firstKind.row }))
    }
    return atMs > nowMs ? refuse(column, message('import.time_ahead', { text })) : atMs
  }

  #instrument(cells: Cells): number | RowProblem {
    const { instrument: column } = this.#mapping.columns
    const serial = column === null ? '' : (cells[column - 1]?.trim() ?? '')
    if (serial === '') return this.#target.instrument ?? refuse(column, message('import.no_instrument', {}))
    const known = this.#instruments.get(serial.toLowerCase())
    return known ?? refuse(column, message('import.unknown_instrument', { serial }))
  }
}

/** Rows that name no point are laid by their order, which is that of their times where they have any. */
export function laidInOrder({ columns }: Pick<ImportMapping, 'columns'>): boolean {
  return columns.point === null && (columns.time !== null || columns.date !== null)
}
