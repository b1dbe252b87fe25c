import { z } from 'zod'
import { CriterionQuantity, CriterionScope, Verdict } from './criteria.ts'
import { MethodId } from './runs.ts'
import { AirDirection, FlowWay } from './terminals.ts'
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
  expandedUncertainty: z.number().nullable().default(null).describe('U of the value, SI; null where none can be given'),
  coverageFactor: z.number().nullable().default(null),
  guardBand: z.number().nullable().default(null).describe('what the limits were moved by, SI; null under simple acceptance'),
  basis: Basis,
  verdict: Verdict,
  would: z.enum(['pass', 'fail']).nullable().describe('what a not valid verdict would have read'),
  alert: z.enum(['low', 'high']).nullable(),
  reason: Sentence,
  source: z.string(),
})
export type CriterionResult = z.infer<typeof CriterionResult>

const figure = z.number().nullable()
const laterFigure = figure.default(null)

/** An expanded uncertainty in the unit of its figure. Degrees of freedom null: not limited. */
export const Uncertainty = z.strictObject({
  expanded: z.number(),
  coverageFactor: z.number(),
  degreesOfFreedom: z.number().nullable(),
})
export type Uncertainty = z.infer<typeof Uncertainty>
const laterUncertainty = Uncertainty.nullable().default(null)

/** Velocity and flow of one terminal on one basis. */
export const OnBasis = z.strictObject({ meanVelocityMps: figure, flowM3ps: figure })
export type OnBasis = z.infer<typeof OnBasis>

/** The same air told three ways; null where a density is missing. */
export const ByBasis = z.strictObject({ as_indicated: OnBasis, standard: OnBasis.nullable(), actual: OnBasis.nullable() })
export type ByBasis = z.infer<typeof ByBasis>

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
  way: FlowWay.default('face_grid'),
  direction: AirDirection.default('supply'),
  byBasis: ByBasis.nullable().default(null).describe('the mean and flow as indicated, standard and actual'),
  hoodFactor: laterFigure,
  uncertainty: z
    .strictObject({ meanVelocity: Uncertainty.nullable(), flow: Uncertainty.nullable(), percentOfDesign: Uncertainty.nullable() })
    .nullable()
    .default(null)
    .describe('of the figures above, on their basis'),
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
  closedFaces: z
    .number()
    .int()
    .default(0)
    .describe('zero in the mean velocity; spread, largest deviation and share of points are of the open faces alone'),
  pointsPlanned: z.number().int(),
  pointsMeasured: z.number().int(),
  designVelocityMps: figure,
  percentOfDesign: figure,
  basis: Basis.default('as_indicated'),
  byBasis: ByBasis.nullable().default(null),
  pointsWithinPercent: laterFigure.describe('share of the measured points within the limits that the criteria set for points'),
  planeCells: z
    .array(z.strictObject({ point: z.number().int(), meanMps: figure, within: z.boolean().nullable() }))
    .default([])
    .describe('of a measuring plane, point by point; none where filters were measured'),
  uncertainty: laterUncertainty.describe('of the mean velocity'),
  criteria: z.array(CriterionResult),
  verdict: Verdict,
  counts: VerdictCounts,
})
export type ZoneResult = z.infer<typeof ZoneResult>

/** Air of a room in and out, as standard flow (mass), m3/s; sums so far while terminals are missing. */
export const RoomBalanceFigures = z.strictObject({
  supplyM3ps: z.number(),
  returnM3ps: z.number(),
  exhaustM3ps: z.number(),
  recirculatedM3ps: z.number(),
  offsetM3ps: figure.describe('supply - return - exhaust; positive leaves the room'),
  offsetAtRoomM3ps: figure.describe('the same at the density of the air in the room'),
  offsetPercentOfSupply: figure,
  basis: Basis.describe('standard; as indicated where no conditions were recorded, and then it is no mass balance'),
  missingTerminalIds: z.array(Uuid),
})
export type RoomBalanceFigures = z.infer<typeof RoomBalanceFigures>

const AirSign = z.enum(['positive', 'negative', 'undecided'])
const Agreement = z.enum(['agrees', 'disagrees', 'cannot_tell'])
const BalanceAgreement = z.enum(['agrees', 'disagrees', 'cannot_tell', 'both_ways'])

/** A door of the room: what it should keep, what the balance lets expect, what was measured, seen from this room. */
export const DoorResult = z.strictObject({
  doorId: Uuid,
  name: z.string(),
  wantedPa: figure,
  measuredPa: figure,
  wanted: AirSign.nullable(),
  expected: AirSign.nullable(),
  measured: AirSign.nullable(),
  measuredAgainstWanted: Agreement,
  measuredAgainstBalance: BalanceAgreement.describe('both_ways: this door contradicts the balance, another door of the room does not'),
})
export type DoorResult = z.infer<typeof DoorResult>

/** The air that figures were converted with. Null densities: not known. */
export const AirOfRun = z.strictObject({
  actualKgpm3: figure,
  atInstrumentKgpm3: figure,
  standardKgpm3: figure.describe("of the instruments' standard condition; null where they differ or state none"),
  pressureFrom: z.enum(['measured', 'altitude']).nullable(),
  remarks: z.array(Sentence).describe('humidity assumed, outside the stated range, pressure questioned'),
})
export type AirOfRun = z.infer<typeof AirOfRun>

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
  basis: Basis.default('as_indicated').describe('of the velocity and flows above'),
  byBasis: ByBasis.nullable().default(null).describe('area-weighted mean velocity and supply flow'),
  balance: RoomBalanceFigures.nullable().default(null),
  uncertainty: z
    .strictObject({
      supplyFlow: Uncertainty.nullable(),
      airChanges: Uncertainty.nullable(),
      percentOfDesign: Uncertainty.nullable(),
      offset: Uncertainty.nullable(),
    })
    .nullable()
    .default(null),
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
  doors: z.array(DoorResult).default([]),
  air: AirOfRun.nullable().default(null),
  notes: z.array(Sentence).default([]).describe('about the run as a whole: what it leaves out'),
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
  samplesLacking: z.number().int().describe('valid samples that measured points have fewer than planned'),
  repeats: z.number().int().default(0).describe('readings that were replaced or taken back'),
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
  figuresFrom: z
    .strictObject({ runId: Uuid, method: MethodId, alone: z.boolean().describe('no other current run measured the whole room') })
    .nullable()
    .default(null)
    .describe('the run that the two figures, and the headline where it can, come from'),
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
  expandedUncertainty: figure.describe('U of the figure; null where none can be given, or it was signed before budgets were made'),
  low: figure,
  high: figure,
  verdict: Verdict.describe('of the criterion on this figure; without one, the overall verdict'),
  overall: Verdict.describe('of the whole filter, over all its criteria; of a room: of its run'),
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
