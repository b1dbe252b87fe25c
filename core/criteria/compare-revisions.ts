import type { CriteriaSet, Criterion } from '#core/model/criteria.ts'

export const CRITERION_FIELDS = ['title', 'quantity', 'scope', 'form', 'plane', 'basis', 'on', 'alert', 'source'] as const
export type CriterionField = (typeof CRITERION_FIELDS)[number]

export const SET_FIELDS = ['name', 'decisionRule', 'comparison', 'uncertainty', 'note'] as const
export type SetField = (typeof SET_FIELDS)[number]

/** One criterion in two revisions of a set: null where one of them does not have it, and the fields that differ where both do. */
export type CriterionDifference = {
  readonly key: string
  readonly before: Criterion | null
  readonly after: Criterion | null
  readonly fields: readonly CriterionField[]
}

export type RevisionDifference = {
  readonly before: CriteriaSet
  readonly after: CriteriaSet
  /** of the set itself */
  readonly fields: readonly SetField[]
  /** what is new or changed in the order of the later revision, then what is gone */
  readonly criteria: readonly CriterionDifference[]
}

/** Bodies are plain data with a fixed order of fields, so that equal ones print alike. */
function differs(a: unknown, b: unknown): boolean {
  return JSON.stringify(a) !== JSON.stringify(b)
}

/**
 * What differs between two revisions of a criteria set, or between two sets, criterion by criterion; criteria are the same one as long as
 * they have the same key.
 */
export function compareRevisions(before: CriteriaSet, after: CriteriaSet): RevisionDifference {
  const old = new Map(before.criteria.map((criterion) => [criterion.key, criterion]))
  const kept = new Set(after.criteria.map(({ key }) => key))
  const changed = after.criteria.flatMap((criterion): CriterionDifference[] => {
    const was = old.get(criterion.key)
    if (!was) return [{ key: criterion.key, before: null, after: criterion, fields: [] }]
    const fields = CRITERION_FIELDS.filter((field) => differs(was[field], criterion[field]))
    return fields.length === 0 ? [] : [{ key: criterion.key, before: was, after: criterion, fields }]
  })
  const gone = before.criteria
    .filter(({ key }) => !kept.has(key))
    .map((criterion): CriterionDifference => ({ key: criterion.key, before: criterion, after: null, fields: [] }))
  return {
    before,
    after,
    fields: SET_FIELDS.filter((field) => differs(before[field], after[field])),
    criteria: [...changed, ...gone],
  }
}

/** Whether two revisions say the same. */
export function saysTheSame({ fields, criteria }: RevisionDifference): boolean {
  return fields.length === 0 && criteria.length === 0
}
