import { keepsHigh, reachesLow } from '#core/criteria/compare-limit.ts'
import { limitsFor } from '#core/criteria/judge.ts'
import type { PreparedCriterion } from '#core/criteria/prepare.ts'
import type { AreaFigures } from './area-figures.ts'
import type { FilterFigures } from './filter-figures.ts'
import { figuresOn, type OnBases } from './on-bases.ts'

/** Limits on points with the velocities that they are held against, m/s, in the order of the measured points. */
type PointLimits = { readonly low: number | null; readonly high: number | null; readonly meansMps: readonly number[] }

function limitsOnPoints(criterion: PreparedCriterion, figures: FilterFigures, area: AreaFigures): PointLimits | null {
  const { form } = criterion
  const { meansMps } = figures.points
  if (criterion.excluded || criterion.unsettled || criterion.quantity !== 'face_velocity') return null
  if (form.kind === 'each_within_percent_of_mean') {
    const meanMps = form.of === 'zone' ? area.openMeanMps : figures.meanMps
    if (meanMps === null || !(meanMps > 0)) return null
    return { low: (meanMps * (100 - form.percent)) / 100, high: (meanMps * (100 + form.percent)) / 100, meansMps }
  }
  if (criterion.scope !== 'point') return null
  const limits = limitsFor(criterion, { design: figures.design.velocity })
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

function limitsOnFace(criteria: readonly PreparedCriterion[], face: OnBases<FilterFigures>, area: OnBases<AreaFigures>): PointLimits[] {
  const sets: PointLimits[] = []
  for (const criterion of criteria) {
    const { basis } = criterion.stance
    const figures = figuresOn(face, basis)
    const whole = figuresOn(area, basis)
    const limits = figures && whole ? limitsOnPoints(criterion, figures, whole) : null
    if (limits) sets.push(limits)
  }
  return sets
}

/** Air the wrong way is never within. */
function isWithin(sets: readonly PointLimits[], indicated: number, index: number): boolean {
  if (indicated < 0) return false
  for (const { low, high, meansMps } of sets) {
    const value = meansMps[index] ?? Number.NaN
    if (!((low === null || reachesLow(value, low)) && (high === null || keepsHigh(value, high)))) return false
  }
  return true
}

/**
 * Which measured points lie within all the limits that criteria set for points, each on its criterion's basis: true, false, or null where no
 * criterion that applies sets any. Simple comparison, as a share of points is no verdict.
 */
export function pointsWithin(criteria: readonly PreparedCriterion[], face: OnBases<FilterFigures>, area: OnBases<AreaFigures>): Within {
  const sets = limitsOnFace(criteria, face, area)
  return face.as_indicated.points.meansMps.map((indicated, index) => (sets.length === 0 ? null : isWithin(sets, indicated, index)))
}

/** {@link shareWithin} over the points of many faces. */
export function shareOfFacesWithin(
  criteria: readonly PreparedCriterion[],
  faces: readonly OnBases<FilterFigures>[],
  area: OnBases<AreaFigures>,
): number | null {
  let set = 0
  let inside = 0
  for (const face of faces) {
    const sets = limitsOnFace(criteria, face, area)
    if (sets.length === 0) continue
    const { meansMps } = face.as_indicated.points
    set += meansMps.length
    for (let index = 0; index < meansMps.length; index += 1) if (isWithin(sets, meansMps[index] ?? 0, index)) inside += 1
  }
  return set === 0 ? null : (100 * inside) / set
}
