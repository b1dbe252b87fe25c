import type { Placed } from '#core/imports/target.ts'
import type { ReadingFlag } from '#core/model/readings.ts'
import { UNITS, type Unit } from '#core/model/values.ts'

/** Readings by the column: a million of them take tens of megabytes, and plain data can be handed from thread to thread. */
export type ImportedRows = {
  length: number
  run: Uint32Array
  /** index among the points of its run */
  point: Uint32Array
  sample: Uint16Array
  si: Float64Array
  atMs: Float64Array
  instrument: Uint16Array
  unit: Uint8Array
  /** index into `flagSets` */
  flags: Uint16Array
  readonly typed: string[]
  readonly flagSets: (readonly ReadingFlag[])[]
}

const START_ROWS = 1024

export function noRows(): ImportedRows {
  return {
    length: 0,
    run: new Uint32Array(START_ROWS),
    point: new Uint32Array(START_ROWS),
    sample: new Uint16Array(START_ROWS),
    si: new Float64Array(START_ROWS),
    atMs: new Float64Array(START_ROWS),
    instrument: new Uint16Array(START_ROWS),
    unit: new Uint8Array(START_ROWS),
    flags: new Uint16Array(START_ROWS),
    typed: [],
    flagSets: [],
  }
}

export function addRow(rows: ImportedRows, placed: Placed): void {
  if (rows.length === rows.run.length) grow(rows)
  const at = rows.length
  rows.run[at] = placed.run
  rows.point[at] = placed.point
  rows.sample[at] = placed.sample
  rows.si[at] = placed.si
  rows.atMs[at] = placed.atMs
  rows.instrument[at] = placed.instrument
  rows.unit[at] = UNITS.indexOf(placed.unit)
  rows.flags[at] = flagSetOf(rows, placed.flags)
  rows.typed.push(placed.typed)
  rows.length = at + 1
}

export function unitAt(rows: ImportedRows, index: number): Unit {
  const unit = UNITS[rows.unit[index] ?? UNITS.length]
  if (!unit) throw new Error(`row ${index} has no unit`)
  return unit
}

/** Sets of flags are shared: there are only a few of them. */
function flagSetOf(rows: ImportedRows, flags: readonly ReadingFlag[]): number {
  const known = rows.flagSets.indexOf(flags)
  return known >= 0 ? known : rows.flagSets.push(flags) - 1
}

function grow(rows: ImportedRows): void {
  const length = rows.run.length * 2
  const larger = <A extends Uint32Array | Uint16Array | Uint8Array | Float64Array>(old: A, fresh: A): A => {
    fresh.set(old)
    return fresh
  }
  rows.run = larger(rows.run, new Uint32Array(length))
  rows.point = larger(rows.point, new Uint32Array(length))
  rows.sample = larger(rows.sample, new Uint16Array(length))
  rows.si = larger(rows.si, new Float64Array(length))
  rows.atMs = larger(rows.atMs, new Float64Array(length))
  rows.instrument = larger(rows.instrument, new Uint16Array(length))
  rows.unit = larger(rows.unit, new Uint8Array(length))
  rows.flags = larger(rows.flags, new Uint16Array(length))
}
