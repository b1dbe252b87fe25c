import { RELATIVE_TOLERANCE } from '#core/criteria/compare-limit.ts'
import type { Gap } from '#core/criteria/judge.ts'
import type { EntityBody } from '#core/model/entities.ts'
import type { AirDirection, FlowWay } from '#core/model/terminals.ts'
import type { Uuid } from '#core/model/values.ts'
import { ductAreaM2 } from '../traverse/rule.ts'
import { designOf, type FilterDesign, ownDesignOf } from './design.ts'
import { ductSectionOf } from './duct-layout.ts'
import type { Gathered } from './gather.ts'
import { leastPossibleDeviationPercent, leastPossibleRsdPercent, type SpreadFigures, spreadOf, weightedMean } from './set-figures.ts'
import { airDirectionOf, givesVelocities, isFilter } from './ways.ts'

/** Everything one terminal's readings give on one basis, before it is held against criteria. */
export type FilterFigures = SpreadFigures & {
  readonly of: Gathered
  readonly way: FlowWay
  readonly direction: AirDirection
  readonly zoneId: Uuid | null
  /** closed and not measured: a recorded zero */
  readonly closed: boolean
  readonly pointsPlanned: number
  readonly pointsMeasured: number
  /** velocities of the points, m/s; none where the way gives the flow as one value */
  readonly points: PointMeans
  /** means of the points, m/s or m3/s by the way: the parts that the figure below is the mean of */
  readonly parts: readonly number[]
  /** null without a reading, and where the way gives no velocities */
  readonly meanMps: number | null
  /** effective face area, or the inside of the duct, m2 */
  readonly areaM2: number
  readonly correctionFactor: number
  /** mean of what the hood's factors made of its readings; null for other ways */
  readonly hoodFactor: number | null
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

/** Measured points in path order, with what a judgement of points looks at. */
export type PointMeans = Pick<Gathered, 'planned' | 'numbers' | 'belowRange'> & { readonly meansMps: readonly number[] }

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

function meanOf(of: Gathered, means: readonly number[], equal: boolean): number | null {
  if (!equal) return weightedMean(means, measuredCells(of))
  if (means.length === 0) return null
  let sum = 0
  for (const value of means) sum += value
  return sum / means.length
}

function percentOf(value: number | null, design: number | undefined): number | null {
  return value === null || design === undefined ? null : (100 * value) / design
}

function leastMean(of: Gathered, means: readonly number[], mayReadReverse: boolean): number | null {
  if (mayReadReverse) return null
  let sum = 0
  let area = 0
  const cells = measuredCells(of)
  for (let i = 0; i < cells.length; i += 1) sum += (means[i] ?? 0) * (cells[i] ?? 0)
  for (const location of of.planned) area += location.cellAreaM2
  return area > 0 ? sum / area : null
}

/** The area that a mean velocity is multiplied by, m2: the inside of a duct that is traversed, else the effective face area. */
function flowAreaM2(way: FlowWay, body: EntityBody<'terminal'>): number {
  return way === 'duct_traverse' && body.duct ? ductAreaM2(ductSectionOf(body.duct)) : body.effectiveArea.si
}

function meanHoodFactor(of: Gathered): number | null {
  if (of.hoodFactors.length === 0) return null
  return of.hoodFactors.reduce((sum, { factor }) => sum + factor, 0) / of.hoodFactors.length
}

/** What the readings of a velocity way, or the one value of another way, give as mean and flow. */
function meanAndFlow(of: Gathered, means: readonly number[], equal: boolean, scale: number, givesFlow: boolean) {
  const mean = meanOf(of, means, equal)
  if (givesVelocities(of.way)) return { meanMps: mean, flowM3ps: mean === null || !givesFlow ? null : mean * scale }
  return { meanMps: null, flowM3ps: mean === null ? null : mean * scale }
}

/**
 * Figures of one terminal on one basis, in SI; `means` are its point means on that basis. Face grid: mean = mean of the point means, weighted by
 * cell area where cells are unequal; flow = mean x effective face area x correction factor. Duct traverse: mean = plain mean of the points, whatever the
 * rule; flow = mean x inside area x correction factor. Hood and flow element: no velocity; flow = mean of the repeats x correction factor. Percent
 * of design of the value that was written down for it. Missing points: computed from the measured ones and marked by `gap`. One
 * point: no spread. No valid point: mean and flow are none. A closed terminal without readings is a recorded zero without points.
 * Source: the house's rules A1 and A3; flow Q = sum of v x A in substance as ISO 14644-3, supply airflow from face velocity (from memory).
 */
export function filterFigures(of: Gathered, setting: FilterSetting, means: readonly number[] = of.means): FilterFigures {
  const { body } = of.terminal
  const { way } = of
  const direction = airDirectionOf(body)
  const ofVelocities = givesVelocities(way)
  const zone = body.zoneId === null ? null : (setting.zones.get(body.zoneId) ?? null)
  const areaM2 = flowAreaM2(way, body)
  const design = isFilter(body.kind) ? designOf(body, zone, setting.room) : ownDesignOf(body, areaM2)
  const closed = body.closed !== null && means.length === 0
  const planned = closed ? 0 : of.planned.length
  const measured = means.length
  const equal = hasEqualCells(of)
  const correctionFactor = body.correctionFactor?.factor ?? 1
  const scale = ofVelocities ? areaM2 * correctionFactor : correctionFactor
  const told = closed ? CLOSED[ofVelocities ? 'velocities' : 'flow'] : meanAndFlow(of, means, equal, scale, setting.givesFlow)
  const { meanMps, flowM3ps } = told
  const spread = measured === 0 || !ofVelocities ? NO_POINTS : spreadOf(means, meanMps)
  const incomplete = measured < planned
  return {
    standardDeviationMps: spread.standardDeviationMps,
    relativeStandardDeviationPercent: spread.relativeStandardDeviationPercent,
    largestDeviationPercent: spread.largestDeviationPercent,
    largestDeviationIndex: spread.largestDeviationIndex,
    leastMps: spread.leastMps,
    greatestMps: spread.greatestMps,
    of,
    way,
    direction,
    zoneId: zone ? body.zoneId : null,
    closed,
    pointsPlanned: planned,
    pointsMeasured: measured,
    points: { planned: of.planned, numbers: of.numbers, belowRange: of.belowRange, meansMps: ofVelocities ? means : NONE },
    parts: means,
    meanMps,
    areaM2,
    correctionFactor,
    hoodFactor: meanHoodFactor(of),
    flowM3ps,
    design,
    percentOfDesign:
      design.leads === 'flow' || !ofVelocities ? percentOf(flowM3ps, design.flow?.si) : percentOf(meanMps, design.velocity?.si),
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
    leastMeanMps: incomplete && ofVelocities ? leastMean(of, means, setting.mayReadReverse) : null,
    leastRsdPercent: incomplete && equal && ofVelocities ? leastPossibleRsdPercent(means, planned) : null,
    leastDeviationPercent: incomplete && ofVelocities ? leastPossibleDeviationPercent(spread.leastMps, spread.greatestMps) : null,
    equalCells: equal,
    reversed: reversedIn(means, ofVelocities ? spread.leastMps : null),
    allBelowRange: measured > 0 && of.belowPoints === measured,
  }
}

const NONE: readonly number[] = []
const CLOSED = { velocities: { meanMps: 0, flowM3ps: 0 }, flow: { meanMps: null, flowM3ps: 0 } } as const

function reversedIn(means: readonly number[], leastMps: number | null): number {
  if (leastMps !== null && leastMps >= 0) return 0
  return means.filter((value) => value < 0).length
}
