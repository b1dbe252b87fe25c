import type { Database } from 'better-sqlite3'
import type { MessageCode, ParamsOf } from '#core/messages/say.ts'
import type { AuditChange } from '#core/model/audit.ts'
import type { Reading } from '#core/model/readings.ts'
import { createReadingBatches } from '../reading-batches.ts'
import { uuidText } from '../uuid-bytes.ts'
import type { Findings } from './findings.ts'

type ReadingChange = Extract<AuditChange, { what: 'reading' }>
type ImportChange = Extract<AuditChange, { what: 'readings' }>
type VoidsChange = Extract<AuditChange, { what: 'voids' }>
type VoidChange = Extract<AuditChange, { what: 'void' }>
type Row = {
  point: number
  sample: number
  quantity: string
  si: number
  typed: string
  unit: string
  basis: string
  instrument_id: number
  person_id: number
  at_ms: number
  flags: string
  note: string
  run_id: number
  entry_id: number
  void_entry_id: number | null
  void_reason: string | null
  replaced_segment: number | null
  replaced_number: number | null
}

/** Holds every reading against the trail, value by value, and the trail against the readings. */
export class ReadingCheck {
  readonly #db: Database
  readonly #findings: Findings
  readonly #reading
  readonly #batches
  readonly #entities: ReadonlyMap<number, string>
  readonly #segments: ReadonlyMap<string, number>
  readonly #segmentNames: ReadonlyMap<number, string>
  #audited = 0
  #voided = 0
  #sound = true

  constructor(db: Database, findings: Findings) {
    this.#db = db
    this.#findings = findings
    this.#batches = createReadingBatches(db)
    // Lookups inside one row rather than joins: SQLite plans a join anew each time its parameters change.
    this.#reading = db.prepare<[number, number], Row>(
      `SELECT (SELECT number FROM location WHERE id = r.location_id) AS point, r.sample, r.quantity, r.si, r.typed, r.unit, r.basis,
         r.instrument_id, r.person_id, r.at_ms, r.flags, r.note, r.run_id, r.entry_id, r.void_entry_id, r.void_reason,
         (SELECT segment_id FROM reading WHERE id = r.replaced_by) AS replaced_segment,
         (SELECT number FROM reading WHERE id = r.replaced_by) AS replaced_number
       FROM reading r WHERE r.segment_id = ? AND r.number = ?`,
    )
    const ids = (table: 'entity' | 'segment') =>
      db
        .prepare<[], [number, Buffer]>(`SELECT id, uuid FROM ${table}`)
        .raw()
        .all()
        .map(([id, uuid]) => [id, uuidText(uuid)] as const)
    this.#entities = new Map(ids('entity'))
    this.#segments = new Map(ids('segment').map(([id, uuid]) => [uuid, id]))
    this.#segmentNames = new Map(ids('segment'))
  }

  recorded({ reading, runId }: ReadingChange, entryId: number): void {
    const row = this.#find(reading.id)
    if (!row) {
      this.#report('check.reading_lost', { id: reading.id })
      return
    }
    this.#audited += 1
    const fields = this.#differing(row, reading, runId, entryId)
    if (fields.length > 0) this.#report('check.reading_differs', { id: reading.id, fields: fields.join(', ') })
  }

  voided(change: VoidChange, entryId: number): void {
    const row = this.#find(change.readingId)
    if (!row) {
      this.#report('check.reading_lost', { id: change.readingId })
      return
    }
    this.#voided += 1
    const replacedBy =
      row.replaced_segment === null || row.replaced_number === null
        ? null
        : `${this.#segmentNames.get(row.replaced_segment)}:${row.replaced_number}`
    const asRecorded = row.void_entry_id === entryId && row.void_reason === change.reason && replacedBy === change.replacedBy
    if (!asRecorded) this.#report('check.void_differs', { id: change.readingId })
  }

  /** Many readings as one change: their rows, taken together, have the hash that the trail holds. */
  imported({ first, count, sha256, runId }: ImportChange, entryId: number): void {
    const range = this.#batches.rangeOf(first, count)
    if (!range) {
      this.#report('check.reading_lost', { id: first })
      return
    }
    const found = this.#batches.hashOf(range, (run, entry) => this.#entities.get(run) === runId && entry === entryId)
    this.#audited += found.rows
    if (found.rows !== count || found.sha256 !== sha256) this.#report('check.readings_differ', { first, count })
  }

  voidedTogether({ first, count, reason }: VoidsChange, entryId: number): void {
    const range = this.#batches.rangeOf(first, count)
    if (!range) {
      this.#report('check.reading_lost', { id: first })
      return
    }
    const voided = this.#batches.voidedBy(range, entryId, reason)
    this.#voided += voided
    if (voided !== count) this.#report('check.voids_differ', { first, count })
  }

  /** After the whole trail: no reading without an entry, none voided without one. */
  finish(): void {
    const totals = this.#db
      .prepare<[], { readings: number; voided: number }>('SELECT count(*) AS readings, count(void_entry_id) AS voided FROM reading')
      .get() ?? { readings: 0, voided: 0 }
    if (totals.readings > this.#audited) this.#report('check.reading_unaudited', { readings: totals.readings - this.#audited })
    if (totals.voided > this.#voided) this.#report('check.voids_unaudited', { readings: totals.voided - this.#voided })
    if (this.#sound) this.#findings.ok('check.readings_ok', totals)
  }

  #report<C extends MessageCode>(code: C, params: ParamsOf<C>): void {
    this.#sound = false
    this.#findings.problem(code, params)
  }

  #find(readingId: string): Row | undefined {
    const [segment = '', number = ''] = readingId.split(':')
    return this.#reading.get(this.#segments.get(segment) ?? 0, Number(number))
  }

  #differing(row: Row, reading: Reading, runId: string, entryId: number): string[] {
    const pairs: [string, unknown, unknown][] = [
      ['run', this.#entities.get(row.run_id), runId],
      ['entry', row.entry_id, entryId],
      ['point', row.point, reading.point],
      ['sample', row.sample, reading.sample],
      ['quantity', row.quantity, reading.quantity],
      ['value', row.si, reading.si],
      ['typed text', row.typed, reading.typed],
      ['unit', row.unit, reading.unit],
      ['basis', row.basis, reading.basis],
      ['instrument', this.#entities.get(row.instrument_id), reading.instrumentId],
      ['person', this.#entities.get(row.person_id), reading.personId],
      ['time', new Date(row.at_ms).toISOString(), reading.at],
      ['flags', row.flags, reading.flags.join(' ')],
      ['note', row.note, reading.note],
    ]
    return pairs.filter(([, stored, recorded]) => stored !== recorded).map(([name]) => name)
  }
}
