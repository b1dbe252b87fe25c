import { worstOf } from '#core/criteria/roll-up.ts'
import { message } from '#core/messages/say.ts'
import type { CriterionResult, FilterResult, Sentence } from '#core/model/results.ts'
import type { FilterFigures } from './filter-figures.ts'

function notesOn(filter: FilterFigures, { voided, leastAveragingS, samplesPerPoint }: FilterRemarks): Sentence[] {
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
  if (of.carried) notes.push(message('note.carried', {}))
  if (voided > 0) notes.push(message('note.voided', { readings: voided }))
  if (body.correctionFactor)
    notes.push(message('note.corrected', { factor: body.correctionFactor.factor, because: body.correctionFactor.reason }))
  return notes
}

export type FilterRemarks = {
  /** readings voided at this filter */
  readonly voided: number
  /** what the run asks for, s */
  readonly leastAveragingS: number
  /** what the run plans */
  readonly samplesPerPoint: number
}

/** The result of one filter: its figures, what is to be said about them, and how its criteria read. */
export function filterResult(filter: FilterFigures, criteria: CriterionResult[], remarks: FilterRemarks): FilterResult {
  const { of } = filter
  const { numbers, meansMps } = of
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
    basis: 'as_indicated',
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
    pointMeansMps: filter.closed ? [] : pointMeansMps,
    way: 'face_grid',
    direction: 'supply',
    byBasis: null,
    hoodFactor: null,
    uncertainty: null,
    notes: notesOn(filter, remarks),
    criteria,
    verdict: filter.closed ? 'not_applicable' : worstOf(criteria),
  }
}
