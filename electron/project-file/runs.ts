import type { EntityBody, EntityKind } from '#core/model/entities.ts'
import { fillBody } from '#core/model/filled-bodies.ts'
import type { Location } from '#core/model/readings.ts'
import { readBody } from '#core/model/stored-bodies.ts'
import type { ProjectFile } from './project-file.ts'
import { terminalBodies } from './terminal-bodies.ts'
import { uuidOfHex, uuidText } from './uuid-bytes.ts'

export type Pin = {
  readonly rowId: number
  readonly id: string
  readonly kind: EntityKind
  readonly parentId: string | null
  readonly revision: number
  readonly body: EntityBody
  /** the entity's revision today, and whether it is still there */
  readonly latest: number
  readonly removed: boolean
}

type PinRow = [
  rowId: number,
  uuid: Uint8Array,
  kind: EntityKind,
  parent: Uint8Array | null,
  revision: number,
  body: string,
  latest: number,
  removed: number,
]

function toPin([rowId, uuid, kind, parent, revision, body, latest, removed]: PinRow): Pin {
  return {
    rowId,
    id: uuidText(uuid),
    kind,
    parentId: parent === null ? null : uuidText(parent),
    revision,
    body: readBody(kind, JSON.parse(body)),
    latest,
    removed: removed === 1,
  }
}

/** A pin as a calculation sees it; the parent of calibrations alone is told. */
export type CalculationPin = Omit<Pin, 'latest' | 'removed'>

/** What a calculation looks at of a run's pins: of the filter elements, which are many, only their models, by the row of the terminal they sit in. */
export type CalculationPins = { readonly pins: readonly CalculationPin[]; readonly models: ReadonlyMap<number, string> }

type CalculationPinRow = [
  rowId: number,
  kind: EntityKind,
  revision: number,
  uuid: string | null,
  calibrationOf: string | null,
  elementIn: number | null,
  /** the model alone of a filter element */
  body: string | null,
]

type ModelIn = { readonly terminalRowId: number; readonly model: string }

type ReadBody = (text: string) => unknown

function toCalculationPin([rowId, kind, revision, uuid, calibrationOf, , body]: CalculationPinRow, terminalBody: ReadBody): CalculationPin {
  const text = body ?? 'null'
  return {
    rowId,
    id: uuidOfHex(uuid ?? ''),
    kind,
    parentId: calibrationOf === null ? null : uuidOfHex(calibrationOf),
    revision,
    body: fillBody(kind, kind === 'terminal' ? terminalBody(text) : JSON.parse(text)),
  }
}

type ReadPin = { readonly revision: number; readonly pin: CalculationPin | null; readonly element: ModelIn | null }

function toReadPin(row: CalculationPinRow, terminalBody: ReadBody): ReadPin {
  const [, kind, revision, , , elementIn, body] = row
  if (kind !== 'filter_element') return { revision, pin: toCalculationPin(row, terminalBody), element: null }
  return { revision, pin: null, element: elementIn === null || body === null ? null : { terminalRowId: elementIn, model: body } }
}

export type StoredLocation = { readonly rowId: number; readonly terminalRowId: number | null; readonly location: Location }

type LocationRow = [
  rowId: number,
  number: number,
  kind: string,
  terminalRowId: number | null,
  terminal: Uint8Array | null,
  row: number,
  column: number,
  x: number,
  y: number,
  area: number,
  retired: number,
]

const LOCATION_COLUMNS = `l.id, l.number, l.kind, l.terminal_id, t.uuid, l.row_number, l.column_number, l.offset_x_m, l.offset_y_m,
  l.cell_area_m2, l.retired`

function toLocation(row: LocationRow): StoredLocation {
  const [rowId, number, kind, terminalRowId, terminal, rowNumber, column, offsetXM, offsetYM, cellAreaM2] = row
  return {
    rowId,
    terminalRowId,
    location: {
      number,
      // Only kinds of the model are ever written.
      kind: kind as Location['kind'],
      terminalId: terminal === null ? null : uuidText(terminal),
      row: rowNumber,
      column,
      offsetXM,
      offsetYM,
      cellAreaM2,
    },
  }
}

/** What a run owns besides its body: the revisions it uses and its point layout. */
export function createRunStore(file: ProjectFile) {
  const { db } = file
  const pins = db
    .prepare<[number], PinRow>(
      `SELECT e.id, e.uuid, e.kind, p.uuid, pin.revision, r.body, e.revision, e.removed
       FROM run_pin pin JOIN entity e ON e.id = pin.entity_id LEFT JOIN entity p ON p.id = e.parent_id
       JOIN entity_revision r ON r.entity_id = pin.entity_id AND r.number = pin.revision
       WHERE pin.run_id = ? ORDER BY e.id`,
    )
    .raw()
  const pinned = db.prepare<[number], [number, number]>('SELECT entity_id, revision FROM run_pin WHERE run_id = ? ORDER BY entity_id').raw()
  const pinsOfCalculation = db
    .prepare<[number], CalculationPinRow>(
      `SELECT e.id, e.kind, pin.revision, CASE WHEN e.kind <> 'filter_element' THEN lower(hex(e.uuid)) END,
         CASE WHEN e.kind = 'calibration' THEN (SELECT lower(hex(p.uuid)) FROM entity p WHERE p.id = e.parent_id) END,
         CASE WHEN e.kind = 'filter_element' THEN e.parent_id END,
         CASE WHEN e.kind = 'filter_element' THEN r.body ->> '$.model' ELSE r.body END
       FROM run_pin pin JOIN entity e ON e.id = pin.entity_id
       JOIN entity_revision r ON r.entity_id = pin.entity_id AND r.number = pin.revision
       WHERE pin.run_id = ? ORDER BY pin.entity_id`,
    )
    .raw()
  const read = new Map<number, ReadPin>()
  const readRuns = new Set<number>()
  const elements = db
    .prepare<[number], [Uint8Array, Uint8Array, string]>(
      `SELECT t.uuid, e.uuid, r.body ->> '$.serialNumber'
       FROM run_pin pin JOIN entity e ON e.id = pin.entity_id JOIN entity t ON t.id = e.parent_id
       JOIN entity_revision r ON r.entity_id = pin.entity_id AND r.number = pin.revision
       WHERE pin.run_id = ? AND e.kind = 'filter_element' ORDER BY e.id`,
    )
    .raw()
  const pinning = db.prepare<[number], number>('SELECT run_id FROM run_pin WHERE entity_id = ? ORDER BY run_id').pluck()
  const setPin = db.prepare<[number, number, number]>(
    `INSERT INTO run_pin (run_id, entity_id, revision) VALUES (?, ?, ?)
     ON CONFLICT (run_id, entity_id) DO UPDATE SET revision = excluded.revision`,
  )
  const dropPin = db.prepare<[number, number]>('DELETE FROM run_pin WHERE run_id = ? AND entity_id = ?')
  const locations = db
    .prepare<[number], LocationRow>(
      `SELECT ${LOCATION_COLUMNS} FROM location l LEFT JOIN entity t ON t.id = l.terminal_id WHERE l.run_id = ? ORDER BY l.number`,
    )
    .raw()
  const insertLocation = db.prepare(
    `INSERT INTO location (run_id, number, kind, terminal_id, row_number, column_number, offset_x_m, offset_y_m, cell_area_m2, retired)
     VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
  )
  const setRetired = db.prepare<[number, number, number]>('UPDATE location SET retired = ? WHERE run_id = ? AND number = ?')
  const counts = db
    .prepare<[number], [number, number]>(
      `SELECT count(DISTINCT l.terminal_id), count(*) FROM location l WHERE l.run_id = ? AND l.retired = 0`,
    )
    .raw()

  return {
    pins: (runRowId: number): Pin[] => pins.all(runRowId).map(toPin),
    /** The pins that a calculation looks at. A revision never changes, so it is read once; {@link forgetRevisions} after a rollback. */
    pinsOfCalculation(runRowId: number): CalculationPins {
      // What was never read is not compared first.
      const wanted = readRuns.has(runRowId) ? pinned.all(runRowId) : null
      const known = wanted?.every(([rowId, revision]) => read.get(rowId)?.revision === revision) ? wanted : null
      const pins: CalculationPin[] = []
      const models = new Map<number, string>()
      const add = ({ pin, element }: ReadPin) => {
        if (pin) pins.push(pin)
        if (element) models.set(element.terminalRowId, element.model)
      }
      for (const [rowId] of known ?? []) {
        const before = read.get(rowId)
        if (before) add(before)
      }
      if (known) return { pins, models }
      const terminalBody = terminalBodies()
      for (const row of pinsOfCalculation.all(runRowId)) {
        const [rowId, , revision] = row
        const before = read.get(rowId)
        const fresh = before?.revision === revision ? before : toReadPin(row, terminalBody)
        if (fresh !== before) read.set(rowId, fresh)
        add(fresh)
      }
      readRuns.add(runRowId)
      return { pins, models }
    },
    forgetRevisions(): void {
      read.clear()
      readRuns.clear()
    },
    elements: (runRowId: number): { terminalId: string; id: string; serialNumber: string }[] =>
      elements.all(runRowId).map(([terminal, element, serialNumber]) => ({
        terminalId: uuidText(terminal),
        id: uuidText(element),
        serialNumber,
      })),
    /** The runs that use an entity. */
    pinning: (entityRowId: number): number[] => pinning.all(entityRowId),
    pin: (runRowId: number, entityRowId: number, revision: number): void => {
      setPin.run(runRowId, entityRowId, revision)
    },
    unpin: (runRowId: number, entityRowId: number): void => {
      dropPin.run(runRowId, entityRowId)
    },

    /**
     * The points in use, in the order they are walked: filters in the order of the first layout, points of a filter by number. So a
     * filter whose grid was changed later keeps its place on the path.
     */
    locations(runRowId: number): StoredLocation[] {
      const rows = locations.all(runRowId)
      const place = new Map<number | null, number>()
      for (const row of rows) if (!place.has(row[3])) place.set(row[3], place.size)
      return rows
        .filter((row) => row[10] === 0)
        .map(toLocation)
        .sort((a, b) => (place.get(a.terminalRowId) ?? 0) - (place.get(b.terminalRowId) ?? 0) || a.location.number - b.location.number)
    },
    everyLocation: (runRowId: number): (StoredLocation & { retired: boolean })[] =>
      locations.all(runRowId).map((row) => ({ ...toLocation(row), retired: row[10] === 1 })),
    addLocation(runRowId: number, location: Location, terminalRowId: number | null, retired = false): number {
      return Number(
        insertLocation.run(
          runRowId,
          location.number,
          location.kind,
          terminalRowId,
          location.row,
          location.column,
          location.offsetXM,
          location.offsetYM,
          location.cellAreaM2,
          retired ? 1 : 0,
        ).lastInsertRowid,
      )
    },
    setRetired: (runRowId: number, number: number, retired: boolean): void => {
      setRetired.run(retired ? 1 : 0, runRowId, number)
    },
    planned: (runRowId: number): { terminals: number; points: number } => {
      const [terminals, points] = counts.get(runRowId) ?? [0, 0]
      return { terminals, points }
    },
  }
}
