import { keepsHigh, reachesLow } from '#core/criteria/compare-limit.ts'
import { limitsFor } from '#core/criteria/judge.ts'
import type { PreparedCriterion } from '#core/criteria/prepare.ts'
import type { AreaFigures } from './area-figures.ts'
import { filterEvidence } from './filter-evidence.ts'
import type { FilterFigures } from './filter-figures.ts'
import { figuresOn, type OnBases } from './on-bases.ts'

/** Limits on points with the velocities that they are held against, m/s, in the order of the measured points. */
type PointLimits = { readonly low: number | null; readonly high: number | null; readonly meansMps: readonly number[] }

function limitsOnPoints(criterion: PreparedCriterion, figures: FilterFigures, area: AreaFigures): PointLimits | null {
  const { form } = criterion
  const { meansMps } = figures.points
  if (criterion.excluded || criterion.unsettled || criterion.quantity !== 'face_velocity') return null
  if (form.kind === 'each_within_percent_of_mean') {
    const { meanMps } = form.of === 'zone' ? area : figures
    if (meanMps === null || !(meanMps > 0)) return null
    return { low: (meanMps * (100 - form.percent)) / 100, high: (meanMps * (100 + form.percent)) / 100, meansMps }
  }
  if (criterion.scope !== 'point') return null
  const limits = limitsFor(criterion, filterEvidence(figures, criterion.quantity))
  return limits && (limits.low !== null || limits.high !== null) ? { low: limits.low, high: limits.high, meansMps } : null
}

/** Whether each of these points lies within; null where nothing is set for it. */
export type Within = readonly (boolean | null)[]

/** Share of the points that something is set for that lie within, percent; null without such points. */
export function shareWithin(within: Within): number | null {
  let set = 0
  let inside = 0
  for (const one of within) {
    if (one === null) continue
    set += 1
    if (one) inside += 1
  }
  return set === 0 ? null : (100 * inside) / set
}

/**
 * Which measured points lie within all the limits that criteria set for points, each on its criterion's basis: true, false, or null where no
 * criterion that applies sets any. Simple comparison, as a share of points is no verdict; air the wrong way is never within.
 */
export function pointsWithin(criteria: readonly PreparedCriterion[], face: OnBases<FilterFigures>, area: OnBases<AreaFigures>): Within {
  const sets = criteria.flatMap((criterion) => {
    const { basis } = criterion.stance
    const figures = figuresOn(face, basis)
    const whole = figuresOn(area, basis)
    const limits = figures && whole ? limitsOnPoints(criterion, figures, whole) : null
    return limits ? [limits] : []
  })
  return face.as_indicated.points.meansMps.map((indicated, index) => {
    if (sets.length === 0) return null
    if (indicated < 0) return false
    return sets.every(({ low, high, meansMps }) => {
      const value = meansMps[index] ?? Number.NaN
      return (low === null || reachesLow(value, low)) && (high === null || keepsHigh(value, high))
    })
  })
}
