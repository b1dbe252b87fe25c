import type { EntityBody } from '#core/model/entities.ts'
import { LATER_FIELDS } from '#core/model/later-fields.ts'
import type { Entered, PlanPoint, Unit } from '#core/model/values.ts'
import { fromSi, toSi } from '#core/units/units.ts'

type LengthUnit = 'm' | 'ft'
type AreaUnit = 'm2' | 'ft2'

/** A value that the program proposes, written as a person would type it. `si` is rounded to what the text says. */
export function proposed(si: number, unit: Extract<Unit, 'm' | 'm2' | 'm3' | 'm/s'>): Entered {
  const text = String(Number(si.toFixed(4)))
  return { si: Number(text), typed: text, unit }
}

/** A length that the program proposes, in round figures of the reader's unit. */
export function proposedLength(round: { readonly m: number; readonly ft: number }, unit: LengthUnit): Entered {
  return unit === 'm' ? proposed(round.m, 'm') : { si: toSi(round.ft, 'ft'), typed: String(round.ft), unit: 'ft' }
}

/** Breadth of the frame on each side that the proposed effective area leaves out, m (common practice; the data sheet decides). */
export const FRAME_M = 0.025

/** Proposed open area of a face, m2: inside the frame, never more than the gross face. Written in `unit`. */
export function proposedEffectiveArea(widthM: number, depthM: number, unit: AreaUnit = 'm2'): Entered {
  const open = Math.max(widthM - 2 * FRAME_M, widthM / 2) * Math.max(depthM - 2 * FRAME_M, depthM / 2)
  const areaM2 = Math.min(open, widthM * depthM)
  if (unit === 'm2') return proposed(areaM2, 'm2')
  const typed = String(Number(fromSi(areaM2, 'ft2').toFixed(2)))
  return { si: toSi(Number(typed), 'ft2'), typed, unit: 'ft2' }
}

/** A supply filter of a usual size, 0.61 x 1.22 m or 2 x 4 ft, as the first one of a room. */
export function freshTerminal(tag: string, at: PlanPoint, zoneId: string | null, unit: LengthUnit = 'm'): EntityBody<'terminal'> {
  const grossWidth = proposedLength({ m: 0.61, ft: 2 }, unit)
  const grossDepth = proposedLength({ m: 1.22, ft: 4 }, unit)
  return {
    tag,
    kind: 'supply_filter',
    zoneId,
    x: at.x,
    y: at.y,
    rotationDegrees: 0,
    mounting: 'ceiling',
    grossWidth,
    grossDepth,
    effectiveArea: proposedEffectiveArea(grossWidth.si, grossDepth.si, unit === 'm' ? 'm2' : 'ft2'),
    face: 'bare',
    airSource: 'air_handler',
    designVelocity: null,
    designFlow: null,
    correctionFactor: null,
    grid: null,
    closed: null,
    ...LATER_FIELDS.terminal,
    note: '',
  }
}

export function freshRoom(number: string, name: string): EntityBody<'room'> {
  return {
    number,
    name,
    shape: { kind: 'rectangle', x: 0, y: 0, width: 6, depth: 4 },
    ceilingHeight: proposed(2.7, 'm'),
    statedVolume: null,
    cleanlinessClass: 'ISO 8',
    occupancyState: 'at_rest',
    airflowType: 'non_unidirectional',
    designAirChangesPerHour: null,
    requiredAirChangesPerHour: null,
    designVelocity: null,
    criteriaSetId: null,
    overrides: [],
    hazards: [],
    ...LATER_FIELDS.room,
    inUse: true,
    note: '',
  }
}

export function freshZone(name: string, boundary: PlanPoint[], room: EntityBody<'room'>): EntityBody<'zone'> {
  return {
    name,
    boundary,
    cleanlinessClass: 'ISO 5',
    occupancyState: room.occupancyState,
    designVelocity: proposed(0.45, 'm/s'),
    criteriaSetId: null,
    overrides: [],
    note: '',
  }
}

export function freshDoor(roomId: string, otherId: string | null, at: PlanPoint, rotationDegrees: number): EntityBody<'door'> {
  return {
    name: '',
    roomIds: [roomId, otherId],
    x: at.x,
    y: at.y,
    width: 0.9,
    rotationDegrees,
    leastPressureDifference: null,
    ...LATER_FIELDS.door,
    note: '',
  }
}
