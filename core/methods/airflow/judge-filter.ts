import { type Evidence, judgeFigure, notApplicable } from '#core/criteria/judge.ts'
import { judgePoints } from '#core/criteria/judge-points.ts'
import type { PreparedCriterion } from '#core/criteria/prepare.ts'
import { message } from '#core/messages/say.ts'
import type { CriterionResult } from '#core/model/results.ts'
import type { AreaFigures } from './area-figures.ts'
import { filterEvidence, NO_SUCH_FIGURE } from './filter-evidence.ts'
import type { FilterFigures } from './filter-figures.ts'
import { heldAt, terminalMeasuredAt } from './measured-at.ts'
import { figuresOn, lacking, lackOn, type OnBases } from './on-bases.ts'
import { terminalUncertainty } from './uncertainty/figure-uncertainty.ts'
import type { RunErrors } from './uncertainty/run-errors.ts'
import { isFilter } from './ways.ts'

/** Holds the points of a face, or of a plane with itself as zone, against a criterion on points. */
export function judgeOnPoints(
  criterion: PreparedCriterion,
  on: OnBases<FilterFigures>,
  zoneOn: OnBases<AreaFigures> | null,
): CriterionResult {
  const { basis } = criterion.stance
  const filter = figuresOn(on, basis) ?? on.as_indicated
  const own = filterEvidence(filter, criterion.quantity)
  if (criterion.quantity !== 'face_velocity') return notApplicable(criterion, own, criterion.excluded ?? NO_SUCH_FIGURE(criterion))
  const { form } = criterion
  const lack = lackOn(on, basis)
  if (form.kind !== 'each_within_percent_of_mean' || form.of === 'filter')
    return judgePoints(lacking(criterion, lack), own, filter.points, filter)
  if (!zoneOn) {
    const { title, source } = criterion
    return notApplicable(criterion, own, criterion.excluded ?? message('reason.no_zone', { title, source }))
  }
  const zone = figuresOn(zoneOn, basis) ?? zoneOn.as_indicated
  // The mean of the zone's open faces rests on every reading of the zone: on what is missing there, and on every instrument used there.
  const evidence: Evidence = { ...own, gap: zone.gap, uncovered: zone.uncovered, released: zone.released }
  const { openMeanMps: meanMps, closedFaces, pointsMeasured, allBelowRange } = zone
  const set = { meanMps, closedFaces, pointsMeasured, allBelowRange }
  return judgePoints(lacking(criterion, lack ?? lackOn(zoneOn, basis)), evidence, filter.points, set)
}

function judgeWhole(criterion: PreparedCriterion, on: OnBases<FilterFigures>, errors: RunErrors): CriterionResult {
  const { basis } = criterion.stance
  const filter = figuresOn(on, basis) ?? on.as_indicated
  const lack = lackOn(on, basis)
  const uncertainty = lack === null ? terminalUncertainty(errors, filter, basis, criterion.quantity) : null
  const evidence = filterEvidence(filter, criterion.quantity, uncertainty)
  const about = isFilter(filter.of.terminal.body.kind)
  // Criteria on filters speak of supply filters; of a grille or duct only what was written down for it can be asked.
  if (!about && !(criterion.quantity === 'flow' && criterion.form.kind === 'within_percent_of_design' && filter.design.flow)) {
    const { title, source } = criterion
    return notApplicable(criterion, evidence, criterion.excluded ?? message('reason.not_a_filter', { title, source }))
  }
  return judgeFigure(lacking(criterion, lack), evidence)
}

/**
 * Holds one terminal against the criteria on filters and on points that reign where it hangs, each on the basis that the criterion names. Points
 * of a filter are judged with the filter, also against their zone's mean and whatever scope that criterion names, so that the verdict stands
 * where the bad point is. Points of a grille or duct are none that such criteria speak of.
 */
export function judgeFilter(
  criteria: readonly PreparedCriterion[],
  filter: OnBases<FilterFigures>,
  zone: OnBases<AreaFigures> | null,
  errors: RunErrors,
): CriterionResult[] {
  const results: CriterionResult[] = []
  const at = terminalMeasuredAt(filter.as_indicated)
  const isOne = isFilter(filter.as_indicated.of.terminal.body.kind)
  for (const one of criteria) {
    const criterion = heldAt(one, at)
    if (criterion.scope === 'point' || criterion.form.kind === 'each_within_percent_of_mean') {
      if (isOne) results.push(judgeOnPoints(criterion, filter, zone))
    } else if (criterion.scope === 'filter') results.push(judgeWhole(criterion, filter, errors))
  }
  return results
}
