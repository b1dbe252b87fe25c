import type { z } from 'zod'
import type { ENTITY_SCHEMAS, EntityKind } from '#core/model/entities.ts'
import type { Entered, Unit } from '#core/model/values.ts'
import { toSi } from '#core/units/units.ts'

// The invented site of the shipped file, as bodies of the model of schema step 1: fields that came later are left out.

/** A body as it may be written: later fields have defaults. */
export type Written<K extends EntityKind> = z.input<(typeof ENTITY_SCHEMAS)[K]>

export function entered(typed: string, unit: Unit): Entered {
  return { si: toSi(Number(typed), unit), typed, unit }
}

export const PROJECT: Written<'project'> = {
  name: 'Erlbach mixing site',
  organisation: 'Luftgang Prüfdienst',
  timeZone: 'Europe/Vienna',
  display: { velocity: 'm/s', flow: 'm3/h', length: 'm', pressure: 'Pa', temperature: 'degC' },
  note: 'Shipped with schema step 1.',
}

export const TECHNICIAN: Written<'person'> = { name: 'Ines Hollerer', role: 'technician', organisation: '', active: true }
export const QUALITY: Written<'person'> = { name: 'Marek Sollner', role: 'quality', organisation: '', active: true }
export const FACILITY: Written<'facility'> = { name: 'Building 2', address: '', northDegrees: 30, altitudeM: 420, note: '' }

export function room(number: string, changes: Partial<Written<'room'>>): Written<'room'> {
  return {
    number,
    name: '',
    shape: { kind: 'rectangle', x: 0, y: 0, width: 5, depth: 4 },
    ceilingHeight: entered('3', 'm'),
    statedVolume: null,
    cleanlinessClass: 'ISO 7',
    occupancyState: 'at_rest',
    airflowType: 'non_unidirectional',
    designAirChangesPerHour: null,
    requiredAirChangesPerHour: null,
    designVelocity: null,
    criteriaSetId: null,
    overrides: [],
    hazards: [],
    inUse: true,
    note: '',
    ...changes,
  }
}

export function terminal(tag: string, x: number, y: number, changes: Partial<Written<'terminal'>> = {}): Written<'terminal'> {
  return {
    tag,
    kind: 'supply_filter',
    zoneId: null,
    x,
    y,
    rotationDegrees: 0,
    mounting: 'ceiling',
    grossWidth: entered('0.6', 'm'),
    grossDepth: entered('0.6', 'm'),
    effectiveArea: entered('0.32', 'm2'),
    face: 'bare',
    airSource: 'air_handler',
    designVelocity: null,
    designFlow: entered('500', 'm3/h'),
    correctionFactor: null,
    grid: { rows: 2, columns: 2 },
    closed: null,
    note: '',
    ...changes,
  }
}

export function probe(name: string, serialNumber: string): Written<'instrument'> {
  return {
    name,
    serialNumber,
    senses: [
      {
        quantity: 'velocity',
        low: entered('0.05', 'm/s'),
        high: entered('20', 'm/s'),
        resolution: entered('0.01', 'm/s'),
        accuracy: { form: 'sum_of', percentOfReading: 3, absolute: entered('0.02', 'm/s') },
      },
    ],
    sensing: 'directional',
    reportsReverseFlow: true,
    averagingTimeS: 10,
    basis: 'as_indicated',
    active: true,
    note: '',
  }
}

export function certificate(
  certificateNumber: string,
  calibratedOn: string,
  dueOn: string,
  changes: Partial<Written<'calibration'>> = {},
): Written<'calibration'> {
  return {
    certificateNumber,
    laboratory: '',
    calibratedOn,
    dueOn,
    range: null,
    foundInTolerance: null,
    release: null,
    note: '',
    ...changes,
  }
}
