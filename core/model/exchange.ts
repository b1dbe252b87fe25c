import { z } from 'zod'
import { EntityKind } from './entities.ts'
import { Location, Reading } from './readings.ts'
import { AcceptedMisfit, fanOrMainDamperMoved, MethodId, MissingReason, OperatingState, Run } from './runs.ts'
import { Instant, MeasuringPlane, OccupancyState, Phase, Unit, Uuid } from './values.ts'

/** Version of the exchange form. A reader refuses what it does not know. */
export const EXCHANGE_FORMAT_VERSION = 1

const sha256 = z.string().regex(/^[0-9a-f]{64}$/, { error: '64 hex digits' })
const EntryPlace = z
  .string()
  .regex(/^[0-9a-f-]{36}:\d+$/)
  .describe('segment UUID and number of the audit entry, joined by a colon')

const head = { format: z.literal('facegrid exchange'), formatVersion: z.literal(EXCHANGE_FORMAT_VERSION) }

// ---- the full form: everything a project file holds, so that export, import and export again give the same bytes -------------

export const ExchangeSegment = z.strictObject({
  id: Uuid,
  openedAt: Instant,
  openedBy: z.string(),
  openedWhere: z.string(),
  program: z.string(),
  formatVersion: z.number().int(),
  grewFrom: z.array(sha256),
  firstHash: sha256,
})

export const ExchangeEntry = z.strictObject({
  hash: sha256.describe('SHA-256 of the hash before it and the canonical JSON (RFC 8785) of body'),
  body: z.looseObject({
    segmentId: Uuid,
    number: z.number().int().positive(),
    commandId: Uuid,
    scope: z.string(),
    personId: Uuid,
    undoes: Uuid.nullable(),
    formatVersion: z.number().int(),
  }),
})

export const ExchangeEntity = z.strictObject({
  kind: EntityKind,
  id: Uuid,
  parentId: Uuid.nullable(),
  revisions: z
    .array(z.strictObject({ entry: EntryPlace, body: z.record(z.string(), z.unknown()).nullable().describe('null where it was removed') }))
    .min(1)
    .describe('the first is revision 1'),
})

export const ExchangeRunRows = z.strictObject({
  runId: Uuid,
  pins: z.array(z.strictObject({ id: Uuid, revision: z.number().int().positive() })),
  points: z.array(Location.extend({ retired: z.boolean() })),
})

export const ExchangeReading = Reading.omit({ voided: true }).extend({
  runId: Uuid,
  entry: EntryPlace,
  voided: z.strictObject({ entry: EntryPlace, reason: z.string(), replacedBy: Reading.shape.id.nullable() }).nullable(),
})

export const ExchangeSignedResult = z.strictObject({
  runId: Uuid,
  entry: EntryPlace,
  calculationVersion: z.number().int(),
  sha256,
  result: z.record(z.string(), z.unknown()),
})

export const ExchangeAttachment = z.strictObject({
  id: Uuid,
  ownerId: Uuid,
  name: z.string(),
  mediaType: z.string(),
  bytes: z.number().int(),
  sha256,
  entry: EntryPlace,
})

export const FullExchange = z.strictObject({
  ...head,
  form: z.literal('full'),
  segments: z.array(ExchangeSegment),
  trail: z.array(ExchangeEntry),
  entities: z.array(ExchangeEntity),
  runs: z.array(ExchangeRunRows),
  readings: z.array(ExchangeReading),
  signedResults: z.array(ExchangeSignedResult),
  attachments: z.array(ExchangeAttachment),
  contents: z.array(z.strictObject({ sha256, base64: z.base64() })),
})
export type FullExchange = z.infer<typeof FullExchange>

// ---- the short form: what a person or a laboratory system writes by hand ------------------------------------------------------

export const ShortEntity = z.strictObject({
  kind: EntityKind.exclude(['run']),
  id: Uuid,
  parentId: Uuid.nullable().default(null),
  body: z
    .record(z.string(), z.unknown())
    .describe('the body of the kind; `si` of an entered value, and fields with a neutral value, may be left out'),
})

/** A value as it was typed; `si` may be left out. */
const ShortEntered = z.strictObject({ typed: z.string().min(1).max(40), unit: Unit, si: z.number().optional() })

const ShortConditions = z.strictObject({
  temperature: ShortEntered.nullable().default(null),
  relativeHumidity: ShortEntered.nullable().default(null),
  pressure: ShortEntered.nullable().default(null).describe('absolute station pressure; the standard atmosphere at the site where left out'),
})

export const ShortReading = z.strictObject({
  terminal: z.string().optional().describe('tag of the terminal within the room; left out for a point on the plane of a zone'),
  point: z.number().int().positive().optional().describe('1 is the first point of this terminal on the way through it'),
  row: z.number().int().positive().optional().describe('1 is farthest ahead as the technician faced; together with column'),
  column: z.number().int().positive().optional().describe('1 is at the left hand'),
  sample: z.number().int().positive().default(1),
  typed: z.string().min(1).max(40),
  unit: Unit.optional().describe('where left out: the unit of the run for velocities, else the one of otherUnits, else the display unit'),
  at: Instant.optional().describe('the time of the run where left out'),
  instrumentId: Uuid.optional(),
  personId: Uuid.optional(),
  note: z.string().max(1000).default(''),
})

export const ShortRun = z.strictObject({
  id: Uuid,
  certificationId: Uuid,
  roomId: Uuid,
  zoneId: Uuid.nullable().default(null),
  method: MethodId.default('face_velocity_grid'),
  phase: Phase,
  plane: MeasuringPlane,
  occupancyState: OccupancyState,
  operatingState: OperatingState.default({ airHandler: '', doors: '', equipment: '' }),
  facingDegrees: Run.shape.facingDegrees.default(0),
  unit: Unit,
  averagingTimeS: z.number().positive(),
  samplesPerPoint: z.number().int().min(1).max(20).default(1),
  at: Instant.describe('time of every reading that does not say another'),
  instrumentId: Uuid,
  personId: Uuid,
  grids: z
    .array(z.strictObject({ terminal: z.string(), rows: z.number().int().min(1).max(40), columns: z.number().int().min(1).max(40) }))
    .default([])
    .describe('the points of each filter; the terminal’s own or the proposed grid where left out'),
  planeGrid: Run.shape.planeGrid.describe('of a measuring plane; the proposed grid where left out'),
  conditions: ShortConditions.optional().describe('of the air at the filter'),
  instrumentConditions: ShortConditions.nullable().default(null).describe('of the air at the instrument, where it differs'),
  otherUnits: Run.shape.otherUnits.describe('for flows and pressures; the display units where left out'),
  doorPressures: z
    .array(z.strictObject({ doorId: Uuid, difference: ShortEntered, instrumentId: Uuid.nullable().default(null) }))
    .default([])
    .describe('the first room of the door above the second is positive'),
  acceptedMisfits: z
    .array(
      AcceptedMisfit.omit({ terminalId: true, instrumentId: true, personId: true, at: true }).extend({
        terminal: z.string().optional(),
        instrumentId: Uuid.nullable().default(null),
        personId: Uuid.optional().describe('the person of the run where left out'),
        at: Instant.optional(),
      }),
    )
    .default([]),
  carried: z
    .array(
      z.strictObject({
        terminals: z.array(z.string()).min(1),
        fromRunId: Uuid,
        reason: z.string().trim().min(1).max(1000),
        fanOrMainDamperMoved,
      }),
    )
    .default([])
    .describe('terminals whose as-found readings stand in this as-left run; the run they come from stands before this one'),
  readings: z.array(ShortReading),
  missing: z.array(MissingReason).default([]),
  complete: z.boolean().default(true),
  note: z.string().max(4000).default(''),
})

export const ShortExchange = z.strictObject({
  ...head,
  form: z.literal('short'),
  entities: z.array(ShortEntity),
  runs: z.array(ShortRun).default([]),
})
export type ShortExchange = z.infer<typeof ShortExchange>

/** A whole project as JSON, in one of two forms. */
export const Exchange = z.discriminatedUnion('form', [FullExchange, ShortExchange])
export type Exchange = z.infer<typeof Exchange>
