import { mkdirSync } from 'node:fs'
import path from 'node:path'
import { createRouterClient } from '@orpc/server'
import { v7 } from 'uuid'
import type { EntityChange } from '#core/api/entities.ts'
import { startingCriteriaSets } from '#core/criteria/starting-sets.ts'
import type { EntityBody } from '#core/model/entities.ts'
import { LATER_FIELDS } from '#core/model/later-fields.ts'
import type { Entered, Unit } from '#core/model/values.ts'
import { createEngine, type Engine } from '#electron/engine.ts'

export type LargeProject = {
  readonly path: string
  readonly name: string
  readonly certificationIds: readonly string[]
  readonly runIds: readonly string[]
}

const NAME = 'Bench site'

const entered = (si: number, unit: Unit): Entered => ({ si, typed: String(si), unit })

/** The engine as a host has it, on files in one folder. */
export function benchEngine(folder: string, settingsFolder = path.join(folder, 'settings')): Engine {
  mkdirSync(folder, { recursive: true })
  return createEngine({
    host: 'headless',
    version: 'bench',
    clock: () => Date.now(),
    uuid: () => v7(),
    settingsFolder,
    access: { roots: () => [{ name: 'bench', path: folder }], allow: (requested) => requested },
  })
}

/** A site of rooms x filters, each visit measuring every filter at rows x columns points, all through the contract. */
export async function makeLargeProject(
  file: string,
  size: { rooms: number; filtersPerRoom: number; rows: number; columns: number; visits: number; lastVisitBlank?: boolean },
): Promise<LargeProject> {
  const engine = benchEngine(path.dirname(file))
  const api = createRouterClient(engine.router)
  const opened = await api.files.create({
    path: file,
    project: {
      name: NAME,
      organisation: '',
      timeZone: 'UTC',
      display: { velocity: 'm/s', flow: 'm3/h', length: 'm', pressure: 'Pa', temperature: 'degC' },
      note: '',
    },
    person: { name: 'Bench person', role: 'certifier', organisation: '', active: true },
  })
  const personId = opened.lastPersonId
  if (!personId) throw new Error('The new project names no person.')
  const command = () => ({ id: v7(), personId, reason: '' })
  const create = (changes: EntityChange[]) => api.entities.change({ command: command(), name: 'create', scope: 'project', changes })

  const criteriaSetId = v7()
  const instrumentId = v7()
  const facilityId = v7()
  const set =
    startingCriteriaSets().find((candidate) => candidate.name.toLowerCase().includes('unidirectional')) ?? startingCriteriaSets()[0]
  if (!set) throw new Error('There is no starting criteria set.')
  await create([
    { kind: 'criteria_set', id: criteriaSetId, parentId: null, revision: null, body: set },
    { kind: 'instrument', id: instrumentId, parentId: null, revision: null, body: ANEMOMETER },
    {
      kind: 'calibration',
      id: v7(),
      parentId: instrumentId,
      revision: null,
      body: {
        certificateNumber: 'B-1',
        laboratory: '',
        calibratedOn: '2020-01-01',
        dueOn: '2099-12-31',
        range: null,
        foundInTolerance: true,
        ...LATER_FIELDS.calibration,
        release: null,
        note: '',
      },
    },
    {
      kind: 'facility',
      id: facilityId,
      parentId: null,
      revision: null,
      body: { name: 'Hall', address: '', northDegrees: 0, altitudeM: null, note: '' },
    },
  ])

  const columns = Math.ceil(Math.sqrt(size.filtersPerRoom))
  const pitch = 1.3
  const roomIds: string[] = []
  for (let room = 0; room < size.rooms; room += 1) {
    const roomId = v7()
    roomIds.push(roomId)
    const left = room * (columns * pitch + 4)
    await create([
      { kind: 'room', id: roomId, parentId: facilityId, revision: null, body: roomBody(room, left, columns * pitch + 2, criteriaSetId) },
    ])
    await create(
      Array.from({ length: size.filtersPerRoom }, (_, index) => ({
        kind: 'terminal' as const,
        id: v7(),
        parentId: roomId,
        revision: null,
        body: filterBody(room, index, left + 1 + (index % columns) * pitch, 1 + Math.floor(index / columns) * pitch, size),
      })),
    )
  }

  const certificationIds: string[] = []
  const runIds: string[] = []
  for (let visit = 0; visit < size.visits; visit += 1) {
    const certificationId = v7()
    certificationIds.push(certificationId)
    const year = 2015 + visit
    await api.certifications.startFrom({
      command: command(),
      id: certificationId,
      previousId: certificationIds.at(-2) ?? null,
      name: `Certification ${year}`,
      startsOn: `${year}-05-04`,
      endsOn: `${year}-05-08`,
      purpose: 'periodic',
      why: '',
      roomIds,
    })
    for (const roomId of roomIds) {
      const runId = v7()
      runIds.push(runId)
      const detail = await api.runs.start({
        command: command(),
        id: runId,
        certificationId,
        roomId,
        zoneId: null,
        method: 'face_velocity_grid',
        phase: 'as_found',
        plane: { kind: 'filter_face', distanceM: 0.15 },
        occupancyState: 'at_rest',
        operatingState: { airHandler: '', doors: '', equipment: '' },
        facingDegrees: 0,
        unit: 'm/s',
        averagingTimeS: 10,
        samplesPerPoint: 1,
      })
      const blank = size.lastVisitBlank === true && visit === size.visits - 1
      const read = await api.runs.readCautions({ command: command(), runId, revision: detail.run.revision, cautions: [] })
      if (blank) continue
      for (let first = 0; first < detail.locations.length; first += 4500) {
        await api.readings.record({
          command: command(),
          runId,
          instrumentId,
          entries: detail.locations.slice(first, first + 4500).map((location) => ({
            point: location.number,
            sample: 1,
            typed: (0.45 - 0.002 * visit + 0.02 * Math.sin(location.number * 12.9898)).toFixed(3),
            unit: 'm/s' as const,
            replaces: null,
            note: '',
          })),
        })
      }
      await api.runs.complete({ command: command(), runId, revision: read.revision })
    }
  }
  await engine.close()
  return { path: file, name: NAME, certificationIds, runIds }
}

const ANEMOMETER: EntityBody<'instrument'> = {
  name: 'Thermal anemometer',
  serialNumber: 'BENCH-1',
  senses: [
    {
      quantity: 'velocity',
      low: entered(0.05, 'm/s'),
      high: entered(30, 'm/s'),
      resolution: entered(0.001, 'm/s'),
      accuracy: { form: 'sum_of', percentOfReading: 3, absolute: entered(0.02, 'm/s') },
    },
  ],
  sensing: 'directional',
  reportsReverseFlow: false,
  ...LATER_FIELDS.instrument,
  averagingTimeS: 10,
  // Read as the air is: the visits record no conditions, and the starting criteria speak of actual air.
  basis: 'actual',
  active: true,
  note: '',
}

function roomBody(room: number, left: number, side: number, criteriaSetId: string): EntityBody<'room'> {
  return {
    number: `B-${100 + room}`,
    name: '',
    shape: { kind: 'rectangle', x: left, y: 0, width: side, depth: side },
    ceilingHeight: entered(3, 'm'),
    statedVolume: null,
    cleanlinessClass: 'ISO 5',
    occupancyState: 'at_rest',
    airflowType: 'unidirectional',
    designAirChangesPerHour: null,
    requiredAirChangesPerHour: null,
    designVelocity: entered(0.45, 'm/s'),
    criteriaSetId,
    overrides: [],
    hazards: [],
    ...LATER_FIELDS.room,
    inUse: true,
    note: '',
  }
}

function filterBody(room: number, index: number, x: number, y: number, grid: { rows: number; columns: number }): EntityBody<'terminal'> {
  return {
    tag: `B-${100 + room}-${String(index + 1).padStart(3, '0')}`,
    kind: 'supply_filter',
    zoneId: null,
    x,
    y,
    rotationDegrees: 0,
    mounting: 'ceiling',
    grossWidth: entered(1.22, 'm'),
    grossDepth: entered(1.22, 'm'),
    effectiveArea: entered(1.3, 'm2'),
    face: 'screen',
    airSource: 'air_handler',
    designVelocity: entered(0.45, 'm/s'),
    designFlow: null,
    correctionFactor: null,
    grid: { rows: grid.rows, columns: grid.columns },
    closed: null,
    ...LATER_FIELDS.terminal,
    note: '',
  }
}
