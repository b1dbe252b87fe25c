import { createHash, type Hash } from 'node:crypto'
import type { Database } from 'better-sqlite3'
import type { NewReading } from './readings.ts'
import { uuidBytes, uuidText } from './uuid-bytes.ts'

/** Readings of one segment that follow each other by number. */
export type ReadingRange = { readonly segmentRowId: number; readonly first: number; readonly last: number }

/** What the hash of many readings covers of each: everything measured, nothing about its place in the file. */
export type HashedReading = Pick<NewReading, 'sample' | 'quantity' | 'si' | 'typed' | 'unit' | 'basis' | 'atMs' | 'note'> & {
  readonly point: number
  readonly instrumentId: string
  readonly personId: string
  /** as it is stored: words joined by blanks */
  readonly flags: string
}

const NOTHING_TO_ESCAPE = /^[\w.,+ -]*$/

function quoted(text: string): string {
  return NOTHING_TO_ESCAPE.test(text) ? `"${text}"` : JSON.stringify(text)
}

const HASHED_AT_ONCE = 1 << 16

/** SHA-256 over the lines of readings in the order of their numbers: a JSON array each, numbers as ECMAScript prints them. */
export class ReadingsHash {
  readonly #hash: Hash = createHash('sha256')
  #waiting = ''
  rows = 0

  add(reading: HashedReading): void {
    const { point, sample, quantity, si, typed, unit, basis, instrumentId, personId, atMs, flags, note } = reading
    // The same text as of JSON.stringify, made by hand: numbers print alike in both, and words of the model have nothing to escape.
    this.#waiting += `[${point},${sample},"${quantity}",${si},${quoted(typed)},"${unit}","${basis}","${instrumentId}","${personId}",${atMs},"${flags}",${quoted(note)}]\n`
    this.rows += 1
    if (this.#waiting.length < HASHED_AT_ONCE) return
    this.#hash.update(this.#waiting)
    this.#waiting = ''
  }

  digest(): string {
    return this.#hash.update(this.#waiting).digest('hex')
  }
}

type HashedRow = [
  number: number,
  run: number,
  entry: number,
  point: number,
  sample: number,
  quantity: NewReading['quantity'],
  si: number,
  typed: string,
  unit: NewReading['unit'],
  basis: NewReading['basis'],
  instrument: number,
  person: number,
  atMs: number,
  flags: string,
  note: string,
]

/** The same measurement in force at the same place, whichever of its identities stands there: what undo and redo ask for. */
const STANDING = `FROM reading o JOIN reading s ON s.run_id = o.run_id AND s.location_id = o.location_id AND s.sample = o.sample
  WHERE o.segment_id = ? AND o.number BETWEEN ? AND ? AND s.void_entry_id IS NULL`
const SAME =
  'AND s.typed = o.typed AND s.unit = o.unit AND s.at_ms = o.at_ms AND s.person_id = o.person_id AND s.instrument_id = o.instrument_id'

/** Readings by the thousand, as an import writes them. Statements are made when they are first wanted: most openings want none. */
export function createReadingBatches(db: Database) {
  const ids = (table: 'entity') => {
    const names = new Map<number, string>()
    for (const [id, uuid] of db.prepare<[], [number, Buffer]>(`SELECT id, uuid FROM ${table}`).raw().iterate())
      names.set(id, uuidText(uuid))
    return names
  }
  const last = (segmentRowId: number) => ({
    rowId: db.prepare<[], number | null>('SELECT max(id) FROM reading').pluck().get() ?? 0,
    number: db.prepare<[number], number | null>('SELECT max(number) FROM reading WHERE segment_id = ?').pluck().get(segmentRowId) ?? 0,
  })

  return {
    /** The row and number that the segment's next reading gets. */
    next(segmentRowId: number): { rowId: number; number: number } {
      const { rowId, number } = last(segmentRowId)
      return { rowId: rowId + 1, number: number + 1 }
    },
    /** A statement that writes one row after another. `entryId` is that of the command that is running. */
    writer(segmentRowId: number, entryId: number): (rowId: number, number: number, reading: NewReading, flags: string) => void {
      const insert = db.prepare(
        `INSERT INTO reading (id, segment_id, number, run_id, location_id, sample, quantity, si, typed, unit, basis, instrument_id, person_id,
           at_ms, flags, note, entry_id) VALUES (?, ${segmentRowId}, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ${entryId})`,
      )
      return (rowId, number, r, flags) => {
        insert.run(
          rowId,
          number,
          r.runRowId,
          r.locationRowId,
          r.sample,
          r.quantity,
          r.si,
          r.typed,
          r.unit,
          r.basis,
          r.instrumentRowId,
          r.personRowId,
          r.atMs,
          flags,
          r.note,
        )
      }
    },
    /** Where a reading and those that follow it are; null where its segment is not in the file. */
    rangeOf(first: string, count: number): ReadingRange | null {
      const colon = first.indexOf(':')
      const segment = db
        .prepare<[Buffer], number>('SELECT id FROM segment WHERE uuid = ?')
        .pluck()
        .get(uuidBytes(first.slice(0, colon)))
      const number = Number(first.slice(colon + 1))
      return segment === undefined ? null : { segmentRowId: segment, first: number, last: number + count - 1 }
    },
    /** The hash of what stands in a range, and how many of its rows belong there. */
    hashOf(range: ReadingRange, belongs: (runRowId: number, entryId: number) => boolean): { rows: number; sha256: string } {
      const names = ids('entity')
      const hash = new ReadingsHash()
      const rows = db
        .prepare<[number, number, number], HashedRow>(
          `SELECT r.number, r.run_id, r.entry_id, (SELECT number FROM location WHERE id = r.location_id), r.sample, r.quantity, r.si, r.typed,
             r.unit, r.basis, r.instrument_id, r.person_id, r.at_ms, r.flags, r.note
           FROM reading r WHERE r.segment_id = ? AND r.number BETWEEN ? AND ? ORDER BY r.number`,
        )
        .raw()
      let own = 0
      for (const row of rows.iterate(range.segmentRowId, range.first, range.last)) {
        const [, run, entry, point, sample, quantity, si, typed, unit, basis, instrument, person, atMs, flags, note] = row
        if (belongs(run, entry)) own += 1
        const [instrumentId, personId] = [names.get(instrument) ?? '', names.get(person) ?? '']
        hash.add({ point, sample, quantity, si, typed, unit, basis, instrumentId, personId, atMs, flags, note })
      }
      return { rows: own, sha256: hash.digest() }
    },
    /** How many of a range one entry voided for this reason, replacing none. */
    voidedBy: ({ segmentRowId, first, last }: ReadingRange, entryId: number, reason: string): number =>
      db
        .prepare<[number, number, number, number, string], number>(
          `SELECT count(*) FROM reading WHERE segment_id = ? AND number BETWEEN ? AND ? AND void_entry_id = ? AND void_reason = ?
             AND replaced_by IS NULL`,
        )
        .pluck()
        .get(segmentRowId, first, last, entryId, reason) ?? 0,
    /** Readings in force at the places of a range, and how many of them are the same measurements; null where none is. */
    standing({ segmentRowId, first, last }: ReadingRange): { occupied: number; same: number; range: ReadingRange | null } {
      const args = [segmentRowId, first, last] as const
      const occupied =
        db
          .prepare<number[], number>(`SELECT count(*) ${STANDING}`)
          .pluck()
          .get(...args) ?? 0
      const found = db
        .prepare<number[], [number, number | null, number | null, number | null, number]>(
          `SELECT count(*), min(s.segment_id), min(s.number), max(s.number), count(DISTINCT s.segment_id) ${STANDING} ${SAME}`,
        )
        .raw()
        .get(...args)
      if (!found) return { occupied, same: 0, range: null }
      const [same, segment, low, high, segments] = found
      const together = segment !== null && low !== null && high !== null && segments === 1 && high - low + 1 === same
      return { occupied, same, range: together ? { segmentRowId: segment, first: low, last: high } : null }
    },
    segmentOf: (rowId: number): string => {
      const uuid = db.prepare<[number], Buffer>('SELECT uuid FROM segment WHERE id = ?').pluck().get(rowId)
      if (!uuid) throw new Error(`there is no segment ${rowId}`)
      return uuidText(uuid)
    },
    void({ segmentRowId, first, last }: ReadingRange, reason: string, entryId: number): void {
      db.prepare(
        'UPDATE reading SET void_entry_id = ?, void_reason = ? WHERE segment_id = ? AND number BETWEEN ? AND ? AND void_entry_id IS NULL',
      ).run(entryId, reason, segmentRowId, first, last)
    },
    /** The measurements of a range once more, as new readings in the same order; answers the number of the first. */
    repeat({ segmentRowId, first, last: end }: ReadingRange, target: { segmentRowId: number; entryId: number }): number {
      const at = last(target.segmentRowId)
      db.prepare(
        `INSERT INTO reading (id, segment_id, number, run_id, location_id, sample, quantity, si, typed, unit, basis, instrument_id, person_id,
           at_ms, flags, note, entry_id)
         SELECT ? + number - ?, ?, ? + number - ?, run_id, location_id, sample, quantity, si, typed, unit, basis, instrument_id, person_id,
           at_ms, flags, note, ? FROM reading WHERE segment_id = ? AND number BETWEEN ? AND ? ORDER BY number`,
      ).run(at.rowId + 1, first, target.segmentRowId, at.number + 1, first, target.entryId, segmentRowId, first, end)
      return at.number + 1
    },
  }
}
