import type { Criterion, CriterionForm } from '#core/model/criteria.ts'
import { useSay } from '../app/session.tsx'
import type { Choice } from '../ui/select.tsx'

/** Every choice of a criterion's fields, in words. */
export function useCriterionChoices(): {
  quantities: Choice<Criterion['quantity']>[]
  scopes: Choice<Criterion['scope']>[]
  planes: Choice<Criterion['plane']>[]
  bases: Choice<Criterion['basis']>[]
  forms: Choice<CriterionForm['kind']>[]
} {
  const t = useSay()
  return {
    quantities: [
      { value: 'face_velocity', label: t('criteria.quantity.face_velocity', {}) },
      { value: 'flow', label: t('criteria.quantity.flow', {}) },
      { value: 'air_changes', label: t('criteria.quantity.air_changes', {}) },
      { value: 'outside_air_changes', label: t('criteria.quantity.outside_air_changes', {}) },
      { value: 'velocity_spread', label: t('criteria.quantity.velocity_spread', {}) },
      { value: 'filter_to_filter_spread', label: t('criteria.quantity.filter_to_filter_spread', {}) },
      { value: 'largest_deviation', label: t('criteria.quantity.largest_deviation', {}) },
      { value: 'air_offset', label: t('criteria.quantity.air_offset', {}) },
      { value: 'air_offset_percent', label: t('criteria.quantity.air_offset_percent', {}) },
    ],
    scopes: [
      { value: 'point', label: t('criteria.scope.point', {}) },
      { value: 'filter', label: t('criteria.scope.filter', {}) },
      { value: 'zone', label: t('criteria.scope.zone', {}) },
      { value: 'room', label: t('criteria.scope.room', {}) },
    ],
    planes: [
      { value: 'any', label: t('criteria.plane.any', {}) },
      { value: 'filter_face', label: t('criteria.plane.filter_face', {}) },
      { value: 'working_height', label: t('criteria.plane.working_height', {}) },
    ],
    bases: [
      { value: 'actual', label: t('criteria.basis.actual', {}) },
      { value: 'standard', label: t('criteria.basis.standard', {}) },
      { value: 'as_indicated', label: t('criteria.basis.as_indicated', {}) },
    ],
    forms: [
      { value: 'at_least', label: t('criteria.form.at_least', {}) },
      { value: 'at_most', label: t('criteria.form.at_most', {}) },
      { value: 'between', label: t('criteria.form.between', {}) },
      { value: 'within_percent_of_design', label: t('criteria.form.within_percent_of_design', {}) },
      { value: 'spread_at_most', label: t('criteria.form.spread_at_most', {}) },
      { value: 'each_within_percent_of_mean', label: t('criteria.form.each_within_percent_of_mean', {}) },
    ],
  }
}
