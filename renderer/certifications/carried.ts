import type { Entity, EntityBody } from '#core/model/entities.ts'
import type { FilterResult, RunResult } from '#core/model/results.ts'
import type { Uuid } from '#core/model/values.ts'

type Run = Entity<'run'>
type Carried = EntityBody<'run'>['carried'][number]

/** The as-found run that an as-left run may carry readings from: the latest complete one of the same room or zone, method and plane. */
export function carrySource(run: Run, here: readonly Run[]): Run | null {
  const { roomId, zoneId, method, plane } = run.body
  const fits = here.filter(
    ({ body, removed, parentId }) =>
      !removed &&
      parentId === run.parentId &&
      body.phase === 'as_found' &&
      body.state !== 'open' &&
      body.roomId === roomId &&
      body.zoneId === zoneId &&
      body.method === method &&
      body.plane.kind === plane.kind,
  )
  return fits.reduce<Run | null>((last, one) => (last === null || one.id > last.id ? one : last), null)
}

/** Terminals that were measured as found and are not yet, or are not carried yet, in the as-left run. */
export function carryCandidates(
  found: Pick<RunResult, 'filters'>,
  left: Pick<RunResult, 'filters'>,
  carried: readonly Carried[],
): FilterResult[] {
  const taken = new Set(carried.flatMap(({ terminalIds }) => terminalIds))
  for (const { terminalId, pointsMeasured, closed } of left.filters) if (pointsMeasured > 0 || closed) taken.add(terminalId)
  return found.filters.filter(({ terminalId, pointsMeasured, closed }) => pointsMeasured > 0 && !closed && !taken.has(terminalId))
}

/** The carried groups with one more; one of the same run and reason takes the terminals in. */
export function withCarriedGroup(groups: readonly Carried[], more: Carried): Carried[] {
  const same = groups.find(
    ({ fromRunId, reason, fanOrMainDamperMoved }) =>
      fromRunId === more.fromRunId && reason === more.reason && fanOrMainDamperMoved === more.fanOrMainDamperMoved,
  )
  if (!same) return [...groups, more]
  return groups.map((group) => (group === same ? { ...group, terminalIds: [...group.terminalIds, ...more.terminalIds] } : group))
}

/** Whether what was written of the air handler differs between the two runs: then somebody should look before anything is carried. */
export function stateDiffers(found: Pick<EntityBody<'run'>, 'operatingState'>, left: Pick<EntityBody<'run'>, 'operatingState'>): boolean {
  return found.operatingState.airHandler.trim().toLowerCase() !== left.operatingState.airHandler.trim().toLowerCase()
}

export function carriedCount({ carried }: Pick<EntityBody<'run'>, 'carried'>): number {
  return new Set(carried.flatMap(({ terminalIds }): Uuid[] => terminalIds)).size
}
