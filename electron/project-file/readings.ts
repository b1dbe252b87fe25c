import type { Reading, ReadingFlag } from '#core/model/readings.ts'
import type { Basis, Quantity, Unit } from '#core/model/values.ts'
import type { ProjectFile } from './project-file.ts'
import { uuidText } from './uuid-bytes.ts'

/** A reading about to be written; everything measured, nothing about its place in the trail. */
export type NewReading = {
  readonly runRowId: number
  readonly locationRowId: number
  readonly sample: number
  readonly quantity: Quantity
  readonly si: number
  readonly typed: string
  readonly unit: Unit
  readonly basis: Basis
  readonly instrumentRowId: number
  readonly personRowId: number
  readonly atMs: number
  readonly flags: readonly ReadingFlag[]
  readonly note: string
}

/** The identity a reading will have: row, number within the segment, and the two joined as the contract shows it. */
export type ReservedReading = { readonly segmentRowId: number; readonly rowId: number; readonly number: number; readonly id: string }

export type StoredReading = {
  readonly rowId: number
  readonly locationRowId: number
  readonly instrumentRowId: number
  readonly personRowId: number
  readonly reading: Reading
}

/** Zones change their offset on whole quarters of an hour: one says on which calendar day a reading was taken. */
export const QUARTER_HOUR_MS = 900_000

/** More than a grid has columns. */
const COLUMNS = 4096
/** More quarters of an hour than there are until the year 3800; what is left of a number's 53 bits holds any instrument. */
const QUARTERS = 2 ** 26

/** Row and column of a point, out of the one number that a query gives. */
export function rowAndColumnOf(place: number): { row: number; column: number } {
  return { row: Math.floor(place / COLUMNS), column: place % COLUMNS }
}

/** The row of the instrument and the quarter of an hour since 1970 in which it was read, out of the one number that a query gives. */
export function instrumentAndQuarterOf(taken: number): { instrumentRowId: number; quarter: number } {
  return { instrumentRowId: Math.floor(taken / QUARTERS), quarter: taken % QUARTERS }
}

/** One point of a run and the reading in force there, as the calculation reads them. Columns in the order of the array. */
export type MeasuredRow = [
  point: number,
  /** kind of the point, quantity and flags, parted by commas; null for what is usual: a velocity at a filter point, without a flag */
  unusual: string | null,
  terminalRowId: number | null,
  /** see {@link rowAndColumnOf} */
  place: number,
  cellAreaM2: number,
  si: number | null,
  /** see {@link instrumentAndQuarterOf}; null where there is no reading */
  taken: number | null,
]

type Row = [
  id: number,
  segment: Uint8Array,
  number: number,
  locationId: number,
  point: number,
  sample: number,
  quantity: Quantity,
  si: number,
  typed: string,
  unit: Unit,
  basis: Basis,
  instrumentId: number,
  instrument: Uint8Array,
  personId: number,
  person: Uint8Array,
  atMs: number,
  flags: string,
  note: string,
  voidReason: string | null,
  voidPerson: Uint8Array | null,
  voidAt: string | null,
  replacedSegment: Uint8Array | null,
  replacedNumber: number | null,
]

const SELECT = `SELECT r.id, s.uuid, r.number, r.location_id, l.number, r.sample, r.quantity, r.si, r.typed, r.unit, r.basis,
    r.instrument_id, i.uuid, r.person_id, p.uuid, r.at_ms, r.flags, r.note,
    r.void_reason, v.person_uuid, v.body ->> '$.at', ns.uuid, n.number
  FROM reading r JOIN location l ON l.id = r.location_id JOIN segment s ON s.id = r.segment_id
  JOIN entity i ON i.id = r.instrument_id JOIN entity p ON p.id = r.person_id
  LEFT JOIN audit_entry v ON v.id = r.void_entry_id
  LEFT JOIN reading n ON n.id = r.replaced_by LEFT JOIN segment ns ON ns.id = n.segment_id`

function fromRow(row: Row): StoredReading {
  const [id, segment, number, locationRowId, point, sample, quantity, si, typed, unit, basis, instrumentRowId, instrument] = row
  const [, , , , , , , , , , , , , personRowId, person, atMs, flags, note, reason, voidPerson, voidAt, nextSegment, nextNumber] = row
  return {
    rowId: id,
    locationRowId,
    instrumentRowId,
    personRowId,
    reading: {
      id: `${uuidText(segment)}:${number}`,
      point,
      sample,
      quantity,
      si,
      typed,
      unit,
      basis,
      instrumentId: uuidText(instrument),
      personId: uuidText(person),
      at: new Date(atMs).toISOString(),
      flags: parseFlags(flags),
      note,
      voided:
        reason === null || voidPerson === null || voidAt === null
          ? null
          : {
              at: voidAt,
              personId: uuidText(voidPerson),
              reason,
              replacedBy: nextSegment === null || nextNumber === null ? null : `${uuidText(nextSegment)}:${nextNumber}`,
            },
    },
  }
}

/** Flags are kept as words joined by blanks. */
export function parseFlags(text: string): ReadingFlag[] {
  return text === '' ? [] : (text.split(' ') as ReadingFlag[])
}

// Every cell costs time, so two whole numbers share one, and what is usual is not spelled out. A point without a reading has no quantity and no flags.
const MEASURED = `l.number,
         CASE WHEN l.kind = 'filter_point' AND (r.id IS NULL OR (r.quantity = 'velocity' AND r.flags = '')) THEN NULL
           ELSE l.kind || ',' || coalesce(r.quantity, '') || ',' || coalesce(r.flags, '') END,
         l.terminal_id, l.row_number * ${COLUMNS} + l.column_number, l.cell_area_m2, r.si, r.instrument_id * ${QUARTERS} + r.at_ms / ${QUARTER_HOUR_MS}`

/** Puts rows, those of one point side by side, in the order of the points' numbers, which they mostly have already. Answers how many points there are. */
function inPointOrder(rows: MeasuredRow[]): number {
  let points = 0
  let previous = 0
  let ordered = true
  for (const row of rows) {
    const point = row[0]
    if (point === previous) continue
    if (point < previous) ordered = false
    previous = point
    points += 1
  }
  if (!ordered) rows.sort(([one], [other]) => one - other)
  return points
}

/** The bulk of a file. Recording and the calculation go through prepared statements and plain rows. */
export function createReadingStore(file: ProjectFile) {
  const { db, segment } = file
  const ofRun = db.prepare<[number], Row>(`${SELECT} WHERE r.run_id = ? AND r.void_entry_id IS NULL`).raw()
  const voidedOfRun = db.prepare<[number], Row>(`${SELECT} WHERE r.run_id = ? AND r.void_entry_id IS NOT NULL`).raw()
  const byId = db
    .prepare<[Buffer, number], Row>(`${SELECT} WHERE r.segment_id = (SELECT id FROM segment WHERE uuid = ?) AND r.number = ?`)
    .raw()
  // Readings lead: their index is in the order of the points, and a point is found by its row. Seeking a reading for each point takes longer.
  const measured = db
    .prepare<[number], MeasuredRow>(
      `SELECT ${MEASURED} FROM reading r CROSS JOIN location l ON l.id = r.location_id
       WHERE r.run_id = ? AND r.void_entry_id IS NULL AND l.retired = 0 ORDER BY r.location_id, r.sample`,
    )
    .raw()
  const withUnmeasured = db
    .prepare<[number], MeasuredRow>(
      `SELECT ${MEASURED} FROM location l LEFT JOIN reading r ON r.run_id = l.run_id AND r.location_id = l.id AND r.void_entry_id IS NULL
       WHERE l.run_id = ? AND l.retired = 0 ORDER BY l.number`,
    )
    .raw()
  // Retired points count here, so that an index alone answers: where there are some, the points are sought one by one.
  const everyPoint = db.prepare<[number], number>('SELECT count(*) FROM location WHERE run_id = ?').pluck()
  const voidedCounts = db
    .prepare<[number], [number | null, number]>(
      `SELECT l.terminal_id, count(*) FROM reading r JOIN location l ON l.id = r.location_id
       WHERE r.run_id = ? AND r.void_entry_id IS NOT NULL GROUP BY l.terminal_id`,
    )
    .raw()
  const measuredPoints = db
    .prepare<[number], number>(
      `SELECT count(DISTINCT r.location_id) FROM reading r JOIN location l ON l.id = r.location_id
       WHERE r.run_id = ? AND r.void_entry_id IS NULL AND l.retired = 0`,
    )
    .pluck()
  const quartersRead = db
    .prepare<[number, number], number>(
      `SELECT DISTINCT at_ms / ${QUARTER_HOUR_MS} FROM reading WHERE run_id = ? AND void_entry_id IS NULL AND instrument_id = ?`,
    )
    .pluck()
  const lastNumber = db.prepare<[number], number | null>('SELECT max(number) FROM reading WHERE segment_id = ?').pluck()
  const lastRow = db.prepare<[], number | null>('SELECT max(id) FROM reading').pluck()
  const insert = db.prepare(
    `INSERT INTO reading (id, segment_id, number, run_id, location_id, sample, quantity, si, typed, unit, basis, instrument_id, person_id,
       at_ms, flags, note, entry_id) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
  )
  const markVoid = db.prepare<[number, string, number | null, number]>(
    'UPDATE reading SET void_entry_id = ?, void_reason = ?, replaced_by = ? WHERE id = ?',
  )
  const runOf = db.prepare<[number], number>('SELECT run_id FROM reading WHERE id = ?').pluck()

  let next: { segmentRowId: number; rowId: number; number: number } | null = null
  const firstFree = (segmentRowId: number) => ({
    segmentRowId,
    rowId: (lastRow.get() ?? 0) + 1,
    number: (lastNumber.get(segmentRowId) ?? 0) + 1,
  })
  const inOrder = (a: StoredReading, b: StoredReading) => a.rowId - b.rowId

  return {
    /** every reading of a run in the order of recording, voided ones included */
    ofRun: (runRowId: number): StoredReading[] => [...ofRun.all(runRowId), ...voidedOfRun.all(runRowId)].map(fromRow).sort(inOrder),
    inForce: (runRowId: number): StoredReading[] => ofRun.all(runRowId).map(fromRow),
    find(id: string): StoredReading | null {
      const colon = id.indexOf(':')
      const row = byId.get(Buffer.from(id.slice(0, colon).replaceAll('-', ''), 'hex'), Number(id.slice(colon + 1)))
      return row ? fromRow(row) : null
    },
    runOf: (rowId: number): number | null => runOf.get(rowId) ?? null,
    /** Points in use with the readings in force, ordered by location: the calculation's input. */
    measured(runRowId: number): MeasuredRow[] {
      const rows = measured.all(runRowId)
      return inPointOrder(rows) === everyPoint.get(runRowId) ? rows : withUnmeasured.all(runRowId)
    },
    voidedByTerminal: (runRowId: number): [number | null, number][] => voidedCounts.all(runRowId),
    /** The quarters of an hour, as the instant each began, in which an instrument was read in a run. */
    quartersRead: (runRowId: number, instrumentRowId: number): number[] =>
      quartersRead.all(runRowId, instrumentRowId).map((quarter) => quarter * QUARTER_HOUR_MS),
    measuredPoints: (runRowId: number): number => measuredPoints.get(runRowId) ?? 0,

    /**
     * Takes the next identity of this opening, before the row is written: a voided reading names its replacement, and the unique index
     * wants it voided first. Call {@link forgetNumbers} after a rollback.
     */
    reserve(): ReservedReading {
      if (segment === null) throw new Error('A file that is open for reading has no segment.')
      next ??= firstFree(segment.id)
      const reserved = { ...next, id: `${segment.uuid}:${next.number}` }
      next = { ...next, rowId: next.rowId + 1, number: next.number + 1 }
      return reserved
    },
    forgetNumbers(): void {
      next = null
    },
    insert({ segmentRowId, rowId, number }: ReservedReading, reading: NewReading, entryId: number): void {
      insert.run(
        rowId,
        segmentRowId,
        number,
        reading.runRowId,
        reading.locationRowId,
        reading.sample,
        reading.quantity,
        reading.si,
        reading.typed,
        reading.unit,
        reading.basis,
        reading.instrumentRowId,
        reading.personRowId,
        reading.atMs,
        reading.flags.join(' '),
        reading.note,
        entryId,
      )
    },
    void(rowId: number, reason: string, replacedByRowId: number | null, entryId: number): void {
      markVoid.run(entryId, reason, replacedByRowId, rowId)
    },
  }
}
