import { compareLimit } from '#core/criteria/compare-limit.ts'
import { type Evidence, limitsFor } from '#core/criteria/judge.ts'
import type { PreparedCriterion } from '#core/criteria/prepare.ts'
import type { AreaFigures } from './area-figures.ts'
import type { FilterFigures } from './filter-figures.ts'
import { figuresOn, type OnBases } from './on-bases.ts'

/** Limits on points with the velocities that they are held against, m/s, in the order of the measured points. */
type PointLimits = { readonly low: number | null; readonly high: number | null; readonly meansMps: readonly number[] }

function limitsOnPoints(criterion: PreparedCriterion, figures: FilterFigures, area: AreaFigures, evidence: Evidence): PointLimits | null {
  const { form } = criterion
  const { meansMps } = figures.points
  if (criterion.excluded || criterion.unsettled || criterion.quantity !== 'face_velocity') return null
  if (form.kind === 'each_within_percent_of_mean') {
    const { meanMps } = area
    if (form.of !== 'zone' || meanMps === null || !(meanMps > 0)) return null
    return { low: (meanMps * (100 - form.percent)) / 100, high: (meanMps * (100 + form.percent)) / 100, meansMps }
  }
  if (criterion.scope !== 'point') return null
  const limits = limitsFor(criterion, evidence)
  return limits && (limits.low !== null || limits.high !== null) ? { low: limits.low, high: limits.high, meansMps } : null
}

/**
 * Which measured points lie within all the limits that criteria set for points, each on its criterion's basis: true, false, or null where no
 * criterion that applies sets any. Simple comparison, as a share of points is no verdict; air the wrong way is never within.
 */
export function pointsWithin(
  criteria: readonly PreparedCriterion[],
  plane: OnBases<FilterFigures>,
  area: OnBases<AreaFigures>,
  evidenceOf: (criterion: PreparedCriterion) => Evidence,
): (boolean | null)[] {
  const sets = criteria.flatMap((criterion) => {
    const { basis } = criterion.stance
    const figures = figuresOn(plane, basis)
    const whole = figuresOn(area, basis)
    const limits = figures && whole ? limitsOnPoints(criterion, figures, whole, evidenceOf(criterion)) : null
    return limits ? [limits] : []
  })
  return plane.as_indicated.points.meansMps.map((indicated, index) => {
    if (sets.length === 0) return null
    if (indicated < 0) return false
    return sets.every(({ low, high, meansMps }) => compareLimit(meansMps[index] ?? Number.NaN, low, high).verdict === 'pass')
  })
}
