import type { CriterionForm, Limit } from '#core/model/criteria.ts'
import type { Dimension, Entered } from '#core/model/values.ts'
import { dimensionOf } from '#core/units/units.ts'

export type LimitKey = 'limit' | 'low' | 'high' | 'percent'
export type LimitSlot = { readonly key: LimitKey; readonly value: Entered; readonly dimension: Dimension }

/** The numbers of a criterion's form that a room may set otherwise. A limit taken from the room's required minimum is none of them. */
export function limitsOf(form: CriterionForm): LimitSlot[] {
  switch (form.kind) {
    case 'at_least':
    case 'at_most':
      return slot('limit', form.limit)
    case 'between':
      return [...slot('low', form.low), ...slot('high', form.high)]
    case 'within_percent_of_design':
    case 'spread_at_most':
    case 'each_within_percent_of_mean':
      return [
        { key: 'percent', value: { si: form.percent, typed: form.percentTyped ?? String(form.percent), unit: '%' }, dimension: 'percent' },
      ]
  }
}

/** The form with one of its numbers replaced; a key that the form does not have leaves it as it is. */
export function changedLimits(form: CriterionForm, key: LimitKey, value: Entered): CriterionForm {
  const limit: Limit = { from: 'value', value }
  switch (form.kind) {
    case 'at_least':
    case 'at_most':
      return key === 'limit' ? { ...form, limit } : form
    case 'between':
      return key === 'low' ? { ...form, low: limit } : key === 'high' ? { ...form, high: limit } : form
    case 'within_percent_of_design':
    case 'spread_at_most':
    case 'each_within_percent_of_mean':
      return key === 'percent' ? withPercent(form, value) : form
  }
}

/** A form with another percentage. Its text is kept where the number alone would not show every digit that was typed. */
export function withPercent<Form extends { percent: number; percentTyped?: string | undefined }>(form: Form, value: Entered): Form {
  const { percentTyped: _before, ...rest } = form
  const typed = value.typed.trim()
  // The rest is the form but for a field that it need not have.
  return { ...rest, percent: value.si, ...(typed === String(value.si) ? {} : { percentTyped: typed }) } as Form
}

function slot(key: LimitKey, limit: Limit): LimitSlot[] {
  return limit.from === 'value' ? [{ key, value: limit.value, dimension: dimensionOf(limit.value.unit) }] : []
}
