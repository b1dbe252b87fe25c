import { z } from 'zod'
import { Entered, Instant, MeasuringPlane, OccupancyState, Phase, PlainDate, text, Unit, Uuid } from './values.ts'

// A field with a default came later than the first files; a body that was stored without it reads with the default and is never rewritten.

/** A visit or campaign. Parent: none. */
export const Certification = z.strictObject({
  name: text.title,
  startsOn: PlainDate,
  endsOn: PlainDate,
  purpose: z.enum(['initial', 'periodic', 'after_change', 'investigation']),
  why: text.note,
  personIds: z.array(Uuid),
  roomIds: z.array(Uuid).describe('rooms in scope of this visit'),
  previousId: Uuid.nullable(),
  finished: z.boolean(),
})
export type Certification = z.infer<typeof Certification>

export const MethodId = z
  .enum(['face_velocity_grid', 'room_airflow', 'plane_velocity_grid'])
  .describe('velocities under supply filters; the flow of every terminal of a room by its way; velocities over the plane of a zone')
export type MethodId = z.infer<typeof MethodId>

export const OperatingState = z.strictObject({
  airHandler: z.string().max(200),
  doors: z.string().max(200),
  equipment: z.string().max(200),
})
export type OperatingState = z.infer<typeof OperatingState>

/** Temperature, relative humidity and absolute station pressure of the air at one place. */
export const Conditions = z.strictObject({
  temperature: Entered.nullable(),
  relativeHumidity: Entered.nullable(),
  pressure: Entered.nullable(),
})
export type Conditions = z.infer<typeof Conditions>

/** Pressure over a door; the first room of the door above the second is positive. */
export const DoorPressure = z.strictObject({ doorId: Uuid, difference: Entered, instrumentId: Uuid.nullable() })
export type DoorPressure = z.infer<typeof DoorPressure>

/** Something that does not suit, and why the run goes on all the same. */
export const AcceptedMisfit = z.strictObject({
  code: z.string().max(60),
  terminalId: Uuid.nullable(),
  instrumentId: Uuid.nullable(),
  reason: z.string().trim().min(1).max(1000),
  personId: Uuid,
  at: Instant,
})
export type AcceptedMisfit = z.infer<typeof AcceptedMisfit>

/** The question that carrying asks. Only readings of air that neither the fan nor a main damper has moved since may be carried. */
export const fanOrMainDamperMoved = z
  .boolean()
  .nullable()
  .default(null)
  .describe('whether the fan or a main damper was moved since as found; only false can be carried, null is a run from before this was kept')

export const MissingReason = z.strictObject({
  terminalIds: z.array(Uuid),
  cause: z.enum(['inaccessible', 'obstructed', 'not_in_operation', 'other']),
  note: z.string().max(1000),
})
export type MissingReason = z.infer<typeof MissingReason>

/** A test run: one room or zone by one method. Parent: certification. Its point layout and pinned revisions are rows of their own. */
export const Run = z.strictObject({
  roomId: Uuid,
  zoneId: Uuid.nullable(),
  method: MethodId,
  phase: Phase,
  plane: MeasuringPlane,
  occupancyState: OccupancyState,
  operatingState: OperatingState,
  facingDegrees: z
    .union([z.literal(0), z.literal(90), z.literal(180), z.literal(270)])
    .describe('clockwise from plan-up to the way the technician faced when the points were laid out'),
  unit: Unit.describe('unit the run is logged in'),
  averagingTimeS: z.number().positive(),
  samplesPerPoint: z.number().int().min(1).max(20),
  otherUnits: z
    .strictObject({ flow: Unit, pressure: Unit })
    .nullable()
    .default(null)
    .describe('for flows and pressures; null: the display units'),
  conditions: Conditions.describe('of the air at the filter'),
  instrumentConditions: Conditions.nullable().default(null).describe('of the air at the instrument, where it differs'),
  planeGrid: z
    .strictObject({ rows: z.number().int().min(1).max(60), columns: z.number().int().min(1).max(60) })
    .nullable()
    .default(null)
    .describe('of a measuring plane; null takes the proposed grid'),
  acceptedMisfits: z.array(AcceptedMisfit).default([]),
  carried: z
    .array(
      z.strictObject({
        terminalIds: z.array(Uuid).min(1),
        fromRunId: Uuid,
        reason: z.string().trim().min(1).max(1000),
        fanOrMainDamperMoved,
      }),
    )
    .default([])
    .describe('terminals whose as-found readings stand in this as-left run'),
  doorPressures: z.array(DoorPressure).default([]),
  cautionsRead: z.array(z.strictObject({ personId: Uuid, at: Instant, cautions: z.array(z.string()) })),
  missing: z.array(MissingReason),
  state: z.enum(['open', 'complete', 'signed']),
  note: text.note,
})
export type Run = z.infer<typeof Run>
