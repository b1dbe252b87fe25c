import { message } from '#core/messages/say.ts'
import type { Location } from '#core/model/readings.ts'
import type { CriterionResult } from '#core/model/results.ts'
import { compareLimit, keepsHigh } from './compare-limit.ts'
import { comparedValue, type Evidence, excludedResult, judgedReason, type Limits, limitsFor, resultOf } from './judge.ts'
import type { PreparedCriterion } from './prepare.ts'

/** A point within its own filter: its place on the way through it, from 1, and where it lies. */
export type PointPlace = { readonly order: number; readonly row: number; readonly column: number }

/** The measured points of one filter, in path order. */
type PointMeans = {
  /** all points of the filter, measured or not, in path order */
  readonly planned: readonly Pick<Location, 'number' | 'row' | 'column'>[]
  readonly numbers: readonly number[]
  readonly meansMps: readonly number[]
  /** every reading of the point lies below the instrument's range */
  readonly belowRange: readonly boolean[]
}

/** The set a point is held against: its filter or its zone. */
type ReferenceSet = {
  readonly meanMps: number | null
  /** closed faces of a zone, which its mean leaves out here */
  readonly closedFaces?: number
  readonly pointsMeasured: number
  readonly allBelowRange: boolean
}

function placeOf(points: PointMeans, number: number): PointPlace | undefined {
  const index = points.planned.findIndex((location) => location.number === number)
  const location = points.planned[index]
  return location && { order: index + 1, row: location.row, column: location.column }
}

type Worst = { index: number; compared: number; margin: number; side: 'low' | 'high' | null; fails: boolean }

/** The point that decides: the failing one farthest outside, else the one nearest to a limit. Air the wrong way always fails. */
function worstPoint(criterion: PreparedCriterion, points: PointMeans, limits: Limits): { worst: Worst | null; unsupported: boolean } {
  let worst: Worst | null = null
  let unsupported = false
  for (let index = 0; index < points.meansMps.length; index += 1) {
    const value = points.meansMps[index] ?? 0
    const compared = comparedValue(value, limits, criterion.digits)
    const outcome = compareLimit(compared, limits.low, limits.high)
    const reversed = value < 0
    const failsLow = outcome.verdict === 'fail' && outcome.side === 'low'
    if (points.belowRange[index] && !reversed && !failsLow) {
      unsupported = true
      continue
    }
    const fails = reversed || outcome.verdict === 'fail'
    const margin = reversed ? Math.min(outcome.margin, value) : outcome.margin
    if (worst === null || (fails && !worst.fails) || (fails === worst.fails && margin < worst.margin))
      worst = { index, compared, margin, side: outcome.side, fails }
  }
  return { worst, unsupported }
}

function decide(criterion: PreparedCriterion, evidence: Evidence, points: PointMeans, limits: Limits): CriterionResult {
  const { title, source } = criterion
  const notTested = (reason: CriterionResult['reason']) =>
    resultOf(criterion, evidence, limits, { verdict: 'not_tested', margin: null, reason, value: null })
  if (points.meansMps.length === 0) return notTested(message('reason.no_reading', { title, source }))
  if (criterion.guarded) return notTested(message('reason.no_point_uncertainty', { title, source }))
  const { worst, unsupported } = worstPoint(criterion, points, limits)
  if (!worst?.fails) {
    if (evidence.gap) return notTested(message('reason.incomplete', { title, source, gap: evidence.gap }))
    if (unsupported || !worst) return notTested(message('reason.below_range', { title, source }))
  }
  const value = points.meansMps[worst.index] ?? 0
  const point = points.numbers[worst.index] ?? 0
  const place = placeOf(points, point)
  const margin = Number.isFinite(worst.margin) ? worst.margin : null
  if (value < 0)
    return resultOf(criterion, evidence, limits, {
      verdict: 'fail',
      margin,
      value,
      point,
      reason: message('reason.reverse_flow', { title, source, point, place, figure: { value }, stance: criterion.stance }),
    })
  const verdict = worst.fails ? 'fail' : 'pass'
  // The uncertainty at hand is that of the filter's mean, and none of a single point's.
  const numbers = { value, compared: worst.compared, margin: worst.margin, side: worst.side, verdict, certainty: null } as const
  const judged = judgedReason(criterion, evidence, limits, numbers)
  return resultOf(criterion, evidence, limits, {
    verdict,
    margin,
    value,
    point,
    reason: message('reason.worst_point', { point, place, met: !worst.fails, judged }),
  })
}

/**
 * While readings are missing the mean may still move, of the filter as of its zone. The filter's own points decide already when no mean
 * fits them: one below zero, or two farther apart than the percentage allows. With a < b both within p of one mean m,
 * (b - a) / (a + b) is at most p, reached at m = (a + b) / 2. Points of other filters do not count: the mean may yet come to fit
 * this one and not them.
 */
function beyondRescue(criterion: PreparedCriterion, evidence: Evidence, points: PointMeans, percent: number): CriterionResult | null {
  if (!evidence.gap || percent >= 100) return null
  const { title, source, stance } = criterion
  const { meansMps, numbers } = points
  let least = 0
  let greatest = 0
  for (let index = 1; index < meansMps.length; index += 1) {
    if ((meansMps[index] ?? 0) < (meansMps[least] ?? 0)) least = index
    if ((meansMps[index] ?? 0) > (meansMps[greatest] ?? 0)) greatest = index
  }
  const value = meansMps[least] ?? 0
  const other = meansMps[greatest] ?? 0
  const point = numbers[least] ?? 0
  const place = placeOf(points, point)
  const failed = (reason: CriterionResult['reason']) => {
    const limits: Limits = { low: null, high: null, relative: null, unit: criterion.unit }
    return resultOf(criterion, evidence, limits, { verdict: 'fail', margin: null, value, point, reason })
  }
  if (value < 0) return failed(message('reason.reverse_flow', { title, source, point, place, figure: { value }, stance }))
  if (!(other > 0) || keepsHigh((100 * (other - value)) / (value + other), percent)) return null
  const otherPoint = numbers[greatest] ?? 0
  const figure = { value, other, otherPoint, otherPlace: placeOf(points, otherPoint), percent }
  return failed(message('reason.apart', { title, source, point, place, figure, gap: evidence.gap, stance }))
}

function judgeAgainstMean(
  criterion: PreparedCriterion,
  evidence: Evidence,
  points: PointMeans,
  set: ReferenceSet,
  form: { percent: number; of: 'filter' | 'zone' },
): CriterionResult {
  const { title, source } = criterion
  const open: Limits = { low: null, high: null, relative: null, unit: criterion.unit }
  const notTested = (reason: CriterionResult['reason']) =>
    resultOf(criterion, evidence, open, { verdict: 'not_tested', margin: null, value: null, reason })
  if (points.meansMps.length === 0) return notTested(message('reason.no_reading', { title, source }))
  if (evidence.gap)
    return (
      beyondRescue(criterion, evidence, points, form.percent) ??
      notTested(message('reason.incomplete', { title, source, gap: evidence.gap }))
    )
  if (set.meanMps === null || !(set.meanMps > 0))
    return resultOf(criterion, evidence, open, {
      verdict: 'fail',
      margin: null,
      value: null,
      reason: message('reason.mean_not_positive', { title, source, stance: criterion.stance }),
    })
  if (set.pointsMeasured < 2) return notTested(message('reason.one_point', { title, source }))
  const isReversed = points.meansMps.some((value) => value < 0)
  // Limits drawn from such a mean are no better founded than the readings that it is made of.
  if (set.allBelowRange && !isReversed) return notTested(message('reason.below_range', { title, source }))
  const limits: Limits = {
    low: (set.meanMps * (100 - form.percent)) / 100,
    high: (set.meanMps * (100 + form.percent)) / 100,
    relative: {
      to: form.of === 'filter' ? 'filter_mean' : set.closedFaces ? 'open_faces_mean' : 'zone_mean',
      si: set.meanMps,
      percent: form.percent,
    },
    unit: criterion.unit,
  }
  return decide(criterion, evidence, points, limits)
}

/**
 * Holds every measured point mean of one filter against one criterion, and answers with the worst point. Air the wrong way fails
 * whatever the limits are. A measured point outside fixed limits fails even while others are missing; a percentage of a mean needs the
 * whole set of two points at least, unless two are too far apart for any mean, and says nothing where the whole set lies below the
 * instrument's range. One of a filter's points below the instrument's range may fail a
 * lower limit, and keeps the criterion from passing otherwise. Source: the house's rules A3 and A4 (common practice).
 */
export function judgePoints(criterion: PreparedCriterion, evidence: Evidence, points: PointMeans, set: ReferenceSet): CriterionResult {
  const excluded = excludedResult(criterion, evidence)
  if (excluded) return excluded
  const open: Limits = { low: null, high: null, relative: null, unit: criterion.unit }
  if (criterion.unsettled)
    return resultOf(criterion, evidence, open, { verdict: 'not_tested', margin: null, value: null, reason: criterion.unsettled })
  if (criterion.form.kind === 'each_within_percent_of_mean') return judgeAgainstMean(criterion, evidence, points, set, criterion.form)
  const limits = limitsFor(criterion, evidence)
  if (!limits)
    return resultOf(criterion, evidence, open, {
      verdict: 'not_tested',
      margin: null,
      value: null,
      reason: message('reason.no_design', { title: criterion.title, source: criterion.source }),
    })
  return decide(criterion, evidence, points, limits)
}
