import type { CriterionUnderDraft, SubjectUnderDraft } from '#core/api/criteria-preview.ts'
import { worstOf } from '#core/criteria/roll-up.ts'
import { CALCULATION_VERSION } from '#core/methods/calculation-version.ts'
import { methodOf } from '#core/methods/catalogue.ts'
import type { RunInput } from '#core/methods/method.ts'
import type { CriteriaSet } from '#core/model/criteria.ts'
import type { CriterionResult, RunResult } from '#core/model/results.ts'
import type { Uuid } from '#core/model/values.ts'

/** Whether a run is judged by a criteria set, in its room or in one of its zones. */
export function follows(input: Pick<RunInput, 'criteriaSet' | 'zoneCriteria'>, criteriaSetId: Uuid): boolean {
  return input.criteriaSet?.id === criteriaSetId || [...input.zoneCriteria.values()].some(({ id }) => id === criteriaSetId)
}

/**
 * "What would this run read under the draft?": computed again with the draft in the place of the set, everything else as it was pinned. The
 * run itself is not touched.
 */
export function underDraft(input: RunInput, criteriaSetId: Uuid, body: CriteriaSet): RunResult {
  const drafted = <T extends { readonly id: Uuid; readonly body: CriteriaSet }>(set: T): T =>
    set.id === criteriaSetId ? { ...set, body } : set
  return methodOf(input.run.method).compute({
    ...input,
    criteriaSet: input.criteriaSet && drafted(input.criteriaSet),
    zoneCriteria: new Map([...input.zoneCriteria].map(([zoneId, set]) => [zoneId, drafted(set)])),
  })
}

/** The run as the present calculation reads it under the set that it follows; null where that is how it was judged. */
export function underPresentCalculation(input: RunInput, judged: Pick<RunResult, 'calculationVersion'>): RunResult | null {
  return judged.calculationVersion === CALCULATION_VERSION ? null : methodOf(input.run.method).compute(input)
}

function criteriaChanges(
  before: readonly CriterionResult[],
  after: readonly CriterionResult[],
  present: readonly CriterionResult[] | null,
): CriterionUnderDraft[] {
  const reads = present && new Map(present.map(({ key, verdict }) => [key, verdict]))
  const was = new Map(before.map((criterion) => [criterion.key, criterion]))
  const kept = new Set(after.map(({ key }) => key))
  const changed = after.flatMap(({ key, title, verdict, reason }): CriterionUnderDraft[] => {
    const asJudged = was.get(key)?.verdict ?? null
    const calculationChanged = reads !== null && reads.get(key) === verdict
    return asJudged === verdict ? [] : [{ key, title, asJudged, underDraft: verdict, reason, calculationChanged }]
  })
  const gone = before
    .filter(({ key }) => !kept.has(key))
    .map(
      ({ key, title, verdict, reason }): CriterionUnderDraft => ({
        key,
        title,
        asJudged: verdict,
        underDraft: null,
        reason,
        calculationChanged: reads !== null && !reads.has(key),
      }),
    )
  return [...changed, ...gone]
}

type Judged = Pick<SubjectUnderDraft, 'kind' | 'subjectId' | 'label'> & { readonly criteria: readonly CriterionResult[] }

function subjectsOf({ filters, zones, roomCriteria, roomId }: RunResult, roomLabel: string): Judged[] {
  return [
    { kind: 'room', subjectId: roomId, label: roomLabel, criteria: roomCriteria },
    ...zones.map(({ zoneId, name, criteria }): Judged => ({ kind: 'zone', subjectId: zoneId, label: name, criteria })),
    ...filters.map(({ terminalId, tag, criteria }): Judged => ({ kind: 'filter', subjectId: terminalId, label: tag, criteria })),
  ]
}

/**
 * The filters, zones and the room itself of which a criterion would read otherwise, each with those criteria and the roll-up of its own before
 * and after. A room without zones that is judged as one shows as zone and as room. `present` tells what the calculation alone has changed in a run
 * that an earlier version judged.
 */
export function differencesUnder(
  before: RunResult,
  after: RunResult,
  roomLabel: string,
  present: RunResult | null = null,
): SubjectUnderDraft[] {
  const keyOf = ({ kind, subjectId }: Judged) => `${kind} ${subjectId}`
  const now = new Map(subjectsOf(after, roomLabel).map((subject) => [keyOf(subject), subject]))
  const then = new Map(subjectsOf(before, roomLabel).map((subject) => [keyOf(subject), subject]))
  const alone = present && new Map(subjectsOf(present, roomLabel).map((subject) => [keyOf(subject), subject]))
  return [...new Set([...then.keys(), ...now.keys()])].flatMap((key): SubjectUnderDraft[] => {
    const subject = now.get(key) ?? then.get(key)
    if (!subject) return []
    const was = then.get(key)?.criteria ?? []
    const is = now.get(key)?.criteria ?? []
    const criteria = criteriaChanges(was, is, alone && (alone.get(key)?.criteria ?? []))
    const { kind, subjectId, label } = subject
    return criteria.length === 0
      ? []
      : [{ kind, subjectId, roomId: before.roomId, label, asJudged: worstOf(was), underDraft: worstOf(is), criteria }]
  })
}
