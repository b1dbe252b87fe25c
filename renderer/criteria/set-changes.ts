import type { CriteriaSet, Criterion, CriterionForm } from '#core/model/criteria.ts'

/** One difference between two revisions of a set, as a code and parameters of the catalogue. */
export type SetChange =
  | { readonly code: 'criteria.history.added'; readonly params: { title: string; form: CriterionForm } }
  | { readonly code: 'criteria.history.removed'; readonly params: { title: string } }
  | { readonly code: 'criteria.history.limit'; readonly params: { title: string; before: CriterionForm; after: CriterionForm } }
  | { readonly code: 'criteria.history.switched'; readonly params: { title: string; on: boolean } }
  | { readonly code: 'criteria.history.other'; readonly params: { title: string } }
  | { readonly code: 'criteria.history.set'; readonly params: Record<never, never> }

const same = (a: unknown, b: unknown): boolean => JSON.stringify(a) === JSON.stringify(b)

function ofCriterion(before: Criterion, after: Criterion): SetChange[] {
  const { title } = after
  const changes: SetChange[] = []
  if (!same(before.form, after.form))
    changes.push({ code: 'criteria.history.limit', params: { title, before: before.form, after: after.form } })
  if (before.on !== after.on) changes.push({ code: 'criteria.history.switched', params: { title, on: after.on } })
  const rest = ({ form: _form, on: _on, ...others }: Criterion) => others
  if (!same(rest(before), rest(after))) changes.push({ code: 'criteria.history.other', params: { title } })
  return changes
}

/** What a revision of a criteria set changed, criterion by criterion (matched by key). */
export function setChanges(before: CriteriaSet, after: CriteriaSet): SetChange[] {
  const old = new Map(before.criteria.map((criterion) => [criterion.key, criterion]))
  const kept = new Set(after.criteria.map((criterion) => criterion.key))
  const changes = after.criteria.flatMap((criterion): SetChange[] => {
    const was = old.get(criterion.key)
    const { title, form } = criterion
    return was ? ofCriterion(was, criterion) : [{ code: 'criteria.history.added', params: { title, form } }]
  })
  const removed = before.criteria.filter((criterion) => !kept.has(criterion.key))
  changes.push(...removed.map(({ title }): SetChange => ({ code: 'criteria.history.removed', params: { title } })))
  const head = ({ criteria: _criteria, ...others }: CriteriaSet) => others
  if (!same(head(before), head(after))) changes.push({ code: 'criteria.history.set', params: {} })
  return changes
}
