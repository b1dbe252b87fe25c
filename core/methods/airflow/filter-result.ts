import { worstOf } from '#core/criteria/roll-up.ts'
import { message } from '#core/messages/say.ts'
import type { CriterionResult, FilterResult, Sentence } from '#core/model/results.ts'
import { crossesBoundary } from '#core/rooms/balance.ts'
import { REFERENCE_DENSITY_KGPM3 } from './air-of-run.ts'
import type { StandIns } from './contributors.ts'
import type { FilterFigures } from './filter-figures.ts'
import { byBasis, mainOf, type OnBases } from './on-bases.ts'
import { terminalUncertainties } from './uncertainty/figure-uncertainty.ts'
import type { RunErrors } from './uncertainty/run-errors.ts'
import { givesVelocities, quantityOf } from './ways.ts'

/** The density that pressures were worked out with, as indicated; null where no pressure became a velocity or flow. */
function indicatedDensityKgpm3({ of, way }: FilterFigures): number | null {
  const { body } = of.terminal
  const [first] = of.readings
  if (!first || (way !== 'flow_element' && quantityOf(way, body) !== 'velocity_pressure')) return null
  if (way === 'flow_element' && body.flowElement?.kind === 'stated') return body.flowElement.statedDensityKgpm3
  return first.use.conversion.standardKgpm3 ?? REFERENCE_DENSITY_KGPM3
}

function notesOnWay(filter: FilterFigures): Sentence[] {
  const { of } = filter
  const notes: Sentence[] = []
  if (of.corrected > 0) notes.push(message('note.points_corrected', { readings: of.corrected, beyond: of.correctedBeyond }))
  const entries = new Set(of.hoodFactors.flatMap(({ found }) => found?.entry ?? []))
  for (const { factor, reason } of entries) notes.push(message('note.hood_factor', { factor, because: reason }))
  const outside = of.hoodFactors.filter(({ found }) => found?.outside).length
  if (outside > 0) notes.push(message('note.outside_hood_factors', { readings: outside }))
  const without = of.hoodFactors.filter(({ found }) => found === null).length
  if (without > 0) notes.push(message('note.no_hood_factor', { readings: without }))
  if (of.weak > 0) notes.push(message('note.weak_for_pitot', { readings: of.weak }))
  if (of.unusable > 0) notes.push(message('note.unusable', { readings: of.unusable }))
  const densityKgpm3 = indicatedDensityKgpm3(filter)
  if (densityKgpm3 !== null) notes.push(message('note.pressure_at_density', { densityKgpm3 }))
  if (of.terminal.body.kind === 'duct_section' && !of.terminal.body.duct) notes.push(message('note.no_direction', {}))
  if (filter.way === 'duct_traverse' && filter.gap && filter.pointsMeasured > 0) notes.push(message('note.traverse_so_far', {}))
  return notes
}

function notesOn(filter: FilterFigures, { voided, leastAveragingS, samplesPerPoint, carriedBecause, ducts }: FilterRemarks): Sentence[] {
  const { of, gap } = filter
  const { body } = of.terminal
  const notes: Sentence[] = []
  if (filter.closed && body.closed) notes.push(message('note.closed', { because: body.closed.reason }))
  if (!filter.closed && body.closed) notes.push(message('note.closed_but_measured', { because: body.closed.reason }))
  if (gap) notes.push(message('note.incomplete', { measured: gap.measured, planned: gap.planned }))
  if (of.samplesLacking > 0)
    notes.push(message('note.fewer_samples', { points: of.shortPoints, lacking: of.samplesLacking, perPoint: samplesPerPoint }))
  if (of.aboveRange > 0) notes.push(message('note.above_range', { readings: of.aboveRange }))
  if (of.belowPoints > 0) notes.push(message('note.below_range', { points: of.belowPoints }))
  if (of.averagedShort > 0) notes.push(message('note.short_averaging', { readings: of.averagedShort, leastS: leastAveragingS }))
  if (filter.reversed > 0) notes.push(message('note.reversed', { points: filter.reversed }))
  if (of.carried)
    notes.push(carriedBecause === null ? message('note.carried', {}) : message('note.carried_because', { because: carriedBecause }))
  if (voided > 0) notes.push(message('note.voided', { readings: voided }))
  if (body.correctionFactor)
    notes.push(message('note.corrected', { factor: body.correctionFactor.factor, because: body.correctionFactor.reason }))
  if (ducts.onSystem.length > 0) notes.push(message('note.stood_for_by_duct', { ducts: ducts.onSystem.join(', ') }))
  if (ducts.systemNotNamed.length > 0)
    notes.push(message('note.stood_for_by_duct_unnamed_system', { ducts: ducts.systemNotNamed.join(', ') }))
  if (filter.direction === 'return' && !crossesBoundary('return', body.airSource)) notes.push(message('note.return_within_room', {}))
  if (filter.way !== 'face_grid' || of.corrected > 0 || of.unusable > 0) notes.push(...notesOnWay(filter))
  return notes
}

export type FilterRemarks = {
  readonly errors: RunErrors
  /** readings voided at this filter */
  readonly voided: number
  /** what the run asks for, s */
  readonly leastAveragingS: number
  /** what the run plans */
  readonly samplesPerPoint: number
  /** why its as-found readings stand in this run; null where they do not */
  readonly carriedBecause: string | null
  /** the ducts that stand for it in the room's totals */
  readonly ducts: StandIns
}

/** The result of one filter: its figures, what is to be said about them, and how its criteria read. */
export function filterResult(on: OnBases<FilterFigures>, criteria: CriterionResult[], remarks: FilterRemarks): FilterResult {
  const filter = mainOf(on)
  const { of } = filter
  const { numbers } = of
  const { meansMps } = filter.points
  const ofVelocities = givesVelocities(filter.way)
  const pointMeansMps: FilterResult['pointMeansMps'] = new Array(of.planned.length)
  let next = 0
  for (let i = 0; i < of.planned.length; i += 1) {
    const point = of.planned[i]?.number ?? 0
    const measured = numbers[next] === point
    pointMeansMps[i] = { point, meanMps: measured ? (meansMps[next] ?? null) : null }
    if (measured) next += 1
  }
  return {
    terminalId: of.terminal.id,
    tag: of.terminal.body.tag,
    zoneId: filter.zoneId,
    pointsPlanned: filter.pointsPlanned,
    pointsMeasured: filter.pointsMeasured,
    readingsVoided: remarks.voided,
    closed: filter.closed,
    carried: of.carried,
    basis: on.main,
    meanVelocityMps: filter.meanMps,
    leastVelocityMps: filter.leastMps,
    greatestVelocityMps: filter.greatestMps,
    standardDeviationMps: filter.standardDeviationMps,
    relativeStandardDeviationPercent: filter.relativeStandardDeviationPercent,
    largestDeviationPercent: filter.largestDeviationPercent,
    largestDeviationPoint: filter.largestDeviationIndex === null ? null : (numbers[filter.largestDeviationIndex] ?? null),
    effectiveAreaM2: filter.areaM2,
    correctionFactor: filter.correctionFactor,
    flowM3ps: filter.flowM3ps,
    designVelocityMps: filter.design.velocity?.si ?? null,
    designFlowM3ps: filter.design.flow?.si ?? null,
    percentOfDesign: filter.percentOfDesign,
    pointMeansMps: filter.closed || !ofVelocities ? [] : pointMeansMps,
    way: filter.way,
    direction: filter.direction,
    byBasis: byBasis(on, ({ meanMps, flowM3ps }) => ({ meanVelocityMps: meanMps, flowM3ps })),
    hoodFactor: filter.hoodFactor,
    uncertainty: terminalUncertainties(remarks.errors, filter, on.main),
    notes: notesOn(filter, remarks),
    criteria,
    verdict: filter.closed ? 'not_applicable' : worstOf(criteria),
  }
}
