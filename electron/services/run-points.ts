import { message } from '#core/messages/say.ts'
import type { EntityBody } from '#core/model/entities.ts'
import type { Location } from '#core/model/readings.ts'
import type { StoredEntity } from '../project-file/entities.ts'
import { problem } from '../project-file/problem.ts'
import type { StoredLocation } from '../project-file/runs.ts'
import type { Transaction } from './command.ts'
import { layOut } from './run-scope.ts'

export type RunAsKept = { readonly rowId: number; readonly id: string; readonly body: EntityBody<'run'> }

/** Takes points out of use and lays out others, and writes both down. */
export function exchangePoints(
  transaction: Transaction,
  run: RunAsKept,
  retired: readonly StoredLocation[],
  layOutFresh: () => Location[],
  fresh: readonly StoredEntity<'terminal'>[],
): void {
  for (const { location } of retired) transaction.session.stores.runs.setRetired(run.rowId, location.number, true)
  const added = layOutFresh()
  if (retired.length === 0 && added.length === 0) return
  const terminalIds = new Set([...retired.flatMap(({ location }) => location.terminalId ?? []), ...fresh.map(({ entity }) => entity.id)])
  transaction.changes.push({
    what: 'layout',
    runId: run.id,
    terminalIds: [...terminalIds],
    before: retired.map(({ location }) => location),
    after: added,
  })
}

/** Lays out the plane of a run by the grid that its body asks for now. Refused while there are readings on the old one. */
export function layOutPlaneAnew(transaction: Transaction, stored: StoredEntity<'run'>, body: EntityBody<'run'>): void {
  const { stores } = transaction.session
  const points = stores.runs.locations(stored.rowId)
  if (stores.readings.inForce(stored.rowId).length > 0)
    throw problem('refused', message('error.plane_has_readings', {}), { field: 'set.planeGrid' })
  const run = { rowId: stored.rowId, id: stored.entity.id, body }
  // The boundary that the run has pinned: a change of the zone is taken over by a refresh, never on the way.
  const zone = stores.runs.pins(stored.rowId).find((pinned) => pinned.id === body.zoneId)
  const boundary = zone ? (zone.body as EntityBody<'zone'>).boundary : undefined
  if (body.method !== 'plane_velocity_grid' || !boundary) return
  exchangePoints(transaction, run, points, () => layOut(transaction, run, [], new Map(), boundary), [])
}
