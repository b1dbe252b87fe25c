import type { CriteriaSet, Criterion, CriterionForm, CriterionOverride, CriterionQuantity, CriterionScope, Limit } from './criteria.ts'
import { checkEntered, checkUnique, type RuleProblem } from './rule-problem.ts'
import type { Dimension } from './values.ts'

/** What a criterion of each quantity is limited in. */
export const DIMENSION_OF_CRITERION: Readonly<Record<CriterionQuantity, Dimension>> = {
  face_velocity: 'velocity',
  flow: 'flow',
  air_changes: 'air_change_rate',
  outside_air_changes: 'air_change_rate',
  velocity_spread: 'percent',
  filter_to_filter_spread: 'percent',
  largest_deviation: 'percent',
  air_offset: 'flow',
  air_offset_percent: 'percent',
}

/** The forms that can be held against each quantity. */
export const FORMS_OF: Readonly<Record<CriterionQuantity, readonly CriterionForm['kind'][]>> = {
  face_velocity: ['at_least', 'at_most', 'between', 'within_percent_of_design', 'each_within_percent_of_mean'],
  flow: ['at_least', 'at_most', 'between', 'within_percent_of_design'],
  air_changes: ['at_least', 'at_most', 'between', 'within_percent_of_design'],
  outside_air_changes: ['at_least', 'at_most', 'between'],
  velocity_spread: ['spread_at_most', 'at_most'],
  filter_to_filter_spread: ['spread_at_most', 'at_most'],
  largest_deviation: ['spread_at_most', 'at_most'],
  air_offset: ['at_least', 'at_most', 'between'],
  air_offset_percent: ['at_least', 'at_most', 'between'],
}

/** What a criterion of each quantity can be judged for: points have velocities alone, air changes and offsets are those of a whole room. */
export const SCOPES_OF: Readonly<Record<CriterionQuantity, readonly CriterionScope[]>> = {
  face_velocity: ['point', 'filter', 'zone', 'room'],
  flow: ['filter', 'zone', 'room'],
  air_changes: ['room'],
  outside_air_changes: ['room'],
  velocity_spread: ['filter', 'zone', 'room'],
  filter_to_filter_spread: ['zone', 'room'],
  largest_deviation: ['filter', 'zone', 'room'],
  air_offset: ['room'],
  air_offset_percent: ['room'],
}

function checkLimit(field: string, limit: Limit, quantity: CriterionQuantity | null): RuleProblem[] {
  if (limit.from === 'value') return quantity ? checkEntered(`${field}.value`, limit.value, DIMENSION_OF_CRITERION[quantity]) : []
  if (quantity === null || DIMENSION_OF_CRITERION[quantity] === 'air_change_rate') return []
  return [{ field, code: 'rule.required_minimum_is_air_changes', params: {} }]
}

/** A percentage as typed says the same as its number. */
function checkPercentTyped(field: string, percent: number, typed: string | undefined): RuleProblem[] {
  return typed === undefined ? [] : checkEntered(field, { si: percent, typed, unit: '%' }, 'percent')
}

/** Where an override is looked at by itself its quantity is not known (null): then only its own ends are checked. */
function checkForm(field: string, form: CriterionForm, quantity: CriterionQuantity | null): RuleProblem[] {
  if (quantity && !FORMS_OF[quantity].includes(form.kind)) {
    return [{ field, code: 'rule.form_does_not_fit', params: { quantity, form: form.kind } }]
  }
  if (form.kind === 'at_least' || form.kind === 'at_most') return checkLimit(`${field}.limit`, form.limit, quantity)
  if (form.kind !== 'between') return checkPercentTyped(`${field}.percentTyped`, form.percent, form.percentTyped)
  const ends = [...checkLimit(`${field}.low`, form.low, quantity), ...checkLimit(`${field}.high`, form.high, quantity)]
  const both = form.low.from === 'value' && form.high.from === 'value' ? { low: form.low.value, high: form.high.value } : null
  if (ends.length > 0 || !both || both.low.si < both.high.si) return ends
  return [{ field: `${field}.high`, code: 'rule.low_not_below_high', params: {} }]
}

function checkCriterion(criterion: Criterion, index: number): RuleProblem[] {
  const field = `criteria.${index}`
  const { alert, quantity, scope } = criterion
  const dimension = DIMENSION_OF_CRITERION[quantity]
  const problems = checkForm(`${field}.form`, criterion.form, quantity)
  if (!SCOPES_OF[quantity].includes(scope)) {
    problems.push({ field: `${field}.scope`, code: 'rule.scope_does_not_fit', params: { quantity, scope } })
  }
  if (!alert) return problems
  const ends = [...checkEntered(`${field}.alert.low`, alert.low, dimension), ...checkEntered(`${field}.alert.high`, alert.high, dimension)]
  if (ends.length === 0 && alert.low && alert.high && !(alert.low.si < alert.high.si)) {
    ends.push({ field: `${field}.alert.high`, code: 'rule.low_not_below_high', params: {} })
  }
  return [...problems, ...ends]
}

/** A criteria set: keys once each, scopes, forms and limits that fit their quantity, low below high. */
export function checkCriteriaSet(set: CriteriaSet): RuleProblem[] {
  const keys = set.criteria.map((criterion) => criterion.key)
  return [...checkUnique(keys, (index) => `criteria.${index}.key`), ...set.criteria.flatMap(checkCriterion)]
}

/** A room's or zone's overrides: each key once, low below high. */
export function checkOverrides(overrides: readonly CriterionOverride[]): RuleProblem[] {
  const keys = overrides.map((override) => override.key)
  const forms = overrides.flatMap((override, index) => (override.form ? checkForm(`overrides.${index}.form`, override.form, null) : []))
  return [...checkUnique(keys, (index) => `overrides.${index}.key`), ...forms]
}

/**
 * Overrides held against the criteria that they are to change: each names one of them, in a form that fits its quantity. Those of
 * `known`, which stood there before, are left alone, because a set may have lost a criterion since. No criteria: none can be overridden.
 */
export function checkOverriddenCriteria(
  overrides: readonly CriterionOverride[],
  criteria: readonly Criterion[],
  known: readonly CriterionOverride[],
): RuleProblem[] {
  const quantities = new Map(criteria.map(({ key, quantity }) => [key, quantity]))
  const standing = new Map(known.map((override) => [override.key, JSON.stringify(override.form)]))
  return overrides.flatMap(({ key, form }, index): RuleProblem[] => {
    const before = standing.get(key)
    const quantity = quantities.get(key)
    if (quantity === undefined) {
      return before === undefined ? [{ field: `overrides.${index}.key`, code: 'rule.unknown_criterion', params: { key } }] : []
    }
    return form === null || before === JSON.stringify(form) ? [] : checkForm(`overrides.${index}.form`, form, quantity)
  })
}
