import { RELATIVE_TOLERANCE } from '#core/criteria/compare-limit.ts'
import type { Gap } from '#core/criteria/judge.ts'
import type { ReleasedUse, UncoveredUse } from '#core/criteria/stance.ts'
import { relativeStandardDeviationPercent } from '#core/statistics/statistics.ts'
import type { FilterFigures } from './filter-figures.ts'
import { leastPossibleDeviationPercent, leastPossibleRsdPercent, type SpreadFigures, spreadOf } from './set-figures.ts'
import { givesVelocities } from './ways.ts'

/**
 * Figures of several filters together: a zone, or a whole room. Mean velocity and flow are of all the faces, closed ones as zero; the spread is of
 * the open ones alone, about their own mean.
 */
export type AreaFigures = SpreadFigures & {
  readonly filters: readonly FilterFigures[]
  /** terminals in service, and how many of them have a flow */
  readonly inService: number
  readonly withFlow: number
  /** terminals whose flow was measured as one value, so that the area has no velocity of its own */
  readonly withoutVelocity: number
  readonly pointsPlanned: number
  readonly pointsMeasured: number
  /** velocity through all the faces, weighted by effective area, closed ones as zero; none while a terminal in service has none */
  readonly meanMps: number | null
  /** the same through the open faces alone: what spread and points are held against, since a closed face has no points */
  readonly openMeanMps: number | null
  /** closed faces that are in the mean and not in the spread */
  readonly closedFaces: number
  readonly flowM3ps: number | null
  readonly flowSoFarM3ps: number
  readonly gap: Gap | null
  readonly leastMeanMps: number | null
  readonly leastFlowM3ps: number | null
  readonly leastRsdPercent: number | null
  readonly leastDeviationPercent: number | null
  readonly filterToFilter: FilterSpread
  readonly reversed: number
  readonly allBelowRange: boolean
  readonly uncovered: readonly UncoveredUse[]
  readonly released: readonly ReleasedUse[]
}

export type FilterSpread =
  | { readonly kind: 'known'; readonly rsdPercent: number }
  | { readonly kind: 'one_filter' | 'no_common_measure' | 'not_positive' | 'incomplete' }

const MOST_NAMED = 5

/** In service and without the figure that its way of measuring gives. */
function isUnmeasured(filter: FilterFigures): boolean {
  return givesVelocities(filter.way) ? filter.meanMps === null : filter.flowM3ps === null
}

function sameDesign(filters: readonly FilterFigures[]): boolean {
  const first = filters[0]?.design.velocity?.si ?? null
  return filters.every((filter) => {
    const si = filter.design.velocity?.si ?? null
    return si === first || (si !== null && first !== null && Math.abs(si - first) <= RELATIVE_TOLERANCE * first)
  })
}

/**
 * Filter-to-filter spread, percent: the RSD of the filters' mean velocities where all share one design velocity (or none has
 * any), else, also where the flow of one was measured as one value, the RSD of their percent of design. Closed terminals are left out. None
 * with one filter, while a filter has no figure, or where filters differ and one has no design. Source: the house's rule A1 (common practice).
 */
function filterToFilterSpread(filters: readonly FilterFigures[]): FilterSpread {
  const open = filters.filter((filter) => !filter.closed)
  if (open.length < 2) return { kind: 'one_filter' }
  if (open.some(isUnmeasured)) return { kind: 'incomplete' }
  const alike = open.every((filter) => filter.meanMps !== null) && sameDesign(open)
  const values = alike ? open.map((filter) => filter.meanMps) : open.map((filter) => filter.percentOfDesign)
  const known = values.filter((value) => value !== null)
  if (known.length < values.length) return { kind: 'no_common_measure' }
  const rsdPercent = relativeStandardDeviationPercent(known)
  return rsdPercent === null ? { kind: 'not_positive' } : { kind: 'known', rsdPercent }
}

/** The same instrument named once for each kind of use, however many days it was used. */
function unionOf<T extends UncoveredUse>(lists: readonly (readonly T[])[]): readonly T[] {
  const first = lists.find((list) => list.length > 0)
  if (!first) return []
  const seen = new Map<string, T>()
  for (const list of lists) for (const use of list) if (!seen.has(use.serialNumber + use.kind)) seen.set(use.serialNumber + use.kind, use)
  return [...seen.values()]
}

function gapOf(filters: readonly FilterFigures[], pointsPlanned: number, pointsMeasured: number): Gap | null {
  const lacking = filters.filter((filter) => !filter.closed && (filter.gap !== null || isUnmeasured(filter)))
  if (lacking.length === 0) return null
  return {
    measured: pointsMeasured,
    planned: pointsPlanned,
    aboveRange: lacking.reduce((sum, filter) => sum + filter.of.aboveRange, 0),
    terminals: lacking.slice(0, MOST_NAMED).map((filter) => filter.of.terminal.body.tag),
    more: Math.max(0, lacking.length - MOST_NAMED),
    cause: lacking.length === 1 ? (lacking[0]?.gap?.cause ?? null) : null,
  }
}

/** A lower bound of the total from bounds of its parts, where a filter that has not been begun can still give zero. */
function sumOfLeast(filters: readonly FilterFigures[], part: (filter: FilterFigures) => number | null): number | null {
  let sum = 0
  for (const filter of filters) {
    const least = part(filter)
    if (least === null) return null
    sum += least
  }
  return sum
}

/**
 * Figures of several filters together, in SI: velocity through all their faces weighted by effective area, flow as the sum of the filters'
 * flows, spread over the points of the open ones about their own mean. Velocity and flow are none while a terminal in service has none of its own; a filter
 * with some points missing counts with what it has, and `gap` keeps any criterion from passing. Source: the house's rule A1.
 */
export function areaFigures(filters: readonly FilterFigures[], mayReadReverse: boolean): AreaFigures {
  const points: number[] = []
  let pointsPlanned = 0
  let areaM2 = 0
  let openAreaM2 = 0
  let velocityArea = 0
  let flowSoFarM3ps = 0
  let inService = 0
  let withFlow = 0
  let withMean = 0
  let withoutVelocity = 0
  let pointsMeasured = 0
  let reversed = 0
  let measuredFilters = 0
  let belowFilters = 0
  for (const filter of filters) {
    pointsPlanned += filter.pointsPlanned
    reversed += filter.reversed
    if (!givesVelocities(filter.way)) withoutVelocity += 1
    areaM2 += filter.areaM2
    pointsMeasured += filter.pointsMeasured
    for (const value of filter.points.meansMps) points.push(value)
    if (filter.flowM3ps !== null) flowSoFarM3ps += filter.flowM3ps
    if (filter.meanMps !== null) velocityArea += filter.meanMps * filter.areaM2
    if (filter.closed) continue
    inService += 1
    openAreaM2 += filter.areaM2
    if (filter.flowM3ps !== null) withFlow += 1
    if (filter.meanMps !== null) withMean += 1
    if (filter.pointsMeasured > 0) measuredFilters += 1
    if (filter.allBelowRange) belowFilters += 1
  }
  const known = filters.length > 0 && withMean === inService && areaM2 > 0
  const meanMps = known ? velocityArea / areaM2 : null
  const gap = gapOf(filters, pointsPlanned, pointsMeasured)
  const openMeanMps = known && openAreaM2 > 0 ? velocityArea / openAreaM2 : null
  const spread = spreadOf(points, openMeanMps)
  const least = (filter: FilterFigures) =>
    filter.gap || filter.meanMps === null ? (filter.leastMeanMps ?? (mayReadReverse ? null : 0)) : filter.meanMps
  const leastFlow = (filter: FilterFigures) => {
    if (givesVelocities(filter.way)) return scaled(least(filter), filter.areaM2 * filter.correctionFactor)
    return filter.flowM3ps ?? (mayReadReverse ? null : 0)
  }
  const leastVelocityArea = gap ? sumOfLeast(filters, (filter) => scaled(least(filter), filter.areaM2)) : null
  const withGap = gap !== null && withoutVelocity === 0 && pointsPlanned > points.length
  return {
    ...spread,
    filters,
    inService,
    withFlow,
    withoutVelocity,
    pointsPlanned,
    pointsMeasured,
    meanMps,
    openMeanMps,
    closedFaces: filters.length - inService,
    flowM3ps: filters.length > 0 && withFlow === inService ? flowSoFarM3ps : null,
    flowSoFarM3ps,
    gap,
    leastMeanMps: leastVelocityArea === null || withoutVelocity > 0 || !(areaM2 > 0) ? null : leastVelocityArea / areaM2,
    leastFlowM3ps: gap ? sumOfLeast(filters, leastFlow) : null,
    leastRsdPercent: withGap && hasEqualShares(filters) ? leastPossibleRsdPercent(points, pointsPlanned) : null,
    leastDeviationPercent: withGap ? leastPossibleDeviationPercent(spread.leastMps, spread.greatestMps) : null,
    filterToFilter: filterToFilterSpread(filters),
    reversed,
    allBelowRange: measuredFilters > 0 && belowFilters === measuredFilters,
    uncovered: unionOf(filters.map((filter) => filter.of.uncovered)),
    released: unionOf(filters.map((filter) => filter.of.released)),
  }
}

function scaled(value: number | null, by: number): number | null {
  return value === null ? null : value * by
}

/** Every point stands for the same share of the open area, so that the plain mean of the points is the open faces' mean. */
function hasEqualShares(filters: readonly FilterFigures[]): boolean {
  const open = filters.filter((filter) => !filter.closed)
  const first = open[0]
  if (!first || first.pointsPlanned === 0) return false
  const share = first.areaM2 / first.pointsPlanned
  return open.every(
    (filter) =>
      filter.pointsPlanned > 0 && Math.abs(filter.areaM2 / filter.pointsPlanned - share) <= RELATIVE_TOLERANCE * share && filter.equalCells,
  )
}
