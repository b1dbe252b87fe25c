import type { MeasuredValue, Pinned, RunInput } from '#core/methods/method.ts'
import type { CriteriaSet, Criterion } from '#core/model/criteria.ts'
import type { EntityBody } from '#core/model/entities.ts'
import { LATER_FIELDS } from '#core/model/later-fields.ts'
import type { Location, ReadingFlag } from '#core/model/readings.ts'
import type { Entered, Unit, Uuid } from '#core/model/values.ts'
import { toSi } from '#core/units/units.ts'

/** A UUID that can be read: uuid(3) ends in ...003. */
export function uuid(number: number): Uuid {
  return `00000000-0000-7000-8000-${number.toString(16).padStart(12, '0')}`
}

export const ROOM_ID = uuid(0xa0)
export const ZONE_ID = uuid(0xb0)
export const INSTRUMENT_ID = uuid(0xc0)
export const CRITERIA_ID = uuid(0xd0)
export const RUN_ID = uuid(0xe0)
export const MEASURED_ON = '2026-03-02'

export function entered(value: number, unit: Unit): Entered {
  return { si: toSi(value, unit), typed: String(value), unit }
}

export function aRoom(changes: Partial<EntityBody<'room'>> = {}): EntityBody<'room'> {
  return {
    number: 'F-104',
    name: 'Filling',
    shape: { kind: 'rectangle', x: 0, y: 0, width: 5, depth: 4 },
    ceilingHeight: entered(3, 'm'),
    statedVolume: null,
    cleanlinessClass: 'ISO 7',
    occupancyState: 'at_rest',
    airflowType: 'non_unidirectional',
    designAirChangesPerHour: null,
    requiredAirChangesPerHour: null,
    designVelocity: null,
    criteriaSetId: CRITERIA_ID,
    overrides: [],
    hazards: [],
    ...LATER_FIELDS.room,
    inUse: true,
    note: '',
    ...changes,
  }
}

export function aZone(changes: Partial<EntityBody<'zone'>> = {}): EntityBody<'zone'> {
  return {
    name: 'Line',
    boundary: [
      { x: 0, y: 0 },
      { x: 2, y: 0 },
      { x: 2, y: 2 },
    ],
    cleanlinessClass: 'ISO 5',
    occupancyState: 'at_rest',
    designVelocity: null,
    criteriaSetId: null,
    overrides: [],
    note: '',
    ...changes,
  }
}

export function aTerminal(changes: Partial<EntityBody<'terminal'>> = {}): EntityBody<'terminal'> {
  return {
    tag: 'F-104-01',
    kind: 'supply_filter',
    zoneId: null,
    x: 1,
    y: 1,
    rotationDegrees: 0,
    mounting: 'ceiling',
    grossWidth: entered(1.22, 'm'),
    grossDepth: entered(0.61, 'm'),
    effectiveArea: entered(0.7, 'm2'),
    face: 'bare',
    airSource: 'air_handler',
    designVelocity: null,
    designFlow: null,
    correctionFactor: null,
    grid: null,
    closed: null,
    ...LATER_FIELDS.terminal,
    note: '',
    ...changes,
  }
}

export function anInstrument(changes: Partial<EntityBody<'instrument'>> = {}): EntityBody<'instrument'> {
  return {
    name: 'Thermal probe A',
    serialNumber: 'FG-0001',
    senses: [
      { quantity: 'velocity', low: entered(0.05, 'm/s'), high: entered(30, 'm/s'), resolution: entered(0.01, 'm/s'), accuracy: null },
    ],
    sensing: 'directional',
    reportsReverseFlow: false,
    ...LATER_FIELDS.instrument,
    averagingTimeS: 5,
    basis: 'standard',
    active: true,
    note: '',
    ...changes,
  }
}

export function aCalibration(changes: Partial<EntityBody<'calibration'>> = {}): EntityBody<'calibration'> {
  return {
    certificateNumber: 'C-1',
    laboratory: '',
    calibratedOn: '2025-06-01',
    dueOn: '2026-05-31',
    range: null,
    foundInTolerance: null,
    ...LATER_FIELDS.calibration,
    release: null,
    note: '',
    ...changes,
  }
}

export function aRun(changes: Partial<EntityBody<'run'>> = {}): EntityBody<'run'> {
  return {
    roomId: ROOM_ID,
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
    ...changes,
  }
}

export function aCriterion(changes: Partial<Criterion> & Pick<Criterion, 'quantity' | 'scope' | 'form'>): Criterion {
  return { key: 'it', title: 'It', plane: 'any', basis: 'as_indicated', on: true, alert: null, source: 'a test', ...changes }
}

export function aSet(criteria: Criterion[], changes: Partial<CriteriaSet> = {}): CriteriaSet {
  return {
    name: 'A set',
    decisionRule: { kind: 'simple' },
    ...LATER_FIELDS.criteria_set,
    comparison: 'absolute',
    criteria,
    note: '',
    ...changes,
  }
}

/** One reading, or several samples at a point, or a reading with flags, instrument or day of its own; null leaves the point out. */
export type Given =
  | number
  | null
  | readonly number[]
  | { readonly si: number; readonly flags?: readonly ReadingFlag[]; readonly instrumentId?: Uuid; readonly on?: string }

export type GivenFilter = {
  readonly terminal?: Partial<EntityBody<'terminal'>>
  readonly readings: readonly Given[]
  /** area of each cell in m2; the same for all when left out */
  readonly cells?: readonly number[]
}

export type GivenRun = {
  readonly filters: readonly GivenFilter[]
  readonly others?: readonly Partial<EntityBody<'terminal'>>[]
  readonly criteria?: Criterion[]
  readonly set?: Partial<CriteriaSet>
  readonly room?: Partial<EntityBody<'room'>>
  readonly zones?: readonly Pinned<'zone'>[]
  readonly zoneCriteria?: RunInput['zoneCriteria']
  readonly run?: Partial<EntityBody<'run'>>
  readonly instrument?: Partial<EntityBody<'instrument'>>
  readonly calibrations?: readonly EntityBody<'calibration'>[]
  readonly voided?: ReadonlyMap<Uuid, number>
  readonly facilityAltitudeM?: number | null
  readonly doors?: readonly Pinned<'door'>[]
}

export function terminalId(index: number): Uuid {
  return uuid(0x100 + index)
}

function readingsAt(point: number, given: Given): MeasuredValue[] {
  if (given === null) return []
  const one = (si: number, rest: Exclude<Given, number | null | readonly number[]> = { si }): MeasuredValue => ({
    point,
    si,
    flags: rest.flags ?? [],
    instrumentId: rest.instrumentId ?? INSTRUMENT_ID,
    localDate: rest.on ?? MEASURED_ON,
  })
  if (typeof given === 'number') return [one(given)]
  if ('si' in given) return [one(given.si, given)]
  return given.map((si) => one(si))
}

/** A run over one room with the readings given filter by filter, points numbered in that order. */
export function faceRun(given: GivenRun): RunInput {
  const locations: Location[] = []
  const values: MeasuredValue[] = []
  const terminals = given.filters.map(({ terminal, readings, cells }, index): Pinned<'terminal'> => {
    const id = terminalId(index)
    for (const [place, reading] of readings.entries()) {
      const number = locations.length + 1
      locations.push({
        number,
        kind: 'filter_point',
        terminalId: id,
        row: 1,
        column: place + 1,
        offsetXM: 0,
        offsetYM: 0,
        cellAreaM2: cells?.[place] ?? 0.09,
      })
      values.push(...readingsAt(number, reading))
    }
    return { id, revision: 1, body: aTerminal({ tag: `F-104-0${index + 1}`, ...terminal }) }
  })
  const others = (given.others ?? []).map(
    (body, index): Pinned<'terminal'> => ({ id: uuid(0x900 + index), revision: 1, body: aTerminal(body) }),
  )
  return {
    runId: RUN_ID,
    run: aRun(given.run),
    room: { id: ROOM_ID, revision: 1, body: aRoom(given.room) },
    zones: given.zones ?? [],
    terminals: [...terminals, ...others],
    instruments: [{ id: INSTRUMENT_ID, revision: 1, body: anInstrument(given.instrument) }],
    calibrations: (given.calibrations ?? [aCalibration()]).map((body, index) => ({
      id: uuid(0x800 + index),
      revision: 1,
      instrumentId: INSTRUMENT_ID,
      body,
    })),
    criteriaSet: given.criteria ? { id: CRITERIA_ID, revision: 1, body: aSet(given.criteria, given.set) } : null,
    zoneCriteria: given.zoneCriteria ?? new Map(),
    locations,
    values,
    voidedByTerminal: given.voided ?? new Map(),
    facilityAltitudeM: given.facilityAltitudeM ?? null,
    doors: given.doors ?? [],
  }
}
