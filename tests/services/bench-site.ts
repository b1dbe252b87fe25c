import { mkdtempSync, realpathSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { createRouterClient, type RouterClient } from '@orpc/server'
import { v7 } from 'uuid'
import type { Command } from '#core/api/base.ts'
import type { EntityChange } from '#core/api/entities.ts'
import type { EntityBody } from '#core/model/entities.ts'
import { LATER_FIELDS } from '#core/model/later-fields.ts'
import type { Entered, Unit } from '#core/model/values.ts'
import { toSi } from '#core/units/units.ts'
import { createEngine, type Engine, type EngineOptions } from '#electron/engine.ts'
import { problem } from '#electron/project-file/problem.ts'

export type Client = RouterClient<Engine['router']>

export type House = {
  readonly folder: string
  readonly engine: Engine
  readonly client: Client
  /** the clock of this engine; tests move it */
  readonly clock: { now: number }
  readonly newCommand: (personId: string, reason?: string) => Command
}

/** An engine on a real folder with a clock that only the test moves. */
export function startHouse(more: Partial<EngineOptions> = {}): House {
  const folder = realpathSync(mkdtempSync(path.join(os.tmpdir(), 'facegrid-services-')))
  const clock = { now: Date.parse('2026-03-02T08:00:00.000Z') }
  const engine = createEngine({
    host: 'headless',
    version: '0.0.0-test',
    clock: () => {
      clock.now += 1000
      return clock.now
    },
    uuid: () => v7(),
    settingsFolder: path.join(folder, 'settings'),
    access: {
      roots: () => [{ name: 'work', path: folder }],
      allow: (requested) => {
        if (path.relative(folder, requested).startsWith('..'))
          throw problem('refused', { code: 'host.outside_folders', params: { path: requested } })
        return requested
      },
    },
    ...more,
  })
  const client: Client = createRouterClient(engine.router)
  return { folder, engine, client, clock, newCommand: (personId, reason = '') => ({ id: v7(), personId, reason }) }
}

export function entered(value: number, unit: Unit): Entered {
  return { si: toSi(value, unit), typed: String(value), unit }
}

export const PROJECT: EntityBody<'project'> = {
  name: 'Lindenau filling site',
  organisation: 'Aufwind Reinraumpruefung',
  timeZone: 'Europe/Vienna',
  display: { velocity: 'm/s', flow: 'm3/h', length: 'm', pressure: 'Pa', temperature: 'degC' },
  note: '',
}

export const PERSON: EntityBody<'person'> = { name: 'Ines Hollerer', role: 'technician', organisation: '', active: true }

export const FACILITY: EntityBody<'facility'> = { name: 'Building 2', address: '', northDegrees: 0, altitudeM: null, note: '' }

export const ROOM: EntityBody<'room'> = {
  number: 'F-104',
  name: 'Filling',
  shape: { kind: 'rectangle', x: 0, y: 0, width: 5, depth: 4 },
  ceilingHeight: entered(3, 'm'),
  statedVolume: null,
  cleanlinessClass: 'ISO 7',
  occupancyState: 'at_rest',
  airflowType: 'non_unidirectional',
  designAirChangesPerHour: null,
  requiredAirChangesPerHour: 20,
  designVelocity: null,
  criteriaSetId: null,
  overrides: [],
  hazards: [],
  ...LATER_FIELDS.room,
  inUse: true,
  note: '',
}

export function terminal(tag: string, x: number, more: Partial<EntityBody<'terminal'>> = {}): EntityBody<'terminal'> {
  return {
    tag,
    kind: 'supply_filter',
    zoneId: null,
    x,
    y: 2,
    rotationDegrees: 0,
    mounting: 'ceiling',
    grossWidth: entered(0.6, 'm'),
    grossDepth: entered(0.6, 'm'),
    effectiveArea: entered(0.36, 'm2'),
    face: 'bare',
    airSource: 'air_handler',
    designVelocity: entered(0.45, 'm/s'),
    designFlow: null,
    correctionFactor: null,
    grid: { rows: 2, columns: 2 },
    closed: null,
    ...LATER_FIELDS.terminal,
    note: '',
    ...more,
  }
}

export const INSTRUMENT: EntityBody<'instrument'> = {
  name: 'Thermal probe 1',
  serialNumber: 'TP-0001',
  senses: [{ quantity: 'velocity', low: entered(0.05, 'm/s'), high: entered(30, 'm/s'), resolution: entered(0.01, 'm/s'), accuracy: null }],
  sensing: 'directional',
  reportsReverseFlow: false,
  ...LATER_FIELDS.instrument,
  averagingTimeS: 5,
  basis: 'actual',
  active: true,
  note: '',
}

export const CALIBRATION: EntityBody<'calibration'> = {
  certificateNumber: 'C-17',
  laboratory: '',
  calibratedOn: '2025-10-01',
  dueOn: '2026-09-30',
  range: null,
  foundInTolerance: true,
  ...LATER_FIELDS.calibration,
  release: null,
  note: '',
}

export type Site = {
  readonly personId: string
  readonly roomId: string
  readonly terminalIds: readonly string[]
  readonly instrumentId: string
  readonly certificationId: string
}

/** A new project with one room of two filters, an instrument in calibration and a certification. */
export async function buildSite(house: House, file = 'site.facegrid'): Promise<Site> {
  const { client } = house
  const opened = await client.files.create({ path: path.join(house.folder, file), project: PROJECT, person: PERSON })
  const personId = opened.lastPersonId ?? (await client.entities.list({ kinds: ['person'], within: null }))[0]?.id ?? ''
  const starting = (await client.criteria.starting()).find((set) => set.criteria.some((criterion) => criterion.quantity === 'air_changes'))
  if (!starting) throw new Error('no starting set')
  const ids = { facility: v7(), set: v7(), room: v7(), first: v7(), second: v7(), instrument: v7(), calibration: v7(), certification: v7() }
  const make = (change: Omit<EntityChange, 'revision'>): EntityChange => ({ ...change, revision: null }) as EntityChange
  await client.entities.change({
    command: house.newCommand(personId),
    name: 'create',
    scope: 'project',
    changes: [
      make({ kind: 'facility', id: ids.facility, parentId: null, body: FACILITY }),
      make({ kind: 'criteria_set', id: ids.set, parentId: null, body: starting }),
      make({ kind: 'room', id: ids.room, parentId: ids.facility, body: { ...ROOM, criteriaSetId: ids.set } }),
      make({ kind: 'terminal', id: ids.first, parentId: ids.room, body: terminal('T-1', 1) }),
      make({ kind: 'terminal', id: ids.second, parentId: ids.room, body: terminal('T-2', 3) }),
      make({ kind: 'instrument', id: ids.instrument, parentId: null, body: INSTRUMENT }),
      make({ kind: 'calibration', id: ids.calibration, parentId: ids.instrument, body: CALIBRATION }),
    ],
  })
  await client.certifications.startFrom({
    command: house.newCommand(personId),
    id: ids.certification,
    previousId: null,
    name: 'Certification 2026',
    startsOn: '2026-03-02',
    endsOn: '2026-03-03',
    purpose: 'periodic',
    why: '',
    roomIds: [ids.room],
  })
  return {
    personId,
    roomId: ids.room,
    terminalIds: [ids.first, ids.second],
    instrumentId: ids.instrument,
    certificationId: ids.certification,
  }
}

export async function startRun(
  house: House,
  site: Site,
  more: { phase?: 'as_found' | 'as_left'; samplesPerPoint?: number } = {},
): Promise<string> {
  const id = v7()
  await house.client.runs.start({
    command: house.newCommand(site.personId),
    id,
    certificationId: site.certificationId,
    roomId: site.roomId,
    zoneId: null,
    method: 'face_velocity_grid',
    phase: more.phase ?? 'as_found',
    plane: { kind: 'filter_face', distanceM: 0.15 },
    occupancyState: 'at_rest',
    operatingState: { airHandler: 'normal', doors: 'closed', equipment: 'off' },
    facingDegrees: 0,
    unit: 'm/s',
    averagingTimeS: 5,
    samplesPerPoint: more.samplesPerPoint ?? 1,
  })
  return id
}

export async function record(
  house: House,
  site: Site,
  runId: string,
  point: number,
  typed: string,
  replaces: string | null = null,
  personId = site.personId,
) {
  const [reading] = await house.client.readings.record({
    command: house.newCommand(personId),
    runId,
    instrumentId: site.instrumentId,
    entries: [{ point, sample: 1, typed, unit: 'm/s', replaces }],
  })
  if (!reading) throw new Error('no reading came back')
  return reading
}
