import type { CriteriaSet } from '#core/model/criteria.ts'
import { LATER_FIELDS } from '#core/model/later-fields.ts'
import { checkBody } from '#core/model/rules.ts'
import { plainNumberOf } from '#core/units/plain-number.ts'
import type { FieldProblem } from '../forms/use-form.ts'
import { type CriterionDraft, criterionOfDraft, criterionProblems, draftOfCriterion } from './criterion-form.ts'
import { draftOfUncertainty, type UncertaintyDraft, uncertaintyOfDraft, uncertaintyProblems } from './uncertainty-form.ts'

/** A criteria set as its form holds it. */
export type SetForm = Pick<CriteriaSet, 'name' | 'note' | 'comparison'> & {
  decision: CriteriaSet['decisionRule']['kind']
  /** multiple of U, as typed */
  multiple: string
  uncertainty: UncertaintyDraft
  criteria: CriterionDraft[]
  /** why it changes; goes into the trail, not into the set */
  reason: string
}

export const EMPTY_SET: CriteriaSet = {
  name: '',
  decisionRule: { kind: 'simple' },
  comparison: 'absolute',
  ...LATER_FIELDS.criteria_set,
  criteria: [],
  note: '',
}

export function formOfSet(set: CriteriaSet): SetForm {
  const { name, note, comparison, decisionRule, uncertainty } = set
  const multiple = decisionRule.kind === 'guarded' ? decisionRule.multiple : 1
  return {
    name,
    note,
    comparison,
    decision: decisionRule.kind,
    multiple: String(multiple),
    uncertainty: draftOfUncertainty(uncertainty),
    criteria: set.criteria.map(draftOfCriterion),
    reason: '',
  }
}

function multipleOf(form: SetForm): number {
  return plainNumberOf(form.multiple, { least: 0, most: 2 })
}

/** The set as it is saved, or null while something required is missing. */
export function setOfForm(form: SetForm): CriteriaSet | null {
  const criteria = form.criteria.map(criterionOfDraft).filter((criterion) => criterion !== null)
  if (criteria.length < form.criteria.length) return null
  const { name, note, comparison, uncertainty } = form
  const decisionRule = form.decision === 'simple' ? ({ kind: 'simple' } as const) : { kind: 'guarded' as const, multiple: multipleOf(form) }
  return { name, note, comparison, decisionRule, uncertainty: uncertaintyOfDraft(uncertainty), criteria }
}

/** The fields of the engine's rules as this form names them. */
function ownField(field: string): string {
  return field
    .replace(/\.form\.(limit|low|high)(\.value)?$/, (_whole, end: string) => `.${end}`)
    .replace(/\.form$/, '.formKind')
    .replace(/\.alert\.low$/, '.alertLow')
    .replace(/\.alert\.high$/, '.alertHigh')
}

/** What is wrong with a set as typed, at the field where it is wrong. */
export function setProblems(form: SetForm): FieldProblem[] {
  const problems: FieldProblem[] = form.name.trim() === '' ? [{ field: 'name', code: 'criteria.problem.missing', params: {} }] : []
  const multiple = multipleOf(form)
  if (form.decision === 'guarded' && !(multiple >= 0 && multiple <= 2)) {
    problems.push({ field: 'multiple', code: 'criteria.problem.multiple', params: {} })
  }
  problems.push(...uncertaintyProblems(form.uncertainty), ...form.criteria.flatMap(criterionProblems))
  const set = setOfForm(form)
  if (problems.length > 0 || !set) return problems
  return checkBody('criteria_set', set).map(({ field, code, params }) => ({ field: limitField(form, ownField(field)), code, params }))
}

/** A single limit is the low one of an "at least" and the high one of an "at most". */
function limitField(form: SetForm, field: string): string {
  const found = /^criteria\.(\d+)\.limit$/.exec(field)
  if (!found) return field
  const kind = form.criteria[Number(found[1])]?.formKind
  return field.replace(/limit$/, kind === 'at_most' ? 'high' : 'low')
}
