import type { z } from 'zod'
import type { ExchangeAttachment, ExchangeReading, ExchangeSegment } from '#core/model/exchange.ts'
import type { ProjectFile } from './project-file.ts'
import { prepared } from './queries.ts'
import { parseFlags } from './readings.ts'
import { forgetTrailEnd } from './trail.ts'
import { scopeBytes, uuidBytes, uuidText } from './uuid-bytes.ts'

type Segment = z.infer<typeof ExchangeSegment>
type ReadingForm = z.infer<typeof ExchangeReading>
type AttachmentForm = z.infer<typeof ExchangeAttachment>

const place = (segment: Uint8Array, number: number): string => `${uuidText(segment)}:${number}`
const hex = (bytes: Uint8Array): string => Buffer.from(bytes).toString('hex')
const PLACE = (column: string, alias: string) =>
  `JOIN audit_entry ${alias} ON ${alias}.id = ${column} JOIN segment ${alias}s ON ${alias}s.id = ${alias}.segment_id`

/** Every row of a project file as the exchange form shows it, and back. Rows go in and out in the order of their keys. */
export function createExchangeRows(file: ProjectFile) {
  const { db } = file
  const entryAt = db
    .prepare<[Buffer, number], number>(
      `SELECT a.id FROM audit_entry a JOIN segment s ON s.id = a.segment_id WHERE s.uuid = ? AND a.number = ?`,
    )
    .pluck()
  const segmentOf = db.prepare<[Buffer], number>('SELECT id FROM segment WHERE uuid = ?').pluck()
  const rowOf = db.prepare<[Buffer], number>('SELECT id FROM entity WHERE uuid = ?').pluck()
  const locationOf = db.prepare<[number, number], number>('SELECT id FROM location WHERE run_id = ? AND number = ?').pluck()

  const known = <T>(value: T | undefined, what: string): T => {
    if (value === undefined) throw new Error(`${what} is not in the file`)
    return value
  }
  const entryId = (text: string): number => {
    const colon = text.indexOf(':')
    return known(entryAt.get(uuidBytes(text.slice(0, colon)), Number(text.slice(colon + 1))), `entry ${text}`)
  }
  const entityRow = (uuid: string): number => known(rowOf.get(uuidBytes(uuid)), `entity ${uuid}`)
  const segmentRow = (uuid: string): number => known(segmentOf.get(uuidBytes(uuid)), `segment ${uuid}`)

  return {
    segments: (): Segment[] =>
      db
        .prepare<[], [Uint8Array, string, string, string, string, number, string, Uint8Array]>(
          'SELECT uuid, opened_at, opened_by, opened_where, program, format_version, grew_from, first_hash FROM segment ORDER BY id',
        )
        .raw()
        .all()
        .map(([uuid, openedAt, openedBy, openedWhere, program, formatVersion, grewFrom, firstHash]) => ({
          id: uuidText(uuid),
          openedAt,
          openedBy,
          openedWhere,
          program,
          formatVersion,
          // Written as an array of texts.
          grewFrom: JSON.parse(grewFrom) as string[],
          firstHash: hex(firstHash),
        })),
    *entries(): Generator<{ hash: string; body: string }> {
      const rows = db.prepare<[], [string, Uint8Array]>('SELECT body, hash FROM audit_entry ORDER BY id').raw()
      for (const [body, hash] of rows.iterate()) yield { hash: hex(hash), body }
    },
    revisionPlaces: (rowId: number): { entry: string; body: string | null }[] =>
      db
        .prepare<[number], [Uint8Array, number, string | null]>(
          `SELECT es.uuid, e.number, r.body FROM entity_revision r ${PLACE('r.entry_id', 'e')} WHERE r.entity_id = ? ORDER BY r.number`,
        )
        .raw()
        .all(rowId)
        .map(([segment, number, body]) => ({ entry: place(segment, number), body })),
    entities: (): { rowId: number; kind: string; id: string; parentId: string | null }[] =>
      db
        .prepare<[], [number, string, Uint8Array, Uint8Array | null]>(
          'SELECT e.id, e.kind, e.uuid, p.uuid FROM entity e LEFT JOIN entity p ON p.id = e.parent_id ORDER BY e.id',
        )
        .raw()
        .all()
        .map(([rowId, kind, id, parent]) => ({ rowId, kind, id: uuidText(id), parentId: parent === null ? null : uuidText(parent) })),
    *readings(): Generator<ReadingForm> {
      const rows = db
        .prepare<
          [],
          [
            Uint8Array,
            number,
            Uint8Array,
            number,
            number,
            ReadingForm['quantity'],
            number,
            string,
            ReadingForm['unit'],
            ReadingForm['basis'],
            Uint8Array,
            Uint8Array,
            number,
            string,
            string,
            Uint8Array,
            number,
            Uint8Array | null,
            number | null,
            string | null,
            Uint8Array | null,
            number | null,
          ]
        >(
          `SELECT s.uuid, r.number, run.uuid, l.number, r.sample, r.quantity, r.si, r.typed, r.unit, r.basis, i.uuid, p.uuid, r.at_ms,
             r.flags, r.note, es.uuid, e.number, vs.uuid, v.number, r.void_reason, ns.uuid, n.number
           FROM reading r JOIN segment s ON s.id = r.segment_id JOIN entity run ON run.id = r.run_id JOIN location l ON l.id = r.location_id
           JOIN entity i ON i.id = r.instrument_id JOIN entity p ON p.id = r.person_id ${PLACE('r.entry_id', 'e')}
           LEFT JOIN audit_entry v ON v.id = r.void_entry_id LEFT JOIN segment vs ON vs.id = v.segment_id
           LEFT JOIN reading n ON n.id = r.replaced_by LEFT JOIN segment ns ON ns.id = n.segment_id ORDER BY r.id`,
        )
        .raw()
      for (const [
        segment,
        number,
        runId,
        point,
        sample,
        quantity,
        si,
        typed,
        unit,
        basis,
        instrument,
        person,
        atMs,
        flags,
        note,
        entrySegment,
        entryNumber,
        voidSegment,
        voidNumber,
        reason,
        nextSegment,
        nextNumber,
      ] of rows.iterate()) {
        yield {
          id: place(segment, number),
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
          runId: uuidText(runId),
          entry: place(entrySegment, entryNumber),
          voided:
            voidSegment === null || voidNumber === null
              ? null
              : {
                  entry: place(voidSegment, voidNumber),
                  reason: reason ?? '',
                  replacedBy: nextSegment === null || nextNumber === null ? null : place(nextSegment, nextNumber),
                },
        }
      }
    },
    entryPlace(id: number): string {
      const row = db
        .prepare<[number], [Uint8Array, number]>(
          'SELECT s.uuid, a.number FROM audit_entry a JOIN segment s ON s.id = a.segment_id WHERE a.id = ?',
        )
        .raw()
        .get(id)
      const [segment, number] = known(row, `entry ${id}`)
      return place(segment, number)
    },
    entryId,
    entityRow,

    insertSegment(segment: Segment): void {
      prepared<unknown[], unknown>(
        db,
        `INSERT INTO segment (uuid, opened_at, opened_by, opened_where, program, format_version, grew_from, first_hash)
         VALUES (?, ?, ?, ?, ?, ?, ?, ?)`,
      ).run(
        uuidBytes(segment.id),
        segment.openedAt,
        segment.openedBy,
        segment.openedWhere,
        segment.program,
        segment.formatVersion,
        JSON.stringify(segment.grewFrom),
        Buffer.from(segment.firstHash, 'hex'),
      )
    },
    insertEntry(entry: {
      segmentId: string
      number: number
      commandId: string
      scope: string
      personId: string
      undoes: string | null
      body: string
      hash: string
    }): void {
      forgetTrailEnd(db)
      prepared<unknown[], unknown>(
        db,
        'INSERT INTO audit_entry (segment_id, number, command_uuid, scope, person_uuid, undoes, body, hash) VALUES (?, ?, ?, ?, ?, ?, ?, ?)',
      ).run(
        segmentRow(entry.segmentId),
        entry.number,
        uuidBytes(entry.commandId),
        scopeBytes(entry.scope),
        uuidBytes(entry.personId),
        entry.undoes === null ? null : uuidBytes(entry.undoes),
        entry.body,
        Buffer.from(entry.hash, 'hex'),
      )
    },
    insertEntity(entity: { kind: string; id: string; parentId: string | null; revisions: { entry: string; body: string | null }[] }): void {
      const { lastInsertRowid } = prepared<unknown[], unknown>(
        db,
        'INSERT INTO entity (uuid, kind, parent_id, revision, removed) VALUES (?, ?, ?, ?, ?)',
      ).run(
        uuidBytes(entity.id),
        entity.kind,
        entity.parentId === null ? null : entityRow(entity.parentId),
        entity.revisions.length,
        entity.revisions.at(-1)?.body === null ? 1 : 0,
      )
      const insert = prepared<unknown[], unknown>(db, 'INSERT INTO entity_revision (entity_id, number, body, entry_id) VALUES (?, ?, ?, ?)')
      for (const [index, { entry, body }] of entity.revisions.entries()) insert.run(lastInsertRowid, index + 1, body, entryId(entry))
    },
    /** `rowId` is the reading's key, and `replacedBy` that of its replacement, which may come later. */
    insertReading(reading: ReadingForm, rowId: number, replacedBy: number | null): void {
      const runRow = entityRow(reading.runId)
      const colon = reading.id.indexOf(':')
      prepared<unknown[], unknown>(
        db,
        `INSERT INTO reading (id, segment_id, number, run_id, location_id, sample, quantity, si, typed, unit, basis, instrument_id, person_id,
           at_ms, flags, note, entry_id, void_entry_id, void_reason, replaced_by) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
      ).run(
        rowId,
        segmentRow(reading.id.slice(0, colon)),
        Number(reading.id.slice(colon + 1)),
        runRow,
        known(locationOf.get(runRow, reading.point), `point ${reading.point}`),
        reading.sample,
        reading.quantity,
        reading.si,
        reading.typed,
        reading.unit,
        reading.basis,
        entityRow(reading.instrumentId),
        entityRow(reading.personId),
        Date.parse(reading.at),
        reading.flags.join(' '),
        reading.note,
        entryId(reading.entry),
        reading.voided === null ? null : entryId(reading.voided.entry),
        reading.voided === null ? null : reading.voided.reason,
        replacedBy,
      )
    },
    insertAttachment(attachment: AttachmentForm): void {
      prepared<unknown[], unknown>(
        db,
        'INSERT INTO attachment (uuid, owner_id, sha256, name, media_type, bytes, entry_id) VALUES (?, ?, ?, ?, ?, ?, ?)',
      ).run(
        uuidBytes(attachment.id),
        entityRow(attachment.ownerId),
        Buffer.from(attachment.sha256, 'hex'),
        attachment.name,
        attachment.mediaType,
        attachment.bytes,
        entryId(attachment.entry),
      )
    },
  }
}
