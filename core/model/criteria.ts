import { z } from 'zod'
import { Basis, Entered, text } from './values.ts'

/** The figures a criterion can be held against. Percentages are in percent, not fractions. */
export const CriterionQuantity = z.enum([
  'face_velocity',
  'flow',
  'air_changes',
  'outside_air_changes',
  'velocity_spread',
  'filter_to_filter_spread',
  'largest_deviation',
  'air_offset',
  'air_offset_percent',
])
export type CriterionQuantity = z.infer<typeof CriterionQuantity>

/** What one judgement is about: each point, each filter's figure, the zone's or the room's figure. */
export const CriterionScope = z.enum(['point', 'filter', 'zone', 'room'])
export type CriterionScope = z.infer<typeof CriterionScope>

/** A limit written as a value, or taken from the room's own required minimum (codes and site rules differ per room). */
export const Limit = z.discriminatedUnion('from', [
  z.strictObject({ from: z.literal('value'), value: Entered }),
  z.strictObject({ from: z.literal('room_required_minimum') }),
])
export type Limit = z.infer<typeof Limit>

/** Of percentages, which are kept as numbers; files of before do not have it, nor does a number that shows its digits itself. */
const PercentTyped = z
  .string()
  .max(40)
  .optional()
  .describe('the percentage as typed, where its number does not show every digit: 15.0 is rounded to otherwise than 15')

export const CriterionForm = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('at_least'), limit: Limit }),
  z.strictObject({ kind: z.literal('at_most'), limit: Limit }),
  z.strictObject({ kind: z.literal('between'), low: Limit, high: Limit }),
  z.strictObject({ kind: z.literal('within_percent_of_design'), percent: z.number().positive().max(100), percentTyped: PercentTyped }),
  z.strictObject({ kind: z.literal('spread_at_most'), percent: z.number().positive(), percentTyped: PercentTyped }),
  z.strictObject({
    kind: z.literal('each_within_percent_of_mean'),
    percent: z.number().positive(),
    percentTyped: PercentTyped,
    of: z.enum(['filter', 'zone']),
  }),
])
export type CriterionForm = z.infer<typeof CriterionForm>

export const Criterion = z.strictObject({
  key: z
    .string()
    .regex(/^[a-z0-9_]{1,60}$/)
    .describe('stable within the set, so that revisions and years can be compared'),
  title: text.title,
  quantity: CriterionQuantity,
  scope: CriterionScope,
  form: CriterionForm,
  plane: z.enum(['filter_face', 'working_height', 'any']),
  basis: Basis.default('as_indicated').describe(
    'which air its limits and design values speak of. A new file has to state it, usually actual: what earlier programs stored without it is held against figures as indicated, and so is whatever leaves it out; an import says so',
  ),
  on: z.boolean(),
  alert: z.strictObject({ low: Entered.nullable(), high: Entered.nullable() }).nullable().describe('shown, never part of the verdict'),
  source: text.note.describe('standard and clause, or common practice'),
})
export type Criterion = z.infer<typeof Criterion>

/** How a value near a limit is decided. Guarded acceptance needs an expanded uncertainty; without one it reads not tested. */
export const DecisionRule = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('simple') }),
  z.strictObject({ kind: z.literal('guarded'), multiple: z.number().min(0).max(2) }),
])
export type DecisionRule = z.infer<typeof DecisionRule>

/** Half width of what a flow element states, percent (common practice, editable). */
const STARTING_FLOW_ELEMENT_PERCENT = 2

/** What a budget takes where nothing better is known. Half widths of rectangles unless they are called standard. */
export const UncertaintySettings = z.strictObject({
  coverage: z.discriminatedUnion('kind', [
    z.strictObject({ kind: z.literal('student'), levelPercent: z.number().min(50).max(99.9) }),
    z.strictObject({ kind: z.literal('fixed'), factor: z.number().min(1).max(5) }),
  ]),
  areaPercent: z.number().min(0).max(50),
  volumePercent: z.number().min(0).max(50),
  hoodFactorPercent: z.number().min(0).max(50),
  correctionFactorPercent: z.number().min(0).max(50),
  traverseRulePercent: z.number().min(0).max(50).describe('standard uncertainty'),
  flowElementPercent: z
    .number()
    .min(0)
    .max(50)
    .default(STARTING_FLOW_ELEMENT_PERCENT)
    .describe("a flow element's coefficient with its bore, or its stated flow"),
  temperatureK: z.number().min(0).max(20),
  pressurePa: z.number().min(0).max(20_000),
  relativeHumidityPercent: z.number().min(0).max(50),
})
export type UncertaintySettings = z.infer<typeof UncertaintySettings>

/** Starting values (common practice, editable). */
export const STARTING_UNCERTAINTY: UncertaintySettings = {
  coverage: { kind: 'student', levelPercent: 95 },
  areaPercent: 1,
  volumePercent: 1,
  hoodFactorPercent: 3,
  correctionFactorPercent: 2,
  traverseRulePercent: 2,
  flowElementPercent: STARTING_FLOW_ELEMENT_PERCENT,
  temperatureK: 0.5,
  pressurePa: 200,
  relativeHumidityPercent: 3,
}

export const CriteriaSet = z.strictObject({
  name: text.title,
  decisionRule: DecisionRule,
  uncertainty: UncertaintySettings.default(STARTING_UNCERTAINTY),
  comparison: z.enum(['absolute', 'rounded_to_limit']),
  criteria: z.array(Criterion),
  note: text.note,
})
export type CriteriaSet = z.infer<typeof CriteriaSet>

/** A room's or zone's own wording of one criterion of its set. */
export const CriterionOverride = z.strictObject({
  key: z.string(),
  form: CriterionForm.nullable().describe('null keeps the form of the set'),
  on: z.boolean(),
  reason: z.string().trim().min(1).max(1000),
})
export type CriterionOverride = z.infer<typeof CriterionOverride>

/** pass, fail ... not_applicable (outside every roll-up), worst last in {@link VERDICT_ORDER}. */
export const Verdict = z.enum(['pass', 'fail', 'inconclusive', 'not_tested', 'not_valid', 'not_applicable'])
export type Verdict = z.infer<typeof Verdict>
