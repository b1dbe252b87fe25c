import { z } from 'zod'
import { CriterionQuantity, CriterionScope, Verdict } from './criteria.ts'
import { Basis, Dimension, Instant, MeasuringPlane, OccupancyState, Phase, Unit, Uuid } from './values.ts'

/** A sentence of the catalogue in core/messages: a code and its parameters. `say()` renders it. */
export const Sentence = z.strictObject({ code: z.string(), params: z.record(z.string(), z.unknown()) })
export type Sentence = z.infer<typeof Sentence>

export const VerdictCounts = z.strictObject({
  pass: z.number().int(),
  fail: z.number().int(),
  inconclusive: z.number().int(),
  not_tested: z.number().int(),
  not_valid: z.number().int(),
  not_applicable: z.number().int(),
})
export type VerdictCounts = z.infer<typeof VerdictCounts>

/** One criterion held against one subject. All numbers in the SI unit of `dimension` (percent and 1/h as such). */
export const CriterionResult = z.strictObject({
  key: z.string(),
  title: z.string(),
  quantity: CriterionQuantity,
  scope: CriterionScope,
  subjectId: Uuid.describe('terminal, zone or room'),
  point: z.number().int().nullable().describe('the worst point, for criteria on every point'),
  dimension: Dimension,
  unit: Unit.describe('the unit the limit was written in'),
  value: z.number().nullable(),
  low: z.number().nullable(),
  high: z.number().nullable(),
  margin: z.number().nullable().describe('distance to the nearest limit, positive inside, in SI'),
  basis: Basis,
  verdict: Verdict,
  would: z.enum(['pass', 'fail']).nullable().describe('what a not valid verdict would have read'),
  alert: z.enum(['low', 'high']).nullable(),
  reason: Sentence,
  source: z.string(),
})
export type CriterionResult = z.infer<typeof CriterionResult>

const figure = z.number().nullable()

/** What the grid of one filter gives. Null means none: see the reason of the criteria, and `missing`. */
export const FilterResult = z.strictObject({
  terminalId: Uuid,
  tag: z.string(),
  zoneId: Uuid.nullable(),
  pointsPlanned: z.number().int(),
  pointsMeasured: z.number().int().describe('points with at least one valid sample'),
  readingsVoided: z.number().int(),
  closed: z.boolean(),
  carried: z.boolean(),
  basis: Basis,
  meanVelocityMps: figure,
  leastVelocityMps: figure,
  greatestVelocityMps: figure,
  standardDeviationMps: figure,
  relativeStandardDeviationPercent: figure,
  largestDeviationPercent: figure,
  largestDeviationPoint: z.number().int().nullable(),
  effectiveAreaM2: z.number(),
  correctionFactor: z.number(),
  flowM3ps: figure,
  designVelocityMps: figure,
  designFlowM3ps: figure,
  percentOfDesign: figure,
  pointMeansMps: z.array(z.strictObject({ point: z.number().int(), meanMps: figure })),
  notes: z.array(Sentence).describe('incomplete, closed, below range and the like'),
  criteria: z.array(CriterionResult),
  verdict: Verdict,
})
export type FilterResult = z.infer<typeof FilterResult>

export const ZoneResult = z.strictObject({
  zoneId: Uuid,
  name: z.string(),
  meanVelocityMps: figure,
  relativeStandardDeviationPercent: figure,
  largestDeviationPercent: figure,
  pointsPlanned: z.number().int(),
  pointsMeasured: z.number().int(),
  designVelocityMps: figure,
  percentOfDesign: figure,
  criteria: z.array(CriterionResult),
  verdict: Verdict,
  counts: VerdictCounts,
})
export type ZoneResult = z.infer<typeof ZoneResult>

export const RoomFigures = z.strictObject({
  volumeM3: z.number(),
  areaWeightedMeanVelocityMps: figure,
  supplyFlowM3ps: figure,
  supplySoFar: z.strictObject({ flowM3ps: z.number(), terminals: z.number().int(), of: z.number().int() }),
  airChangesPerHour: figure,
  outsideAirChangesPerHour: figure,
  filterToFilterRsdPercent: figure,
  designFlowM3ps: figure,
  percentOfDesign: figure,
})
export type RoomFigures = z.infer<typeof RoomFigures>

/** Everything a run says: the same object for screen, report, comparison and command line. */
export const RunResult = z.strictObject({
  runId: Uuid,
  roomId: Uuid,
  zoneId: Uuid.nullable(),
  calculationVersion: z.number().int(),
  basis: Basis,
  phase: Phase,
  plane: MeasuringPlane,
  occupancyState: OccupancyState,
  criteriaSetId: Uuid.nullable(),
  criteriaSetRevision: z.number().int().nullable(),
  filters: z.array(FilterResult),
  zones: z.array(ZoneResult),
  room: RoomFigures,
  roomCriteria: z.array(CriterionResult),
  verdict: Verdict,
  counts: VerdictCounts,
  headline: Sentence,
})
export type RunResult = z.infer<typeof RunResult>

export const SignatureMeaning = z.enum(['performed', 'reviewed', 'approved'])
export type SignatureMeaning = z.infer<typeof SignatureMeaning>

/** One signature under the frozen result of a run. */
export const Signature = z.strictObject({ personId: Uuid, at: Instant, meaning: SignatureMeaning })
export type Signature = z.infer<typeof Signature>

export const RunSummary = z.strictObject({
  runId: Uuid,
  roomId: Uuid,
  zoneId: Uuid.nullable(),
  phase: Phase,
  state: z.enum(['open', 'complete', 'signed']),
  current: z.boolean().describe('the run that counts: latest complete as left, else as found'),
  pointsPlanned: z.number().int(),
  pointsMeasured: z.number().int(),
  verdict: Verdict,
  headline: Sentence,
  signatures: z.array(Signature).describe('in the order of signing; none until the run is signed'),
})
export type RunSummary = z.infer<typeof RunSummary>

/** A room within one certification: the roll-up over its current runs, and the trace of what was found before. */
export const RoomState = z.strictObject({
  roomId: Uuid,
  verdict: Verdict,
  counts: VerdictCounts,
  failedAsFound: z.boolean().describe('pass as left, failed as found'),
  headline: Sentence,
  airChangesPerHour: figure,
  supplyFlowM3ps: figure,
  filtersMeasured: z.number().int(),
  filtersPlanned: z.number().int(),
  runs: z.array(RunSummary),
})
export type RoomState = z.infer<typeof RoomState>

export const CertificationState = z.strictObject({
  certificationId: Uuid,
  verdict: Verdict,
  counts: VerdictCounts,
  rooms: z.array(RoomState),
})
export type CertificationState = z.infer<typeof CertificationState>

const change = z.strictObject({
  earlier: figure,
  later: figure,
  change: figure,
  changePercent: figure.describe('none when the earlier figure is 0'),
})

/** One filter or room of two certifications, sorted by the worst change first. */
export const ComparisonRow = z.strictObject({
  kind: z.enum(['filter', 'room']),
  id: Uuid,
  roomId: Uuid,
  label: z.string(),
  quantity: z.enum(['face_velocity', 'flow', 'air_changes']),
  dimension: Dimension,
  figure: change,
  verdictThen: Verdict,
  verdictNow: Verdict,
  reasonNow: Sentence.nullable(),
  breaks: z.array(Sentence).describe('filter element changed, instrument changed, grid changed, criteria revision changed'),
  differsFromSigned: z.boolean(),
})
export type ComparisonRow = z.infer<typeof ComparisonRow>

export const Comparison = z.strictObject({
  thenId: Uuid,
  nowId: Uuid,
  rows: z.array(ComparisonRow),
  summary: z.array(Sentence).describe('what a reader has to know, the worst first'),
})
export type Comparison = z.infer<typeof Comparison>

export const HistoryPoint = z.strictObject({
  certificationId: Uuid,
  runId: Uuid,
  on: z.string(),
  label: z.string(),
  phase: Phase,
  value: figure,
  low: figure,
  high: figure,
  verdict: Verdict,
  broken: z.array(Sentence).describe('what breaks the trend just before this point'),
})
export type HistoryPoint = z.infer<typeof HistoryPoint>

export const History = z.strictObject({
  subjectId: Uuid,
  label: z.string(),
  quantity: z.enum(['face_velocity', 'flow', 'air_changes']),
  dimension: Dimension,
  points: z.array(HistoryPoint),
})
export type History = z.infer<typeof History>
