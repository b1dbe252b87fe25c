import { z } from 'zod'
import { TerminalFace } from './terminals.ts'
import { Basis, Entered, PlainDate, Quantity, text } from './values.ts'

// A field with a default came later than the first files; a body that was stored without it reads with the default and is never rewritten.

const halfWidth = 'half the width of a rectangle, percent; null takes the one of the criteria set'

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
