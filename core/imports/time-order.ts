import { message } from '#core/messages/say.ts'
import type { SlotBook, SlotChoice, SlotProblem } from './slots.ts'
import type { TimeReader } from './times.ts'

const START_ROWS = 1024
/** The clocks were put back: nobody knows which of the two hours such a time is of, and so not which rows come before it. */
const TIME_TWICE: SlotProblem = { column: 'time', problem: message('import.time_twice', {}) }

type Said = { readonly tag: string | null; readonly sample: string | null; readonly sequence: string }

/** Where a file leaves the order of time: a row that is earlier than one before it, and two rows whose order time does not tell. */
export type OutOfOrder = { readonly row: number; readonly sameTime: number | null }

/**
 * The times of rows that name no point and are laid by their order alone. Rows that follow each other on points (those of one terminal and
 * sample, or all of them where none is named) are one sequence.
 */
export class RowTimes {
  #length = 0
  #rows = new Uint32Array(START_ROWS)
  #atMs = new Float64Array(START_ROWS)
  /** what each row says of its place, as an index into `#said` */
  #saidBy = new Uint32Array(START_ROWS)
  readonly #indexOf = new Map<string, number>()
  readonly #said: Said[] = []
  readonly #latest = new Map<string, number>()
  #firstBackwards: number | null = null

  add(row: number, atMs: number, tag: string | null, sample: string | null): void {
    const saidBy = this.#indexOfSaid(tag, sample)
    const sequence = this.#said[saidBy]?.sequence ?? ''
    if (atMs < (this.#latest.get(sequence) ?? Number.NEGATIVE_INFINITY)) this.#firstBackwards ??= row
    else this.#latest.set(sequence, atMs)
    if (this.#length === this.#rows.length) this.#grow()
    this.#rows[this.#length] = row
    this.#atMs[this.#length] = atMs
    this.#saidBy[this.#length] = saidBy
    this.#length += 1
  }

  /** null where every row comes after the rows of its sequence that stand before it in the file. */
  outOfOrder(): OutOfOrder | null {
    if (this.#firstBackwards === null) return null
    const last = new Map<string, number>()
    let sameTime: number | null = null
    for (const index of this.#inTime()) {
      const { sequence } = this.#saidOf(index)
      const [row, atMs] = [this.#rows[index] ?? 0, this.#atMs[index] ?? 0]
      if (last.get(sequence) === atMs) sameTime = Math.min(sameTime ?? row, row)
      last.set(sequence, atMs)
    }
    return { row: this.#firstBackwards, sameTime }
  }

  /** Finds the place of every row in order of time; rows of one time in the order of the file. Takes the places in the book. */
  lay(book: SlotBook, times: TimeReader): LaidRows {
    const laid = new Array<SlotChoice | SlotProblem>(this.#length)
    for (const index of this.#inTime()) {
      const { tag, sample } = this.#saidOf(index)
      const found = times.comesTwice(this.#atMs[index] ?? 0) ? TIME_TWICE : book.find(tag, null, sample)
      if (!('column' in found)) book.take(found, this.#rows[index] ?? 0)
      laid[index] = found
    }
    return new LaidRows(laid, book)
  }

  #inTime(): Uint32Array {
    const at = this.#atMs
    return Uint32Array.from({ length: this.#length }, (_, index) => index).sort((a, b) => (at[a] ?? 0) - (at[b] ?? 0) || a - b)
  }

  #saidOf(index: number): Said {
    const said = this.#said[this.#saidBy[index] ?? 0]
    if (!said) throw new Error(`row ${index} was not added`)
    return said
  }

  #indexOfSaid(tag: string | null, sample: string | null): number {
    const key = `${tag ?? ''}\n${sample ?? ''}`
    const known = this.#indexOf.get(key)
    if (known !== undefined) return known
    this.#indexOf.set(key, this.#said.length)
    return this.#said.push({ tag, sample, sequence: tag === null ? '' : key.toLowerCase() }) - 1
  }

  #grow(): void {
    const length = this.#length * 2
    const larger = <A extends Uint32Array | Float64Array>(old: A, fresh: A): A => {
      fresh.set(old)
      return fresh
    }
    this.#rows = larger(this.#rows, new Uint32Array(length))
    this.#atMs = larger(this.#atMs, new Float64Array(length))
    this.#saidBy = larger(this.#saidBy, new Uint32Array(length))
  }
}

/** The places of rows that were laid by their times, to be asked in the order of the file. */
export class LaidRows {
  readonly #laid: readonly (SlotChoice | SlotProblem)[]
  readonly #book: SlotBook
  #next = 0

  constructor(laid: readonly (SlotChoice | SlotProblem)[], book: SlotBook) {
    this.#laid = laid
    this.#book = book
  }

  next(): SlotChoice | SlotProblem {
    const found = this.#laid[this.#next]
    if (!found) throw new Error('more rows than were laid')
    this.#next += 1
    return found
  }

  get placesLeft(): number {
    return this.#book.placesLeft
  }
}
