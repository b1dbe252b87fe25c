import { RELATIVE_TOLERANCE } from '#core/criteria/compare-limit.ts'
import type { Gap } from '#core/criteria/judge.ts'
import type { EntityBody } from '#core/model/entities.ts'
import type { Uuid } from '#core/model/values.ts'
import { designOf, type FilterDesign } from './design.ts'
import type { Gathered } from './gather.ts'
import { leastPossibleDeviationPercent, leastPossibleRsdPercent, type SpreadFigures, spreadOf, weightedMean } from './set-figures.ts'

/** Everything one filter's grid gives, before it is held against criteria. */
export type FilterFigures = SpreadFigures & {
  readonly of: Gathered
  readonly zoneId: Uuid | null
  /** closed and not measured: a recorded zero */
  readonly closed: boolean
  readonly pointsPlanned: number
  readonly pointsMeasured: number
  readonly meanMps: number | null
  readonly areaM2: number
  readonly correctionFactor: number
  /** null without a mean, and where the plane is not the filter's face */
  readonly flowM3ps: number | null
  readonly design: FilterDesign
  readonly percentOfDesign: number | null
  readonly gap: Gap | null
  /** lowest values the figures can end with, whatever the missing points give; null without a bound */
  readonly leastMeanMps: number | null
  readonly leastRsdPercent: number | null
  readonly leastDeviationPercent: number | null
  readonly equalCells: boolean
  readonly reversed: number
  readonly allBelowRange: boolean
}

export type FilterSetting = {
  readonly room: EntityBody<'room'>
  readonly zones: ReadonlyMap<Uuid, EntityBody<'zone'>>
  readonly missing: EntityBody<'run'>['missing']
  /** false at working height: the air that passes there is no longer one filter's */
  readonly givesFlow: boolean
  /** an instrument of the run can read air the wrong way, so that a missing point may be below zero */
  readonly mayReadReverse: boolean
}

const NO_POINTS: SpreadFigures = {
  standardDeviationMps: null,
  relativeStandardDeviationPercent: null,
  largestDeviationPercent: null,
  largestDeviationIndex: null,
  leastMps: null,
  greatestMps: null,
}

/** Whether all the cells of a terminal are of one size. */
function hasEqualCells(of: Gathered): boolean {
  const first = of.planned[0]?.cellAreaM2 ?? 0
  for (const location of of.planned) if (Math.abs(location.cellAreaM2 - first) > RELATIVE_TOLERANCE * first) return false
  return true
}

/** Areas of the measured cells, in the order of the point means. */
function measuredCells(of: Gathered): number[] {
  const areas: number[] = []
  for (const location of of.planned) if (location.number === of.numbers[areas.length]) areas.push(location.cellAreaM2)
  return areas
}

function meanOf(of: Gathered, equal: boolean): number | null {
  const { meansMps } = of
  if (!equal) return weightedMean(meansMps, measuredCells(of))
  if (meansMps.length === 0) return null
  let sum = 0
  for (const value of meansMps) sum += value
  return sum / meansMps.length
}

function percentOf(value: number | null, design: number | undefined): number | null {
  return value === null || design === undefined ? null : (100 * value) / design
}

function leastMean(of: Gathered, mayReadReverse: boolean): number | null {
  if (mayReadReverse) return null
  let sum = 0
  let area = 0
  const cells = measuredCells(of)
  for (let i = 0; i < cells.length; i += 1) sum += (of.meansMps[i] ?? 0) * (cells[i] ?? 0)
  for (const location of of.planned) area += location.cellAreaM2
  return area > 0 ? sum / area : null
}

/**
 * Figures of one filter, in SI. Mean = mean of the point means, weighted by cell area where cells are unequal; flow = mean x
 * effective face area x correction factor; percent of design of the value that was written down for it. Missing points: computed
 * from the measured ones and marked by `gap`. One point: no spread. No valid point: mean and flow are none. A closed terminal
 * without readings is a recorded zero without points. Source: the house's rules A1 and A3; flow Q = sum of v x A in substance as
 * ISO 14644-3, supply airflow from face velocity (from memory).
 */
export function filterFigures(of: Gathered, setting: FilterSetting): FilterFigures {
  const { body } = of.terminal
  const zone = body.zoneId === null ? null : (setting.zones.get(body.zoneId) ?? null)
  const design = designOf(body, zone, setting.room)
  const closed = body.closed !== null && of.meansMps.length === 0
  const planned = closed ? 0 : of.planned.length
  const measured = of.meansMps.length
  const equal = hasEqualCells(of)
  const meanMps = closed ? 0 : meanOf(of, equal)
  const spread = measured === 0 ? NO_POINTS : spreadOf(of.meansMps, meanMps)
  const areaM2 = body.effectiveArea.si
  const correctionFactor = body.correctionFactor?.factor ?? 1
  const flowM3ps = closed ? 0 : meanMps === null || !setting.givesFlow ? null : meanMps * areaM2 * correctionFactor
  const incomplete = measured < planned
  return {
    standardDeviationMps: spread.standardDeviationMps,
    relativeStandardDeviationPercent: spread.relativeStandardDeviationPercent,
    largestDeviationPercent: spread.largestDeviationPercent,
    largestDeviationIndex: spread.largestDeviationIndex,
    leastMps: spread.leastMps,
    greatestMps: spread.greatestMps,
    of,
    zoneId: zone ? body.zoneId : null,
    closed,
    pointsPlanned: planned,
    pointsMeasured: measured,
    meanMps,
    areaM2,
    correctionFactor,
    flowM3ps,
    design,
    percentOfDesign: design.leads === 'flow' ? percentOf(flowM3ps, design.flow?.si) : percentOf(meanMps, design.velocity?.si),
    gap: incomplete
      ? {
          measured,
          planned,
          aboveRange: of.aboveRange,
          terminals: [body.tag],
          more: 0,
          cause: setting.missing.find((one) => one.terminalIds.includes(of.terminal.id))?.cause ?? null,
        }
      : null,
    leastMeanMps: incomplete ? leastMean(of, setting.mayReadReverse) : null,
    leastRsdPercent: incomplete && equal ? leastPossibleRsdPercent(of.meansMps, planned) : null,
    leastDeviationPercent: incomplete ? leastPossibleDeviationPercent(spread.leastMps, spread.greatestMps) : null,
    equalCells: equal,
    reversed: spread.leastMps !== null && spread.leastMps < 0 ? of.meansMps.filter((value) => value < 0).length : 0,
    allBelowRange: measured > 0 && of.belowPoints === measured,
  }
}
