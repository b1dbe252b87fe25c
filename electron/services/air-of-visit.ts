import { currentRun } from '#core/history/current-runs.ts'
import type { EntityBody, EntityKind } from '#core/model/entities.ts'
import type { RunResult } from '#core/model/results.ts'
import type { Uuid } from '#core/model/values.ts'
import type { StoredEntity } from '../project-file/entities.ts'
import type { CalculationPin } from '../project-file/runs.ts'
import type { Session } from './session.ts'
import { keptRun, runsOfVisit } from './visits.ts'

/** The run that a room's air is taken from, with the revisions that it pinned. */
export type SpeakingRun = {
  readonly result: RunResult
  /** the entry that completed it; null while it is open */
  readonly completedOrder: number | null
  readonly pins: readonly CalculationPin[]
}

/** The entry of the trail up to which something counts that no run pins; null is as it stands today. */
export type Moment = number | null

export type PlacedTerminal = { readonly id: Uuid; readonly body: EntityBody<'terminal'> }

/**
 * The run of each room of a visit that speaks for its air: the current one that balances it, else the current one that measured its supply. Runs
 * over a zone say nothing about the room.
 */
export function speakingRuns(session: Session, certification: StoredEntity<'certification'>): Map<Uuid, SpeakingRun> {
  const runs = runsOfVisit(session, certification)
    .filter(({ entity }) => entity.body.zoneId === null)
    .map((stored) => ({ stored, ...keptRun(session, stored) }))
  const found = new Map<Uuid, SpeakingRun>()
  for (const roomId of new Set(runs.map((run) => run.roomId))) {
    const ofRoom = runs.filter((run) => run.roomId === roomId)
    const current = currentRun(ofRoom.filter(({ result }) => result.room.balance !== null)) ?? currentRun(ofRoom)
    if (!current) continue
    const { pins } = session.stores.runs.pinsOfCalculation(current.stored.rowId)
    found.set(roomId, { result: current.result, completedOrder: current.completedOrder, pins })
  }
  return found
}

/** When the last of these runs was completed; today while one is open, or where there is none. */
export function momentOf(runs: Iterable<SpeakingRun>): Moment {
  let latest: Moment = null
  for (const { completedOrder } of runs) {
    if (completedOrder === null) return null
    latest = Math.max(latest ?? 0, completedOrder)
  }
  return latest
}

/** An entity's body at a moment; null where it was not there yet, or removed. */
export function bodyAt<K extends EntityKind>(session: Session, { rowId, entity }: StoredEntity<K>, moment: Moment): EntityBody<K> | null {
  if (moment === null) return entity.removed ? null : entity.body
  const at = session.stores.entities.revisions(rowId).findLast(({ entryId }) => entryId <= moment)
  // The row belongs to an entity of this kind.
  return (at?.body ?? null) as EntityBody<K> | null
}

/** The body of an entity that the run pinned; null where it pinned none. */
export function pinnedBody<K extends EntityKind>({ pins }: SpeakingRun, { rowId }: StoredEntity<K>): EntityBody<K> | null {
  // A pin of the row has the body of its kind.
  return (pins.find((pin) => pin.rowId === rowId)?.body ?? null) as EntityBody<K> | null
}

/** The terminals of a room as its run pinned them; of a room without a run as they stood at the moment. */
export function terminalsAt(
  session: Session,
  room: StoredEntity<'room'>,
  run: SpeakingRun | undefined,
  moment: Moment,
): readonly PlacedTerminal[] {
  // A pin's kind and body come from the same row.
  if (run) return run.pins.flatMap((pin) => (pin.kind === 'terminal' ? [{ id: pin.id, body: pin.body as EntityBody<'terminal'> }] : []))
  return session.stores.entities.list('terminal', { within: room.rowId, removed: moment !== null }).flatMap((stored) => {
    const body = bodyAt(session, stored, moment)
    return body ? [{ id: stored.entity.id, body }] : []
  })
}
