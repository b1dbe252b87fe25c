import { message } from '#core/messages/say.ts'
import type { CriteriaSet, Criterion, CriterionForm, CriterionOverride, CriterionQuantity, Limit } from '#core/model/criteria.ts'
import { DIMENSION_OF_CRITERION } from '#core/model/criteria-rules.ts'
import type { Sentence } from '#core/model/results.ts'
import type { Dimension, MeasuringPlane, Unit } from '#core/model/values.ts'
import { dimensionOf } from '#core/units/units.ts'
import { decimalsOf, digitsOfLimit, type LimitDigits } from './limit-digits.ts'
import type { Stance } from './stance.ts'

/** Where criteria are applied: what a run and its room say about all of them at once. */
export type Setting = {
  readonly plane: MeasuringPlane['kind']
  /** the room's required minimum of a code or the site, air changes per hour */
  readonly requiredMinimumPerHour: number | null
}

/** One criterion made ready to judge many subjects: overrides applied, limits in SI, what excludes it decided once. */
export type PreparedCriterion = {
  readonly key: string
  readonly title: string
  readonly source: string
  readonly quantity: CriterionQuantity
  readonly scope: Criterion['scope']
  readonly form: CriterionForm
  readonly dimension: Dimension
  readonly unit: Unit
  /** limits in SI; null where the form has none or takes them from the subject's design or mean */
  readonly low: number | null
  readonly high: number | null
  /** the percentage of the relative forms */
  readonly percent: number | null
  /** null: compared unrounded */
  readonly digits: LimitDigits | null
  readonly alertLow: number | null
  readonly alertHigh: number | null
  /** why it does not apply to any subject of this run */
  readonly excluded: Sentence | null
  /** why it cannot be judged here although it applies */
  readonly unsettled: Sentence | null
  /** there is no figure on its basis, so that none is shown under its name */
  readonly withoutFigure?: true
  readonly guarded: boolean
  /** guard band = multiple x U; 0 under simple acceptance */
  readonly multiple: number
  readonly stance: Stance
}

const DEFAULT_UNIT: Readonly<Partial<Record<Dimension, Unit>>> = {
  velocity: 'm/s',
  flow: 'm3/h',
  percent: '%',
  air_change_rate: '1/h',
}

type ResolvedLimit = { readonly si: number; readonly unit: Unit; readonly digits: LimitDigits }

function resolveLimit(limit: Limit, quantity: CriterionQuantity, setting: Setting): ResolvedLimit | null {
  if (limit.from === 'value') {
    const { si, typed, unit } = limit.value
    return { si, unit, digits: digitsOfLimit(si, typed, unit) }
  }
  const minimum = DIMENSION_OF_CRITERION[quantity] === 'air_change_rate' ? setting.requiredMinimumPerHour : null
  return minimum === null ? null : { si: minimum, unit: '1/h', digits: { unit: '1/h', decimals: decimalsOf(minimum) } }
}

/** `percent`: the digits of a relative form's percentage. */
type Limits = { low: ResolvedLimit | null; high: ResolvedLimit | null; percent: LimitDigits | null; unresolved: boolean }

function digitsOfPercent({ percent, percentTyped }: { percent: number; percentTyped?: string | undefined }): LimitDigits {
  return digitsOfLimit(percent, percentTyped ?? '', '%')
}

function limitsOf(form: CriterionForm, quantity: CriterionQuantity, setting: Setting): Limits {
  switch (form.kind) {
    case 'at_least': {
      const low = resolveLimit(form.limit, quantity, setting)
      return { low, high: null, percent: null, unresolved: low === null }
    }
    case 'at_most': {
      const high = resolveLimit(form.limit, quantity, setting)
      return { low: null, high, percent: null, unresolved: high === null }
    }
    case 'between': {
      const low = resolveLimit(form.low, quantity, setting)
      const high = resolveLimit(form.high, quantity, setting)
      return { low, high, percent: null, unresolved: low === null || high === null }
    }
    case 'spread_at_most': {
      const digits = digitsOfPercent(form)
      return { low: null, high: { si: form.percent, unit: '%', digits }, percent: digits, unresolved: false }
    }
    case 'within_percent_of_design':
    case 'each_within_percent_of_mean':
      return { low: null, high: null, percent: digitsOfPercent(form), unresolved: false }
  }
}

/** Whether the limits speak of what the quantity is: a velocity is not held against cubic metres, nor a flow against a spread. */
function fits(form: CriterionForm, limits: Limits, dimension: Dimension): boolean {
  if (form.kind === 'spread_at_most') return dimension === 'percent'
  return [limits.low, limits.high].every((limit) => limit === null || dimensionOf(limit.unit) === dimension)
}

function unsettledBecause(criterion: Criterion, form: CriterionForm, limits: Limits): Sentence | null {
  const { title, source } = criterion
  if (limits.unresolved) return message('reason.no_required_minimum', { title, source })
  return fits(form, limits, DIMENSION_OF_CRITERION[criterion.quantity]) ? null : message('reason.unfit', { title, source })
}

/** Two limits are rounded alike, to the finer of the two. */
function digitsFor(limits: Limits): LimitDigits {
  if (limits.percent !== null) return limits.percent
  const low = limits.low?.digits
  const high = limits.high?.digits
  if (low && high) return low.decimals >= high.decimals ? low : high
  return low ?? high ?? { unit: '%', decimals: 0 }
}

/** Figures that have no expanded uncertainty by the house's rule A4: how much others differ. */
const SPREADS: readonly CriterionQuantity[] = ['velocity_spread', 'filter_to_filter_spread', 'largest_deviation']

function isSpread(quantity: CriterionQuantity, form: CriterionForm): boolean {
  return SPREADS.includes(quantity) || form.kind === 'each_within_percent_of_mean'
}

function excludedBecause(criterion: Criterion, override: CriterionOverride | undefined, setting: Setting): Sentence | null {
  const { title, source } = criterion
  if (override && !override.on) return message('reason.switched_off_here', { title, source, because: override.reason })
  if (!override && !criterion.on) return message('reason.switched_off', { title, source })
  if (criterion.plane !== 'any' && criterion.plane !== setting.plane)
    return message('reason.other_plane', { title, source, planes: { wanted: criterion.plane, measured: setting.plane } })
  return null
}

function prepare(set: CriteriaSet, criterion: Criterion, override: CriterionOverride | undefined, setting: Setting): PreparedCriterion {
  const form = override?.form ?? criterion.form
  const limits = limitsOf(form, criterion.quantity, setting)
  const dimension = DIMENSION_OF_CRITERION[criterion.quantity]
  const spread = isSpread(criterion.quantity, form)
  const multiple = set.decisionRule.kind === 'guarded' && !spread ? set.decisionRule.multiple : 0
  const guarded = multiple > 0
  const rounded = set.comparison === 'rounded_to_limit'
  const { title, source } = criterion
  return {
    key: criterion.key,
    title,
    source,
    quantity: criterion.quantity,
    scope: criterion.scope,
    form,
    dimension,
    unit: limits.low?.unit ?? limits.high?.unit ?? DEFAULT_UNIT[dimension] ?? '%',
    low: limits.low?.si ?? null,
    high: limits.high?.si ?? null,
    percent: 'percent' in form ? form.percent : null,
    digits: rounded ? digitsFor(limits) : null,
    alertLow: criterion.alert?.low?.si ?? null,
    alertHigh: criterion.alert?.high?.si ?? null,
    excluded: excludedBecause(criterion, override, setting),
    unsettled: unsettledBecause(criterion, form, limits),
    guarded,
    multiple,
    stance: {
      basis: criterion.basis,
      plane: setting.plane,
      acceptance: guarded ? 'guarded' : set.decisionRule.kind === 'guarded' && spread ? 'simple_for_spread' : 'simple',
      multiple,
      rounded,
      override: override?.reason ?? null,
    },
  }
}

/**
 * Makes the criteria of a set ready for one run: the overrides of the room or zone take the place of a criterion's form or switch
 * it, limits become SI, the required minimum is looked up. Later overrides of the same key win. A criterion that is switched off or
 * belongs to the other plane stays in the list with the reason, so that it can be shown as not applicable.
 */
export function prepareCriteria(set: CriteriaSet, overrides: readonly CriterionOverride[], setting: Setting): PreparedCriterion[] {
  const byKey = new Map(overrides.map((override) => [override.key, override]))
  return set.criteria.map((criterion) => prepare(set, criterion, byKey.get(criterion.key), setting))
}
