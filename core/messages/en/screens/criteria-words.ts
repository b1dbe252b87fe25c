import type { CriteriaSet, Criterion, CriterionForm, CriterionQuantity, CriterionScope, Limit } from '#core/model/criteria.ts'
import type { Formatter } from '#core/units/formatter.ts'
import { enteredWords } from '../entered-words.ts'

export const QUANTITY: Readonly<Record<CriterionQuantity, string>> = {
  face_velocity: 'Face velocity',
  flow: 'Flow',
  air_changes: 'Air changes',
  outside_air_changes: 'Air changes from the air handler alone',
  velocity_spread: 'Spread of velocities',
  filter_to_filter_spread: 'Spread from filter to filter',
  largest_deviation: 'Largest deviation from the mean',
  air_offset: 'Offset flow',
  air_offset_percent: 'Offset in percent of supply',
}
export const SCOPE: Readonly<Record<CriterionScope, string>> = {
  point: 'every point',
  filter: 'every filter',
  zone: 'the zone',
  room: 'the room',
}
export const PLANE: Readonly<Record<Criterion['plane'], string>> = {
  filter_face: 'at the filter face',
  working_height: 'at working height',
  any: 'at either plane',
}

export const BASIS: Readonly<Record<Criterion['basis'], string>> = {
  as_indicated: 'air as indicated',
  standard: 'standard air',
  actual: 'actual air',
}

function limit(value: Limit): string {
  return value.from === 'value' ? enteredWords(value.value) : 'the room’s required minimum'
}

function percent({ percent: si, percentTyped: typed }: { percent: number; percentTyped?: string | undefined }, f: Formatter): string {
  return typed === undefined ? `${f.significant(si, 6)} %` : enteredWords({ si, typed, unit: '%' })
}

/** A criterion's form in words, such as "at least 0.36 m/s". */
export function formWords(form: CriterionForm, f: Formatter): string {
  switch (form.kind) {
    case 'at_least':
      return `at least ${limit(form.limit)}`
    case 'at_most':
      return `at most ${limit(form.limit)}`
    case 'between':
      return `from ${limit(form.low)} to ${limit(form.high)}`
    case 'within_percent_of_design':
      return `within ${percent(form, f)} of design`
    case 'spread_at_most':
      return `at most ${percent(form, f)}`
    case 'each_within_percent_of_mean':
      return `each within ${percent(form, f)} of the ${form.of === 'zone' ? 'zone' : 'filter'}’s mean`
  }
}

export function rule(set: Pick<CriteriaSet, 'decisionRule' | 'comparison'>, f: Formatter): string {
  const decision =
    set.decisionRule.kind === 'simple'
      ? 'Simple acceptance'
      : `Guarded acceptance and rejection, guard band ${f.significant(set.decisionRule.multiple, 6)} × U`
  return `${decision}; ${set.comparison === 'absolute' ? 'compared unrounded' : 'rounded to the digits of the limit'}`
}
