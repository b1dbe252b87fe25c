import { z } from 'zod'
import { CriterionOverride } from './criteria.ts'
import { AirflowType, Basis, CleanlinessClass, Entered, OccupancyState, PlanPoint, PlanShape, text, Uuid } from './values.ts'

// A field with a default came later than the first files; a body that was stored without it reads with the default and is never rewritten.

const halfWidth = 'half the width of a rectangle, percent; null takes the one of the criteria set'

/** Whole-project settings; exactly one per file. */
export const Project = z.strictObject({
  name: text.title,
  organisation: z.string().max(200).describe('who certifies'),
  timeZone: z.string().describe('IANA zone of the site, such as Europe/Vienna'),
  display: z.strictObject({
    velocity: z.enum(['m/s', 'ft/min']),
    flow: z.enum(['m3/h', 'L/s', 'm3/s', 'cfm']),
    length: z.enum(['m', 'ft']),
    pressure: z.enum(['Pa', 'inH2O']),
    temperature: z.enum(['degC', 'degF']),
  }),
  note: text.note,
})
export type Project = z.infer<typeof Project>

export const Person = z.strictObject({
  name: text.title,
  role: z.enum(['certifier', 'technician', 'quality']),
  organisation: z.string().max(200),
  active: z.boolean(),
})
export type Person = z.infer<typeof Person>

/** A building or area with a plan of its own. Parent: none. */
export const Facility = z.strictObject({
  name: text.title,
  address: z.string().max(500),
  northDegrees: z.number().min(0).lt(360).describe('clockwise from plan-up to north'),
  altitudeM: z.number().min(-500).max(6000).nullable(),
  note: text.note,
})
export type Facility = z.infer<typeof Facility>

export const Hazard = z.enum(['sterile', 'hazardous_drug', 'biological', 'aerosol'])
export type Hazard = z.infer<typeof Hazard>

/** Parent: facility. The plan shape is in the facility's plan coordinates. */
export const Room = z.strictObject({
  number: text.title.describe('such as F-104'),
  name: z.string().max(120),
  shape: PlanShape,
  ceilingHeight: Entered,
  statedVolume: z.strictObject({ volume: Entered, reason: z.string().trim().min(1).max(1000) }).nullable(),
  volumeUncertaintyPercent: z.number().min(0).max(50).nullable().default(null).describe(halfWidth),
  cleanlinessClass: CleanlinessClass,
  occupancyState: OccupancyState,
  airflowType: AirflowType,
  designAirChangesPerHour: z.number().positive().nullable(),
  requiredAirChangesPerHour: z.number().positive().nullable().describe('the minimum of a code or the site'),
  designVelocity: Entered.nullable(),
  criteriaSetId: Uuid.nullable(),
  overrides: z.array(CriterionOverride),
  hazards: z.array(Hazard),
  inUse: z.boolean(),
  note: text.note,
})
export type Room = z.infer<typeof Room>

/** A unidirectional area inside a room, judged on its own. Parent: room. */
export const Zone = z.strictObject({
  name: text.title,
  boundary: z.array(PlanPoint).min(3),
  cleanlinessClass: CleanlinessClass,
  occupancyState: OccupancyState,
  designVelocity: Entered.nullable(),
  criteriaSetId: Uuid.nullable(),
  overrides: z.array(CriterionOverride),
  note: text.note,
})
export type Zone = z.infer<typeof Zone>

/** A door or opening between two rooms, or to the outside (null). Parent: facility. */
export const Door = z.strictObject({
  name: z.string().max(120),
  roomIds: z.tuple([Uuid, Uuid.nullable()]),
  x: z.number(),
  y: z.number(),
  width: z.number().positive(),
  rotationDegrees: z.number().min(0).lt(360),
  leastPressureDifference: Entered.nullable(),
  transfer: z
    .strictObject({ flow: Entered, basis: Basis, how: z.string().trim().min(1).max(1000) })
    .nullable()
    .default(null)
    .describe('known air from the first room to the second, negative the other way, and how it is known'),
  note: text.note,
})
export type Door = z.infer<typeof Door>

/** The ductwork of one fan or air handler, and what its fan should move. Parent: facility. */
export const AirSystem = z.strictObject({
  name: text.title,
  designSupply: Entered.nullable(),
  designReturn: Entered.nullable(),
  designExhaust: Entered.nullable(),
  note: text.note,
})
export type AirSystem = z.infer<typeof AirSystem>
