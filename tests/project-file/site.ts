import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { v7 } from 'uuid'
import type { AuditChange } from '#core/model/audit.ts'
import type { EntityBody, EntityKind } from '#core/model/entities.ts'
import { LATER_FIELDS } from '#core/model/later-fields.ts'
import type { Location, Reading } from '#core/model/readings.ts'
import { canonicalJson } from '#electron/project-file/canonical.ts'
import { createProjectFile, type OpenOptions } from '#electron/project-file/open.ts'
import type { ProjectFile } from '#electron/project-file/project-file.ts'
import { appendEntry } from '#electron/project-file/trail.ts'
import { uuidBytes } from '#electron/project-file/uuid-bytes.ts'

/** A folder of its own per test, on the disk the tests run on. */
export function temporaryFolder(): { readonly path: string; readonly remove: () => void } {
  const path = mkdtempSync(join(tmpdir(), 'facegrid-test-'))
  return { path, remove: () => rmSync(path, { recursive: true, force: true }) }
}

export const OPTIONS: OpenOptions = {
  clock: () => Date.parse('2026-03-02T08:15:00.000Z'),
  uuid: () => v7(),
  who: 'A. Tester',
  where: 'bench-7',
  version: '0.0.0-test',
}

const AT = '2026-03-02T08:15:00.000Z'
const length = (si: number) => ({ si, typed: String(si), unit: 'm' as const })

/** Rows that a small run needs, and how to record a reading into them. */
export type Site = {
  readonly runId: string
  readonly runRow: number
  readonly personId: string
  readonly personRow: number
  readonly instrumentId: string
  readonly instrumentRow: number
  readonly terminalId: string
}

type Added = { readonly id: string; readonly row: number }

function add<K extends EntityKind>(
  file: ProjectFile,
  personId: string,
  kind: K,
  parent: Added | null,
  body: EntityBody<K>,
  id = v7(),
  more: readonly AuditChange[] = [],
): Added {
  const { entryId } = appendEntry(file, {
    commandId: v7(),
    command: 'create',
    scope: 'project',
    personId,
    at: AT,
    zone: 'Europe/Vienna',
    reason: '',
    undoes: null,
    changes: [
      { what: 'entity', kind, id, parentId: parent?.id ?? null, revisionBefore: null, revisionAfter: 1, before: null, after: body },
      ...more,
    ],
  })
  const row = Number(
    file.db
      .prepare('INSERT INTO entity (uuid, kind, parent_id, revision, removed) VALUES (?, ?, ?, 1, 0)')
      .run(uuidBytes(id), kind, parent?.row ?? null).lastInsertRowid,
  )
  file.db
    .prepare('INSERT INTO entity_revision (entity_id, number, body, entry_id) VALUES (?, 1, ?, ?)')
    .run(row, canonicalJson(body), entryId)
  return { id, row }
}

/** One room with one filter, an instrument, a certification and an open run of `points` points. */
export function addSite(file: ProjectFile, points: number): Site {
  return file.db
    .transaction((): Site => {
      const personId = v7()
      const person = add(
        file,
        personId,
        'person',
        null,
        { name: 'A. Tester', role: 'technician', organisation: '', active: true },
        personId,
      )
      add(file, personId, 'project', null, {
        name: 'Test hall',
        organisation: '',
        timeZone: 'Europe/Vienna',
        display: { velocity: 'm/s', flow: 'm3/h', length: 'm', pressure: 'Pa', temperature: 'degC' },
        note: '',
      })
      const facility = add(file, personId, 'facility', null, { name: 'Hall', address: '', northDegrees: 0, altitudeM: null, note: '' })
      const room = add(file, personId, 'room', facility, {
        number: 'T-1',
        name: '',
        shape: { kind: 'rectangle', x: 0, y: 0, width: 5, depth: 4 },
        ceilingHeight: length(2.7),
        statedVolume: null,
        cleanlinessClass: 'ISO 5',
        occupancyState: 'at_rest',
        airflowType: 'unidirectional',
        designAirChangesPerHour: null,
        requiredAirChangesPerHour: null,
        designVelocity: null,
        criteriaSetId: null,
        overrides: [],
        hazards: [],
        ...LATER_FIELDS.room,
        inUse: true,
        note: '',
      })
      const terminal = add(file, personId, 'terminal', room, {
        tag: 'F-1',
        kind: 'supply_filter',
        zoneId: null,
        x: 1,
        y: 1,
        rotationDegrees: 0,
        mounting: 'ceiling',
        grossWidth: length(1.2),
        grossDepth: length(0.6),
        effectiveArea: { si: 0.65, typed: '0.65', unit: 'm2' },
        face: 'bare',
        airSource: 'air_handler',
        designVelocity: null,
        designFlow: null,
        correctionFactor: null,
        grid: null,
        closed: null,
        ...LATER_FIELDS.terminal,
        note: '',
      })
      const instrument = add(file, personId, 'instrument', null, {
        name: 'Hot-film probe',
        serialNumber: 'test-1',
        senses: [
          {
            quantity: 'velocity',
            low: { si: 0.05, typed: '0.05', unit: 'm/s' },
            high: { si: 30, typed: '30', unit: 'm/s' },
            resolution: { si: 0.01, typed: '0.01', unit: 'm/s' },
            accuracy: null,
          },
        ],
        sensing: 'directional',
        reportsReverseFlow: false,
        ...LATER_FIELDS.instrument,
        averagingTimeS: 5,
        basis: 'as_indicated',
        active: true,
        note: '',
      })
      const certification = add(file, personId, 'certification', null, {
        name: 'Certification 2026',
        startsOn: '2026-03-02',
        endsOn: '2026-03-03',
        purpose: 'periodic',
        why: '',
        personIds: [personId],
        roomIds: [room.id],
        previousId: null,
        finished: false,
      })
      const runId = v7()
      const laidOut = Array.from({ length: points }, (_, index): Location => {
        const number = index + 1
        const place = { offsetXM: 0, offsetYM: 0, cellAreaM2: 0.08 }
        return { number, kind: 'filter_point', terminalId: terminal.id, row: 1, column: number, ...place }
      })
      const body: EntityBody<'run'> = {
        roomId: room.id,
        zoneId: null,
        method: 'face_velocity_grid',
        phase: 'as_found',
        plane: { kind: 'filter_face', distanceM: 0.15 },
        occupancyState: 'at_rest',
        operatingState: { airHandler: '', doors: '', equipment: '' },
        facingDegrees: 0,
        unit: 'm/s',
        averagingTimeS: 5,
        samplesPerPoint: 1,
        conditions: { temperature: null, relativeHumidity: null, pressure: null },
        cautionsRead: [],
        ...LATER_FIELDS.run,
        missing: [],
        state: 'open',
        note: '',
      }
      const run = add(file, personId, 'run', certification, body, runId, [
        ...[room, terminal].map(({ id }): AuditChange => ({ what: 'pin', runId, entityId: id, revisionBefore: null, revisionAfter: 1 })),
        { what: 'layout', runId, terminalIds: [terminal.id], before: [], after: laidOut },
      ])
      const pin = file.db.prepare('INSERT INTO run_pin (run_id, entity_id, revision) VALUES (?, ?, 1)')
      for (const { row } of [room, terminal]) pin.run(run.row, row)
      const location = file.db.prepare(
        `INSERT INTO location (run_id, number, kind, terminal_id, row_number, column_number, offset_x_m, offset_y_m, cell_area_m2)
       VALUES (?, ?, 'filter_point', ?, 1, ?, 0, 0, 0.08)`,
      )
      for (let number = 1; number <= points; number += 1) location.run(run.row, number, terminal.row, number)
      return {
        runId: run.id,
        runRow: run.row,
        personId,
        personRow: person.row,
        instrumentId: instrument.id,
        instrumentRow: instrument.row,
        terminalId: terminal.id,
      }
    })
    .immediate()
}

export function makeSite(path: string, points = 9, options: OpenOptions = OPTIONS): { file: ProjectFile; site: Site } {
  const file = createProjectFile(path, options)
  return { file, site: addSite(file, points) }
}

/** Records one reading as the recording command does: reading and audit entry in one durable transaction. Answers its identity. */
export function recordReading(file: ProjectFile, site: Site, point: number, si: number, sample = 1): string {
  return file.db
    .transaction((): string => {
      if (!file.segment) throw new Error('open for reading only')
      const number = Number(
        file.db.prepare('SELECT coalesce(max(number), 0) + 1 FROM reading WHERE segment_id = ?').pluck().get(file.segment.id),
      )
      const reading: Reading = {
        id: `${file.segment.uuid}:${number}`,
        point,
        sample,
        quantity: 'velocity',
        si,
        typed: String(si),
        unit: 'm/s',
        basis: 'as_indicated',
        instrumentId: site.instrumentId,
        personId: site.personId,
        at: AT,
        flags: [],
        note: '',
        voided: null,
      }
      const { entryId } = appendEntry(file, {
        commandId: v7(),
        command: 'reading.record',
        scope: site.runId,
        personId: site.personId,
        at: AT,
        zone: 'Europe/Vienna',
        reason: '',
        undoes: null,
        changes: [{ what: 'reading', runId: site.runId, reading }],
      })
      file.db
        .prepare(
          `INSERT INTO reading (segment_id, number, run_id, location_id, sample, quantity, si, typed, unit, basis, instrument_id, person_id,
           at_ms, entry_id)
         VALUES (?, ?, ?, (SELECT id FROM location WHERE run_id = ? AND number = ?), ?, 'velocity', ?, ?, 'm/s', 'as_indicated', ?, ?, ?, ?)`,
        )
        .run(
          file.segment.id,
          number,
          site.runRow,
          site.runRow,
          point,
          sample,
          si,
          String(si),
          site.instrumentRow,
          site.personRow,
          Date.parse(AT),
          entryId,
        )
      return reading.id
    })
    .immediate()
}
