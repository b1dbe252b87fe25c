import { message } from '#core/messages/say.ts'
import type { FilterResult, RunResult, Sentence } from '#core/model/results.ts'
import type { Uuid } from '#core/model/values.ts'
import type { RunWithEvidence } from './evidence.ts'

function sameMembers(a: readonly Uuid[], b: readonly Uuid[]): boolean {
  return a.length === b.length && a.every((id) => b.includes(id))
}

/** Names of instruments, for a sentence; an instrument that was not pinned shows its identity. */
export function namesOf(ids: readonly Uuid[], run: RunWithEvidence): string {
  return ids.map((id) => run.evidence.instrumentNames.get(id) ?? id).join(', ')
}

/** Whether another filter sits in the terminal than did then; unknown on either side is no replacement. */
export function wasReplaced(terminalId: Uuid, then: RunWithEvidence, now: RunWithEvidence): boolean {
  const before = then.elements.get(terminalId)
  const after = now.elements.get(terminalId)
  return before !== undefined && after !== undefined && before.id !== after.id
}

/** Whether zones of both runs were judged by other sets, or other revisions, of their own. */
function zoneCriteriaDiffer(then: RunWithEvidence, now: RunWithEvidence): boolean {
  for (const zone of now.result.zones) {
    if (!then.result.zones.some((one) => one.zoneId === zone.zoneId)) continue
    const before = then.evidence.zoneCriteria.get(zone.zoneId)
    const after = now.evidence.zoneCriteria.get(zone.zoneId)
    if (before?.id !== after?.id || before?.revision !== after?.revision) return true
  }
  return false
}

/** Whether the two runs were judged by the same revision of the same criteria, in the room and in its zones. */
export function sameCriteria(then: RunWithEvidence, now: RunWithEvidence): boolean {
  const a = then.result
  const b = now.result
  return a.criteriaSetId === b.criteriaSetId && a.criteriaSetRevision === b.criteriaSetRevision && !zoneCriteriaDiffer(then, now)
}

function criteriaBreak(then: RunWithEvidence, now: RunWithEvidence): Sentence | null {
  const a = then.result
  const b = now.result
  if (sameCriteria(then, now)) return null
  if (a.criteriaSetId === b.criteriaSetId && a.criteriaSetRevision === b.criteriaSetRevision) return message('break.zone_criteria', {})
  return message('break.criteria', {
    revisions: { before: a.criteriaSetRevision, now: b.criteriaSetRevision, sameSet: a.criteriaSetId === b.criteriaSetId },
  })
}

const FILTERS = new WeakMap<RunResult, ReadonlyMap<Uuid, FilterResult>>()

/** A comparison asks for every filter of a result in turn: they are put in order once. */
function filterOf(result: RunResult, terminalId: Uuid): FilterResult | undefined {
  let filters = FILTERS.get(result)
  if (!filters) {
    filters = new Map(result.filters.map((filter) => [filter.terminalId, filter]))
    FILTERS.set(result, filters)
  }
  return filters.get(terminalId)
}

/** The same air told otherwise, or measured another way, is no change of the air. */
function toldOtherwise(terminalId: Uuid, then: RunWithEvidence, now: RunWithEvidence): Sentence[] {
  const before = filterOf(then.result, terminalId)
  const after = filterOf(now.result, terminalId)
  if (!before || !after) return []
  const breaks: Sentence[] = []
  if (before.way !== after.way) breaks.push(message('break.way', { ways: { before: before.way, now: after.way } }))
  if (before.basis !== after.basis && before.pointsMeasured > 0 && after.pointsMeasured > 0)
    breaks.push(message('break.basis', { bases: { before: before.basis, now: after.basis } }))
  return breaks
}

/** What keeps a filter's two figures from being the same thing measured twice. */
export function filterBreaks(terminalId: Uuid, then: RunWithEvidence, now: RunWithEvidence): Sentence[] {
  const breaks: Sentence[] = []
  if (wasReplaced(terminalId, then, now))
    breaks.push(
      message('break.element', {
        before: then.elements.get(terminalId)?.serialNumber ?? '',
        now: now.elements.get(terminalId)?.serialNumber ?? '',
      }),
    )
  breaks.push(...toldOtherwise(terminalId, then, now))
  const before = then.evidence.instrumentIds.get(terminalId)
  const after = now.evidence.instrumentIds.get(terminalId)
  if (before && after && !sameMembers(before, after))
    breaks.push(message('break.instrument', { before: namesOf(before, then), now: namesOf(after, now) }))
  const grid = then.evidence.grids.get(terminalId)
  const gridNow = now.evidence.grids.get(terminalId)
  if (grid && gridNow && (grid.rows !== gridNow.rows || grid.columns !== gridNow.columns))
    breaks.push(message('break.grid', { grid: { before: grid, now: gridNow } }))
  if (then.result.plane.kind !== now.result.plane.kind)
    breaks.push(message('break.plane', { planes: { before: then.result.plane.kind, now: now.result.plane.kind } }))
  const criteria = criteriaBreak(then, now)
  if (criteria) breaks.push(criteria)
  return breaks
}

/** Every instrument a run's readings were taken with. */
export function instrumentsOf(run: RunWithEvidence): Uuid[] {
  const all = new Set<Uuid>()
  for (const ids of run.evidence.instrumentIds.values()) for (const id of ids) all.add(id)
  return [...all].sort()
}

/** What keeps a room's two figures from being the same thing measured twice. */
export function roomBreaks(then: RunWithEvidence, now: RunWithEvidence): Sentence[] {
  const breaks: Sentence[] = []
  const replaced = now.result.filters.filter((filter) => wasReplaced(filter.terminalId, then, now)).map((filter) => filter.tag)
  if (replaced.length > 0) breaks.push(message('break.elements', { tags: replaced.join(', ') }))
  const before = instrumentsOf(then)
  const after = instrumentsOf(now)
  if (before.length > 0 && after.length > 0 && !sameMembers(before, after))
    breaks.push(message('break.instrument', { before: namesOf(before, then), now: namesOf(after, now) }))
  const [basis, basisNow] = [then.result.room.basis, now.result.room.basis]
  const bothKnown = then.result.room.supplyFlowM3ps !== null && now.result.room.supplyFlowM3ps !== null
  if (bothKnown && basis !== basisNow) breaks.push(message('break.basis', { bases: { before: basis, now: basisNow } }))
  if (then.result.room.volumeM3 !== now.result.room.volumeM3)
    breaks.push(message('break.volume', { volume: { beforeM3: then.result.room.volumeM3, nowM3: now.result.room.volumeM3 } }))
  const criteria = criteriaBreak(then, now)
  if (criteria) breaks.push(criteria)
  return breaks
}
