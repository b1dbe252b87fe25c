import type { EntityBody } from '#core/model/entities.ts'
import { LATER_FIELDS } from '#core/model/later-fields.ts'
import type { Entered, PlanPoint, Unit } from '#core/model/values.ts'

/** A value that the program proposes, written as a person would type it. `si` is rounded to what the text says. */
export function proposed(si: number, unit: Extract<Unit, 'm' | 'm2' | 'm3' | 'm/s'>): Entered {
  const text = String(Number(si.toFixed(4)))
  return { si: Number(text), typed: text, unit }
}

/** Breadth of the frame on each side that the proposed effective area leaves out, m (common practice; the data sheet decides). */
export const FRAME_M = 0.025

/** Proposed open area of a face, m2: inside the frame, never more than the gross face. */
export function proposedEffectiveArea(widthM: number, depthM: number): Entered {
  const open = Math.max(widthM - 2 * FRAME_M, widthM / 2) * Math.max(depthM - 2 * FRAME_M, depthM / 2)
  return proposed(Math.min(open, widthM * depthM), 'm2')
}

/** A supply filter of a usual size, 0.61 x 1.22 m, as the first one of a room. */
export function freshTerminal(tag: string, at: PlanPoint, zoneId: string | null): EntityBody<'terminal'> {
  return {
    tag,
    kind: 'supply_filter',
    zoneId,
    x: at.x,
    y: at.y,
    rotationDegrees: 0,
    mounting: 'ceiling',
    grossWidth: proposed(0.61, 'm'),
    grossDepth: proposed(1.22, 'm'),
    effectiveArea: proposedEffectiveArea(0.61, 1.22),
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
