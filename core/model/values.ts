import { z } from 'zod'

/** A version 7 UUID, lower case with hyphens: the only identity that the contract, the exchange form and the audit trail show. */
export const Uuid = z
  .string()
  .regex(/^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$/, { error: 'is no UUID in lower case with hyphens' })
export type Uuid = z.infer<typeof Uuid>

/** An instant in UTC, ISO 8601 with milliseconds, such as 2026-03-02T08:15:00.000Z. */
export const Instant = z.iso.datetime({ precision: 3, error: 'is no instant in UTC such as 2026-03-02T08:15:00.000Z' })
export type Instant = z.infer<typeof Instant>

/** A plain calendar date, such as 2026-03-02: due dates, visit dates. */
export const PlainDate = z.iso.date()
export type PlainDate = z.infer<typeof PlainDate>

/** Every unit a value may be typed or shown in. The SI unit of each dimension comes first in its group. */
export const UNITS = [
  'm/s',
  'ft/min',
  'm3/s',
  'm3/h',
  'L/s',
  'cfm',
  'm',
  'mm',
  'ft',
  'in',
  'm2',
  'ft2',
  'm3',
  'ft3',
  'Pa',
  'hPa',
  'kPa',
  'inH2O',
  'inHg',
  'degC',
  'degF',
  '%',
  '1/h',
  's',
  'min',
] as const
export const Unit = z.enum(UNITS)
export type Unit = z.infer<typeof Unit>

const DIMENSIONS = [
  'velocity',
  'flow',
  'length',
  'area',
  'volume',
  'pressure',
  'temperature',
  'percent',
  'air_change_rate',
  'duration',
] as const
export const Dimension = z.enum(DIMENSIONS)
export type Dimension = z.infer<typeof Dimension>

/** What a person typed, kept beside the SI value it stands for: `{ si: 0.4572, typed: '90', unit: 'ft/min' }`. */
export const Entered = z.strictObject({
  si: z.number().describe('value in the SI unit of its dimension (m/s, m3/s, m, m2, m3, Pa, degC, %, 1/h, s)'),
  typed: z.string().max(40),
  unit: Unit,
})
export type Entered = z.infer<typeof Entered>

/** Which air a velocity or flow speaks of (domain: basis). Until conditions are recorded everything is as indicated. */
export const Basis = z.enum(['as_indicated', 'standard', 'actual'])
export type Basis = z.infer<typeof Basis>

/** What a reading measures. */
export const Quantity = z.enum([
  'velocity',
  'flow',
  'pressure_difference',
  'velocity_pressure',
  'temperature',
  'relative_humidity',
  'barometric_pressure',
])
export type Quantity = z.infer<typeof Quantity>

/** ISO 14644-1 classes as text, with the intermediate ones; 'unclassified' where no class is claimed. */
export const CleanlinessClass = z.enum([
  'ISO 1',
  'ISO 2',
  'ISO 3',
  'ISO 4',
  'ISO 4.5',
  'ISO 5',
  'ISO 5.5',
  'ISO 6',
  'ISO 6.5',
  'ISO 7',
  'ISO 7.5',
  'ISO 8',
  'ISO 8.5',
  'ISO 9',
  'unclassified',
])
export type CleanlinessClass = z.infer<typeof CleanlinessClass>

export const OccupancyState = z.enum(['as_built', 'at_rest', 'in_operation'])
export type OccupancyState = z.infer<typeof OccupancyState>

export const AirflowType = z.enum(['unidirectional', 'non_unidirectional'])
export type AirflowType = z.infer<typeof AirflowType>

/** A point of a plan in metres, x to the right, y up, seen from above. */
export const PlanPoint = z.strictObject({ x: z.number(), y: z.number() })
export type PlanPoint = z.infer<typeof PlanPoint>

export const PlanShape = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('rectangle'),
    x: z.number().describe('left edge, m'),
    y: z.number().describe('lower edge, m'),
    width: z.number().positive().describe('m'),
    depth: z.number().positive().describe('m'),
  }),
  z.strictObject({ kind: z.literal('polygon'), points: z.array(PlanPoint).min(3) }),
])
export type PlanShape = z.infer<typeof PlanShape>

export const Phase = z.enum(['as_found', 'as_left'])
export type Phase = z.infer<typeof Phase>

/** Where the air is measured: under the filter face, or at working height. */
export const MeasuringPlane = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('filter_face'), distanceM: z.number().positive() }),
  z.strictObject({ kind: z.literal('working_height'), heightM: z.number().positive() }),
])
export type MeasuringPlane = z.infer<typeof MeasuringPlane>

const title = z.string().trim().min(1).max(120)
const note = z.string().max(4000)
export const text = { title, note }
