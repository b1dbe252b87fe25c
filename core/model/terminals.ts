import { z } from 'zod'
import { Entered, PlainDate, text, Uuid } from './values.ts'

// A field with a default came later than the first files; a body that was stored without it reads with the default and is never rewritten.

const halfWidth = 'half the width of a rectangle, percent; null takes the one of the criteria set'

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
  countsInRoom: z
    .boolean()
    .describe(
      "its flow stands for the room's terminals in this direction on its air system, in place of their own; a terminal or duct that names no system is taken to be on the same",
    ),
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
