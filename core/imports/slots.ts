import { type Message, message } from '#core/messages/say.ts'
import { type ImportRun, type ImportTarget, placesOf } from './target.ts'

/** A point and sample of one run; indexes into the target. */
export type SlotChoice = { readonly run: number; readonly point: number; readonly sample: number }
export type SlotProblem = { readonly column: 'terminal' | 'point' | 'sample' | 'value' | 'time'; readonly problem: Message }

/** Stands in the book of a run for a reading that is there already. */
const STANDING = 0xffffffff
/** Stands for a point that is not measured in this run: its terminal carries the readings as found. */
const CARRIED = 0xfffffffe

type RunBook = {
  readonly run: ImportRun
  /** which row of the file took each point and sample, 0 for none */
  readonly takenBy: Uint32Array
  readonly indexOf: ReadonlyMap<number, number>
  readonly places: ReturnType<typeof placesOf>
}
type Terminal = { readonly run: number; readonly tag: string; readonly points: readonly number[]; readonly next: number[] }

/** Which point and sample each row of a file belongs to, and which of them are taken. */
export class SlotBook {
  readonly #books: readonly RunBook[]
  readonly #terminals = new Map<string, Terminal[]>()
  #sweep: number

  constructor(target: ImportTarget) {
    this.#books = target.runs.map((run, index) => {
      const indexOf = new Map(run.points.map(({ location }, point) => [location.number, point]))
      const takenBy = new Uint32Array(run.points.length * run.samplesPerPoint)
      for (const [at, { location }] of run.points.entries()) {
        if (location.terminalId === null || !run.carried.has(location.terminalId)) continue
        takenBy.fill(CARRIED, at * run.samplesPerPoint, (at + 1) * run.samplesPerPoint)
      }
      for (const { point, sample } of run.standing) {
        const at = indexOf.get(point)
        if (at !== undefined && sample <= run.samplesPerPoint) takenBy[at * run.samplesPerPoint + sample - 1] = STANDING
      }
      this.#addTerminals(run, index)
      return { run, takenBy, indexOf, places: placesOf(run) }
    })
    this.#sweep = this.#startOfSweep(target)
  }

  get placesLeft(): number {
    const [book] = this.#books
    return book ? book.takenBy.subarray(this.#sweep).reduce((places, by) => (by === CARRIED ? places : places + 1), 0) : 0
  }

  /**
   * The place of one row from what it says of it. A tag alone takes the next point of that terminal, a point alone counts within the run,
   * and a row that says nothing takes the next place of the sweep, all samples of a point before the next point.
   */
  find(tag: string | null, pointText: string | null, sampleText: string | null): SlotChoice | SlotProblem {
    const sample = sampleText === null || sampleText === '' ? null : wholeNumber(sampleText)
    if (sampleText !== null && sampleText !== '' && sample === null) {
      return { column: 'sample', problem: message('import.not_whole', { text: sampleText }) }
    }
    const terminal = tag === null ? null : this.#terminal(tag)
    if (terminal && 'problem' in terminal) return terminal
    if (pointText === null) return terminal ? this.#nextOfTerminal(terminal, sample) : this.#nextOfSweep(sample)
    const number = wholeNumber(pointText)
    if (number === null) return { column: 'point', problem: message('import.not_whole', { text: pointText }) }
    const run = terminal?.run ?? 0
    const point = terminal ? terminal.points[number - 1] : this.#books[run]?.indexOf.get(number)
    if (point === undefined) {
      const most = terminal?.points.length ?? this.#books[run]?.run.points.length ?? 0
      return { column: 'point', problem: message('import.no_such_point', { point: number, tag: terminal?.tag ?? null, most }) }
    }
    return this.#free(run, point, sample)
  }

  take({ run, point, sample }: SlotChoice, row: number): void {
    const book = this.#books[run]
    if (book) book.takenBy[point * book.run.samplesPerPoint + sample - 1] = row
  }

  #addTerminals(run: ImportRun, index: number): void {
    const byTag = new Map<string, number[]>()
    for (const [point, { location }] of run.points.entries()) {
      const tag = location.terminalId === null ? null : (run.tags.get(location.terminalId) ?? null)
      if (tag === null) continue
      const points = byTag.get(tag)
      if (points) points.push(point)
      else byTag.set(tag, [point])
    }
    for (const [tag, points] of byTag) {
      const key = tag.trim().toLowerCase()
      this.#terminals.set(key, [...(this.#terminals.get(key) ?? []), { run: index, tag, points, next: [] }])
    }
  }

  #startOfSweep(target: ImportTarget): number {
    const [book] = this.#books
    if (!book) return 0
    const samples = book.run.samplesPerPoint
    if (target.firstPoint !== null) return (book.indexOf.get(target.firstPoint) ?? 0) * samples
    const first = book.run.points.findIndex((_, point) =>
      book.takenBy.subarray(point * samples, (point + 1) * samples).every((by) => by === 0),
    )
    return first < 0 ? book.takenBy.length : first * samples
  }

  #terminal(tag: string): Terminal | SlotProblem {
    const [first, second] = this.#terminals.get(tag.toLowerCase()) ?? []
    if (!first) return { column: 'terminal', problem: tag === '' ? message('import.no_tag', {}) : message('import.unknown_tag', { tag }) }
    return second ? { column: 'terminal', problem: message('import.tag_twice', { tag }) } : first
  }

  #nextOfTerminal(terminal: Terminal, sample: number | null): SlotChoice | SlotProblem {
    const samples = this.#books[terminal.run]?.run.samplesPerPoint ?? 1
    // Without a column for samples all samples of a point come before the next point; with one, each sample goes its own way.
    const way = sample ?? 0
    const at = terminal.next[way] ?? 0
    terminal.next[way] = at + 1
    const point = terminal.points[sample === null ? Math.floor(at / samples) : at]
    if (point === undefined) {
      return { column: 'value', problem: message('import.terminal_full', { tag: terminal.tag, points: terminal.points.length, samples }) }
    }
    return this.#free(terminal.run, point, sample ?? (at % samples) + 1)
  }

  #nextOfSweep(sample: number | null): SlotChoice | SlotProblem {
    const [book] = this.#books
    const samples = book?.run.samplesPerPoint ?? 1
    let at = this.#sweep
    while (book?.takenBy[at] === CARRIED) at += 1
    if (!book || at >= book.takenBy.length) {
      return { column: 'value', problem: message('import.no_point_left', { points: book?.run.points.length ?? 0, samples }) }
    }
    this.#sweep = at + 1
    return this.#free(0, Math.floor(at / samples), sample ?? (at % samples) + 1)
  }

  #free(run: number, point: number, asked: number | null): SlotChoice | SlotProblem {
    const book = this.#books[run]
    if (!book) throw new Error(`there is no run ${run}`)
    const { samplesPerPoint } = book.run
    if (asked !== null && (asked < 1 || asked > samplesPerPoint)) {
      return { column: 'sample', problem: message('import.no_such_sample', { sample: asked, most: samplesPerPoint }) }
    }
    const first = point * samplesPerPoint
    const firstTaken = (offset: number): SlotProblem => {
      const by = book.takenBy[first + offset] ?? 0
      const { tag, order } = book.places[point] ?? { tag: null, order: 0 }
      if (by === CARRIED) return { column: 'terminal', problem: message('error.is_carried', { tag: tag ?? '' }) }
      return {
        column: 'point',
        problem:
          by === STANDING
            ? message('import.has_reading', { tag, point: order, sample: offset + 1 })
            : message('import.same_place', { tag, point: order, sample: offset + 1, row: by }),
      }
    }
    if (asked !== null) return book.takenBy[first + asked - 1] === 0 ? { run, point, sample: asked } : firstTaken(asked - 1)
    for (let offset = 0; offset < samplesPerPoint; offset += 1) {
      if (book.takenBy[first + offset] === 0) return { run, point, sample: offset + 1 }
    }
    return firstTaken(samplesPerPoint - 1)
  }
}

function wholeNumber(text: string): number | null {
  return /^\d{1,7}(?:[.,]0+)?$/.test(text) ? Number.parseInt(text, 10) : null
}
