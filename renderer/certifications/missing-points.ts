import type { EntityBody } from '#core/model/entities.ts'

type Reason = EntityBody<'run'>['missing'][number]

/** The reasons with one more for a group of filters; one that says the same takes the group in. */
export function withReason(reasons: readonly Reason[], more: Reason): Reason[] {
  const moved = new Set(more.terminalIds)
  const kept = reasons
    .map((reason) => ({ ...reason, terminalIds: reason.terminalIds.filter((id) => !moved.has(id)) }))
    .filter((reason) => reason.terminalIds.length > 0)
  const same = kept.find((reason) => reason.cause === more.cause && reason.note === more.note)
  if (!same) return [...kept, more]
  return kept.map((reason) => (reason === same ? { ...reason, terminalIds: [...reason.terminalIds, ...more.terminalIds] } : reason))
}
