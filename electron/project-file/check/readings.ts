import type { Database } from 'better-sqlite3'
import type { MessageCode, ParamsOf } from '#core/messages/say.ts'
import type { AuditChange } from '#core/model/audit.ts'
import type { Reading } from '#core/model/readings.ts'
import { uuidBytes, uuidText } from '../uuid-bytes.ts'
import type { Findings } from './findings.ts'

type ReadingChange = Extract<AuditChange, { what: 'reading' }>
type VoidChange = Extract<AuditChange, { what: 'void' }>
type Row = {
  point: number
  sample: number
  quantity: string
  si: number
  typed: string
  unit: string
  basis: string
  instrument: Buffer
  person: Buffer
  at_ms: number
  flags: string
  note: string
  run: Buffer
  entry_id: number
  void_entry_id: number | null
  void_reason: string | null
  replaced_segment: Buffer | null
  replaced_number: number | null
}

/** Holds every reading against the trail, value by value, and the trail against the readings. */
export class ReadingCheck {
  readonly #db: Database
  readonly #findings: Findings
  readonly #reading
  #audited = 0
  #voided = 0
  #sound = true

  constructor(db: Database, findings: Findings) {
    this.#db = db
    this.#findings = findings
    this.#reading = db.prepare<[Buffer, number], Row>(
      `SELECT l.number AS point, r.sample, r.quantity, r.si, r.typed, r.unit, r.basis, i.uuid AS instrument, p.uuid AS person, r.at_ms,
         r.flags, r.note, u.uuid AS run, r.entry_id, r.void_entry_id, r.void_reason, ns.uuid AS replaced_segment, n.number AS replaced_number
       FROM segment s JOIN reading r ON r.segment_id = s.id JOIN location l ON l.id = r.location_id JOIN entity u ON u.id = r.run_id
       JOIN entity i ON i.id = r.instrument_id JOIN entity p ON p.id = r.person_id
       LEFT JOIN reading n ON n.id = r.replaced_by LEFT JOIN segment ns ON ns.id = n.segment_id
       WHERE s.uuid = ? AND r.number = ?`,
    )
  }

  recorded({ reading, runId }: ReadingChange, entryId: number): void {
    const row = this.#find(reading.id)
    if (!row) {
      this.#report('check.reading_lost', { id: reading.id })
      return
    }
    this.#audited += 1
    const fields = differing(row, reading, runId, entryId)
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
      row.replaced_segment === null || row.replaced_number === null ? null : `${uuidText(row.replaced_segment)}:${row.replaced_number}`
    const asRecorded = row.void_entry_id === entryId && row.void_reason === change.reason && replacedBy === change.replacedBy
    if (!asRecorded) this.#report('check.void_differs', { id: change.readingId })
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
    return this.#reading.get(uuidBytes(segment), Number(number))
  }
}

function differing(row: Row, reading: Reading, runId: string, entryId: number): string[] {
  const pairs: [string, unknown, unknown][] = [
    ['run', uuidText(row.run), runId],
    ['entry', row.entry_id, entryId],
    ['point', row.point, reading.point],
    ['sample', row.sample, reading.sample],
    ['quantity', row.quantity, reading.quantity],
    ['value', row.si, reading.si],
    ['typed text', row.typed, reading.typed],
    ['unit', row.unit, reading.unit],
    ['basis', row.basis, reading.basis],
    ['instrument', uuidText(row.instrument), reading.instrumentId],
    ['person', uuidText(row.person), reading.personId],
    ['time', new Date(row.at_ms).toISOString(), reading.at],
    ['flags', row.flags, reading.flags.join(' ')],
    ['note', row.note, reading.note],
  ]
  return pairs.filter(([, stored, recorded]) => stored !== recorded).map(([name]) => name)
}
