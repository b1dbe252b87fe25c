import type { Criterion, CriterionForm, Limit } from '#core/model/criteria.ts'
import { DIMENSION_OF_CRITERION, FORMS_OF, SCOPES_OF } from '#core/model/criteria-rules.ts'
import type { Entered, Unit } from '#core/model/values.ts'
import { displayUnit } from '#core/units/format.ts'
import type { DisplayUnits } from '#core/units/formatter.ts'
import type { FieldProblem } from '../forms/use-form.ts'
import { withPercent } from '../rooms/edit/override-limits.ts'

/** A criterion as its form holds it: every form's fields side by side, values may still be missing. */
export type CriterionDraft = Pick<Criterion, 'key' | 'title' | 'quantity' | 'scope' | 'plane' | 'basis' | 'on' | 'source'> & {
  /** tells the lines of the form apart */
  line: number
  formKind: CriterionForm['kind']
  lowFrom: Limit['from']
  low: Entered | null
  highFrom: Limit['from']
  high: Entered | null
  percent: Entered | null
  of: 'filter' | 'zone'
  alertLow: Entered | null
  alertHigh: Entered | null
}

export const NEW_CRITERION: CriterionDraft = {
  line: 0,
  key: '',
  title: '',
  quantity: 'face_velocity',
  scope: 'filter',
  plane: 'any',
  basis: 'actual',
  on: true,
  source: '',
  formKind: 'within_percent_of_design',
  lowFrom: 'value',
  low: null,
  highFrom: 'value',
  high: null,
  percent: null,
  of: 'zone',
  alertLow: null,
  alertHigh: null,
}

const percentOf = ({ percent, percentTyped }: { percent: number; percentTyped?: string | undefined }): Entered => ({
  si: percent,
  typed: percentTyped ?? String(percent),
  unit: '%',
})
const enteredOf = (limit: Limit): Entered | null => (limit.from === 'value' ? limit.value : null)

function limitsOf(form: CriterionForm): Partial<CriterionDraft> {
  switch (form.kind) {
    case 'at_least':
      return { lowFrom: form.limit.from, low: enteredOf(form.limit) }
    case 'at_most':
      return { highFrom: form.limit.from, high: enteredOf(form.limit) }
    case 'between':
      return { lowFrom: form.low.from, low: enteredOf(form.low), highFrom: form.high.from, high: enteredOf(form.high) }
    case 'each_within_percent_of_mean':
      return { percent: percentOf(form), of: form.of }
    default:
      return { percent: percentOf(form) }
  }
}

export function draftOfCriterion({ form, alert, ...rest }: Criterion, line: number): CriterionDraft {
  return {
    ...NEW_CRITERION,
    ...rest,
    line,
    formKind: form.kind,
    alertLow: alert?.low ?? null,
    alertHigh: alert?.high ?? null,
    ...limitsOf(form),
  }
}

/** The unit that a bare number of this criterion's limits is typed in: the one of the limits already there, else the one the project shows. */
export function unitOfLimits(draft: CriterionDraft, display: DisplayUnits): Unit {
  return draft.low?.unit ?? draft.high?.unit ?? displayUnit(DIMENSION_OF_CRITERION[draft.quantity], display)
}

/** Another quantity: limits of the old one mean nothing any more, and scope and form must fit. */
export function withQuantity(draft: CriterionDraft, quantity: Criterion['quantity']): CriterionDraft {
  const keepsUnits = DIMENSION_OF_CRITERION[quantity] === DIMENSION_OF_CRITERION[draft.quantity]
  const fits = FORMS_OF[quantity].includes(draft.formKind)
  return {
    ...draft,
    quantity,
    scope: SCOPES_OF[quantity].includes(draft.scope) ? draft.scope : (SCOPES_OF[quantity].at(-1) ?? 'room'),
    formKind: fits ? draft.formKind : (FORMS_OF[quantity][0] ?? 'at_least'),
    ...(keepsUnits ? {} : { low: null, high: null, alertLow: null, alertHigh: null, lowFrom: 'value', highFrom: 'value' }),
  }
}

function limitOf(from: Limit['from'], value: Entered | null): Limit | null {
  if (from === 'room_required_minimum') return { from }
  return value ? { from: 'value', value } : null
}

function formOf(draft: CriterionDraft): CriterionForm | null {
  const low = limitOf(draft.lowFrom, draft.low)
  const high = limitOf(draft.highFrom, draft.high)
  const { percent } = draft
  switch (draft.formKind) {
    case 'at_least':
      return low && { kind: 'at_least', limit: low }
    case 'at_most':
      return high && { kind: 'at_most', limit: high }
    case 'between':
      return low && high && { kind: 'between', low, high }
    case 'each_within_percent_of_mean':
      return percent && withPercent({ kind: draft.formKind, percent: 0, of: draft.of }, percent)
    default:
      return percent && withPercent({ kind: draft.formKind, percent: 0 }, percent)
  }
}

/** A key out of a heading: "Filter mean velocity" gives filter_mean_velocity. */
export function keyOfTitle(title: string): string {
  const plain = title.normalize('NFKD').toLowerCase()
  return plain
    .replaceAll(/[^a-z0-9]+/g, '_')
    .replaceAll(/^_|_$/g, '')
    .slice(0, 60)
}

/** The criterion as it is saved, or null while something required is missing. */
export function criterionOfDraft(draft: CriterionDraft): Criterion | null {
  const form = formOf(draft)
  if (!form) return null
  const { title, quantity, scope, plane, basis, on, source, alertLow, alertHigh } = draft
  const alert = alertLow || alertHigh ? { low: alertLow, high: alertHigh } : null
  return { key: draft.key.trim() || keyOfTitle(title), title, quantity, scope, form, plane, basis, on, alert, source }
}

/** What is missing or wrong in one criterion by itself, as fields of `criteria.<index>`. */
export function criterionProblems(draft: CriterionDraft, index: number): FieldProblem[] {
  const problems: FieldProblem[] = []
  const add = (field: string, code: string) => problems.push({ field: `criteria.${index}.${field}`, code, params: {} })
  if (draft.title.trim() === '') add('title', 'criteria.problem.missing')
  const key = draft.key.trim() || keyOfTitle(draft.title)
  if (draft.title.trim() !== '' && !/^[a-z0-9_]{1,60}$/.test(key)) add('key', 'criteria.problem.key')
  const usesLow = draft.formKind === 'at_least' || draft.formKind === 'between'
  const usesHigh = draft.formKind === 'at_most' || draft.formKind === 'between'
  if (usesLow && draft.lowFrom === 'value' && !draft.low) add('low', 'criteria.problem.missing')
  if (usesHigh && draft.highFrom === 'value' && !draft.high) add('high', 'criteria.problem.missing')
  if (usesLow || usesHigh) return problems
  if (!draft.percent) add('percent', 'criteria.problem.missing')
  else if (!(draft.percent.si > 0)) add('percent', 'criteria.problem.percent')
  else if (draft.formKind === 'within_percent_of_design' && draft.percent.si > 100) add('percent', 'criteria.problem.percent_design')
  return problems
}
