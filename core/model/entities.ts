import { z } from 'zod'
import { CriteriaSet, CriterionOverride } from './criteria.ts'
import { ImportMapping } from './import-mapping.ts'
import {
  AirflowType,
  Basis,
  CleanlinessClass,
  Entered,
  Instant,
  MeasuringPlane,
  OccupancyState,
  Phase,
  PlainDate,
  PlanPoint,
  PlanShape,
  Quantity,
  text,
  Unit,
  Uuid,
} from './values.ts'

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

export const AirDirection = z.enum(['supply', 'return', 'exhaust'])
export type AirDirection = z.infer<typeof AirDirection>

/** The ways in which the flow of one terminal is measured. */
export const FlowWay = z.enum(['face_grid', 'hood', 'duct_traverse', 'flow_element'])
export type FlowWay = z.infer<typeof FlowWay>

/** Where a duct is traversed and how. Sizes are inside, lining taken off. Straight duct behind and ahead of the section, seen with the air. */
export const Duct = z.strictObject({
  section: z.discriminatedUnion('shape', [
    z.strictObject({ shape: z.literal('rectangle'), width: Entered, height: Entered }),
    z.strictObject({ shape: z.literal('round'), diameter: Entered }),
  ]),
  rule: z.enum(['log_tchebycheff', 'log_linear', 'equal_area']),
  lines: z.number().int().min(1).max(40).nullable().describe("null takes the rule's own number for the size"),
  pointsPerLine: z.number().int().min(1).max(40).nullable(),
  measures: z.enum(['velocity', 'velocity_pressure']),
  pitotCoefficient: z.number().positive().max(2),
  direction: AirDirection,
  countsInRoom: z.boolean().describe("its flow stands for the room's flow in this direction, in place of the terminals' own"),
  straightBefore: Entered.nullable(),
  straightAfter: Entered.nullable(),
  cyclonic: z.boolean().nullable().describe('swirl found in the duct; null when nobody looked'),
})
export type Duct = z.infer<typeof Duct>

const elementUncertainty = z.number().min(0).max(50).nullable().default(null).describe(halfWidth)

/** An orifice, nozzle or venturi with its stated coefficient, or a stated flow at one pascal and the density it was stated for. */
export const FlowElement = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('discharge'),
    coefficient: z.number().positive().max(2),
    boreDiameter: Entered,
    ductDiameter: Entered,
    expansibility: z.number().positive().max(1),
    uncertaintyPercent: elementUncertainty,
  }),
  z.strictObject({
    kind: z.literal('stated'),
    flowAtOnePascal: Entered,
    statedDensityKgpm3: z.number().positive().max(5),
    uncertaintyPercent: elementUncertainty,
  }),
])
export type FlowElement = z.infer<typeof FlowElement>

export const TerminalKind = z.enum(['supply_filter', 'fan_filter_unit', 'return_grille', 'exhaust_grille', 'duct_section'])
export type TerminalKind = z.infer<typeof TerminalKind>

export const TerminalFace = z.enum(['bare', 'screen', 'swirl', 'louvre', 'grille'])
export type TerminalFace = z.infer<typeof TerminalFace>

/**
 * A place in the ceiling, wall or duct, for life. Parent: room. x and y are the centre of its face on the facility's plan;
 * width runs along x and depth along y before the rotation. For a wall terminal width is across and depth is the height of the
 * face, seen from the room.
 */
export const Terminal = z.strictObject({
  tag: text.title,
  kind: TerminalKind,
  zoneId: Uuid.nullable(),
  x: z.number(),
  y: z.number(),
  rotationDegrees: z.number().min(0).lt(360),
  mounting: z.enum(['ceiling', 'wall', 'duct']),
  grossWidth: Entered,
  grossDepth: Entered,
  effectiveArea: Entered.describe('open area that the air leaves through, m2'),
  face: TerminalFace,
  airSource: z.enum(['air_handler', 'recirculated', 'shared_plenum', 'device']),
  designVelocity: Entered.nullable(),
  designFlow: Entered.nullable(),
  correctionFactor: z
    .strictObject({
      factor: z.number().positive(),
      reason: z.string().trim().min(1).max(1000),
      uncertaintyPercent: z.number().min(0).max(50).nullable().default(null).describe(halfWidth),
    })
    .nullable(),
  areaUncertaintyPercent: z.number().min(0).max(50).nullable().default(null).describe(halfWidth),
  measuredBy: FlowWay.nullable().default(null).describe('null takes the way proposed for its kind and face'),
  duct: Duct.nullable().default(null),
  flowElement: FlowElement.nullable().default(null),
  airSystemId: Uuid.nullable().default(null),
  adjustable: z.boolean().default(true).describe('false where nothing can be set: no damper, or one at its end'),
  grid: z
    .strictObject({ rows: z.number().int().min(1).max(40), columns: z.number().int().min(1).max(40) })
    .nullable()
    .describe('null takes the proposed grid'),
  closed: z
    .strictObject({ reason: z.string().trim().min(1).max(1000) })
    .nullable()
    .describe('a recorded zero'),
  note: text.note,
})
export type Terminal = z.infer<typeof Terminal>

/** The filter that sits in a terminal for a while. Parent: terminal. */
export const FilterElement = z.strictObject({
  serialNumber: z.string().max(120),
  model: z.string().max(120),
  installedOn: PlainDate,
  removedOn: PlainDate.nullable(),
  note: text.note,
})
export type FilterElement = z.infer<typeof FilterElement>

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

export const Accuracy = z.strictObject({
  form: z.enum(['sum_of', 'greater_of']),
  percentOfReading: z.number().min(0),
  absolute: Entered,
})
export type Accuracy = z.infer<typeof Accuracy>

export const SensedQuantity = z.strictObject({
  quantity: Quantity,
  low: Entered,
  high: Entered,
  resolution: Entered,
  accuracy: Accuracy.nullable(),
})
export type SensedQuantity = z.infer<typeof SensedQuantity>

/** The ductwork of one fan or air handler, and what its fan should move. Parent: facility. */
export const AirSystem = z.strictObject({
  name: text.title,
  designSupply: Entered.nullable(),
  designReturn: Entered.nullable(),
  designExhaust: Entered.nullable(),
  note: text.note,
})
export type AirSystem = z.infer<typeof AirSystem>

/** Parent: none. */
export const Instrument = z.strictObject({
  name: text.title,
  serialNumber: z.string().trim().min(1).max(120),
  senses: z.array(SensedQuantity).min(1),
  sensing: z.enum(['directional', 'omnidirectional', 'not_directional']),
  reportsReverseFlow: z.boolean(),
  averagingTimeS: z.number().positive().nullable(),
  basis: Basis.describe('which air its velocity or flow speaks of; as indicated where that is not stated, and then nothing is converted'),
  worksByPressure: z.boolean().default(false).describe('shows velocity or flow of standard air worked out from a pressure (square root)'),
  standardCondition: z.strictObject({ temperature: Entered, pressure: Entered }).nullable().default(null),
  hoodFactors: z
    .array(
      z.strictObject({
        face: TerminalFace,
        low: Entered,
        high: Entered,
        factor: z.number().positive().max(5),
        uncertaintyPercent: z.number().min(0).max(50).nullable().describe(halfWidth),
        reason: z.string().trim().min(1).max(1000),
      }),
    )
    .default([]),
  correctsByPoints: z.boolean().default(false).describe("readings are corrected by the certificate's points"),
  active: z.boolean(),
  note: text.note,
})
export type Instrument = z.infer<typeof Instrument>

/** One certificate. Parent: instrument. The due date is the last valid day. */
export const Calibration = z.strictObject({
  certificateNumber: text.title,
  laboratory: z.string().max(200),
  calibratedOn: PlainDate,
  dueOn: PlainDate,
  range: z.strictObject({ quantity: Quantity, low: Entered, high: Entered }).nullable().describe('calibrated range, where narrower'),
  foundInTolerance: z.boolean().nullable().describe('as found at this calibration; null when not stated'),
  release: z
    .strictObject({ number: text.title, reason: z.string().trim().min(1).max(1000) })
    .nullable()
    .describe('a numbered deviation that releases readings made past due before this certificate'),
  points: z
    .array(
      z.strictObject({
        quantity: Quantity,
        reading: Entered,
        trueValue: Entered,
        expandedUncertainty: Entered,
        coverageFactor: z.number().positive().max(10),
      }),
    )
    .default([]),
  uncertainty: z
    .array(
      z.strictObject({
        quantity: Quantity,
        expandedPercentOfReading: z.number().min(0).max(100),
        expandedAbsolute: Entered,
        coverageFactor: z.number().positive().max(10),
      }),
    )
    .default([])
    .describe('stated for the whole range, one line per quantity'),
  drift: z
    .array(z.strictObject({ quantity: Quantity, halfWidth: Entered }))
    .default([])
    .describe('within which it may move until the due date, one line per quantity'),
  note: text.note,
})
export type Calibration = z.infer<typeof Calibration>

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

export const ENTITY_SCHEMAS = {
  project: Project,
  person: Person,
  facility: Facility,
  room: Room,
  zone: Zone,
  terminal: Terminal,
  filter_element: FilterElement,
  door: Door,
  air_system: AirSystem,
  instrument: Instrument,
  calibration: Calibration,
  criteria_set: CriteriaSet,
  import_mapping: ImportMapping,
  certification: Certification,
  run: Run,
} as const

export type EntityKind = keyof typeof ENTITY_SCHEMAS
export const EntityKind = z.enum(Object.keys(ENTITY_SCHEMAS) as [EntityKind, ...EntityKind[]])
export type EntityBody<K extends EntityKind = EntityKind> = { [P in K]: z.infer<(typeof ENTITY_SCHEMAS)[P]> }[K]

/** The kind of parent each kind must have; null stands at the top of the project. */
export const PARENT_KIND: { readonly [K in EntityKind]: EntityKind | null } = {
  project: null,
  person: null,
  facility: null,
  room: 'facility',
  zone: 'room',
  terminal: 'room',
  filter_element: 'terminal',
  door: 'facility',
  air_system: 'facility',
  instrument: null,
  calibration: 'instrument',
  criteria_set: null,
  import_mapping: null,
  certification: null,
  run: 'certification',
}

/** One entity as it stands at one revision. */
export type Entity<K extends EntityKind = EntityKind> = {
  [P in K]: { kind: P; id: Uuid; parentId: Uuid | null; revision: number; removed: boolean; body: EntityBody<P> }
}[K]

const entitySchema = <K extends EntityKind>(kind: K) =>
  z.strictObject({
    kind: z.literal(kind),
    id: Uuid,
    parentId: Uuid.nullable(),
    revision: z.number().int().positive(),
    removed: z.boolean(),
    body: ENTITY_SCHEMAS[kind],
  })

export const AnyEntity = z.discriminatedUnion('kind', [
  entitySchema('project'),
  entitySchema('person'),
  entitySchema('facility'),
  entitySchema('room'),
  entitySchema('zone'),
  entitySchema('terminal'),
  entitySchema('filter_element'),
  entitySchema('door'),
  entitySchema('air_system'),
  entitySchema('instrument'),
  entitySchema('calibration'),
  entitySchema('criteria_set'),
  entitySchema('import_mapping'),
  entitySchema('certification'),
  entitySchema('run'),
])
