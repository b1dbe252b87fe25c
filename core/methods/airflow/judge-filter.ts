import { type Evidence, judgeFigure, notApplicable } from '#core/criteria/judge.ts'
import { judgePoints } from '#core/criteria/judge-points.ts'
import type { PreparedCriterion } from '#core/criteria/prepare.ts'
import { message } from '#core/messages/say.ts'
import type { CriterionResult } from '#core/model/results.ts'
import type { AreaFigures } from './area-figures.ts'
import { filterEvidence, NO_SUCH_FIGURE } from './filter-evidence.ts'
import type { FilterFigures } from './filter-figures.ts'

function judgeOnPoints(criterion: PreparedCriterion, filter: FilterFigures, zone: AreaFigures | null): CriterionResult {
  const own = filterEvidence(filter, criterion.quantity)
  if (criterion.quantity !== 'face_velocity') return notApplicable(criterion, own, criterion.excluded ?? NO_SUCH_FIGURE(criterion))
  const { form } = criterion
  if (form.kind !== 'each_within_percent_of_mean' || form.of === 'filter') return judgePoints(criterion, own, filter.of, filter)
  if (!zone) {
    const { title, source } = criterion
    return notApplicable(criterion, own, criterion.excluded ?? message('reason.no_zone', { title, source }))
  }
  // The zone's mean rests on every reading of the zone: on what is missing there, and on every instrument used there.
  const evidence: Evidence = { ...own, gap: zone.gap, uncovered: zone.uncovered, released: zone.released }
  return judgePoints(criterion, evidence, filter.of, zone)
}

/**
 * Holds one filter against the criteria on filters and on points that reign where it hangs. Points of a filter are judged
 * with the filter, also against their zone's mean and whatever scope that criterion names, so that the verdict stands where the
 * bad point is.
 */
export function judgeFilter(criteria: readonly PreparedCriterion[], filter: FilterFigures, zone: AreaFigures | null): CriterionResult[] {
  const results: CriterionResult[] = []
  for (const criterion of criteria) {
    if (criterion.scope === 'point' || criterion.form.kind === 'each_within_percent_of_mean')
      results.push(judgeOnPoints(criterion, filter, zone))
    else if (criterion.scope === 'filter') results.push(judgeFigure(criterion, filterEvidence(filter, criterion.quantity)))
  }
  return results
}
