import { message } from '#core/messages/say.ts'
import { needsOtherPoints } from '#core/methods/airflow/room-layout.ts'
import { methodOf } from '#core/methods/catalogue.ts'
import type { EntityBody } from '#core/model/entities.ts'
import type { StoredEntity } from '../project-file/entities.ts'
import { problem } from '../project-file/problem.ts'
import type { Pin } from '../project-file/runs.ts'
import type { Transaction } from './command.ts'
import { exchangePoints, type RunAsKept } from './run-points.ts'
import { asPlaced, layOut, pin, pinsOf, planeOf, type RunScope, scopeOf, unpin } from './run-scope.ts'
import { type Detail, type OnRun, onRun, refuseUnlessOpen, runDetail } from './runs.ts'
import type { Session } from './session.ts'

/** Takes over what was changed in the room, its terminals, criteria and instruments since the run was begun. */
export function refreshRun(session: Session, input: OnRun): Detail {
  return onRun(session, 'run.refresh', input, refreshPins, () => runDetail(session, input.runId))
}

/** Terminals that are measured otherwise now: by another way, or in a duct of another size. Their points have to be laid out again. */
function measuredOtherwise(run: RunAsKept, scope: RunScope, pinned: ReadonlyMap<number, Pin>): StoredEntity<'terminal'>[] {
  const method = methodOf(run.body.method)
  return scope.terminals.filter(({ rowId, entity }) => {
    const before = pinned.get(rowId)
    // A row keeps its kind for life.
    return before !== undefined && needsOtherPoints(method.wayAt, before.body as EntityBody<'terminal'>, entity.body)
  })
}

function refuseMeasured(terminals: readonly StoredEntity<'terminal'>[], keeps: (rowId: number) => boolean): void {
  const kept = terminals.filter(({ rowId }) => keeps(rowId))
  if (kept.length === 0) return
  const tags = kept.slice(0, 5).map(({ entity }) => entity.body.tag)
  const shown = kept.length > tags.length ? `${tags.join(', ')} …` : tags.join(', ')
  throw problem('refused', message('error.way_has_readings', { tags: shown, terminals: kept.length }), { field: 'runId' })
}

/** The points of the plane as they would be laid out now; null where nothing changed about them. */
function changedPlane(
  run: RunAsKept,
  scope: RunScope,
  pinned: ReadonlyMap<number, Pin>,
): { readonly boundary: EntityBody<'zone'>['boundary'] } | null {
  const boundary = planeOf(run.body, scope.zones)
  const [zone] = scope.zones
  const before = zone && pinned.get(zone.rowId)
  if (!boundary || !before) return null
  // A row keeps its kind for life.
  return JSON.stringify((before.body as EntityBody<'zone'>).boundary) === JSON.stringify(boundary) ? null : { boundary }
}

function refreshPins(transaction: Transaction, stored: StoredEntity<'run'>): void {
  refuseUnlessOpen(stored)
  const { session } = transaction
  const { stores } = session
  const run = { rowId: stored.rowId, id: stored.entity.id, body: stored.entity.body }
  const scope = scopeOf(session, run.body)
  const pinned = new Map(stores.runs.pins(run.rowId).map((entry) => [entry.rowId, entry]))
  const now = new Map(pinsOf(scope).map((target) => [target.rowId, target]))
  for (const { kind, rowId, removed } of pinned.values()) {
    if (kind !== 'instrument' || removed) continue
    const instrument = stores.entities.findRow(rowId)
    if (instrument) now.set(rowId, instrument)
    for (const calibration of stores.entities.list('calibration', { within: rowId })) now.set(calibration.rowId, calibration)
  }
  const points = stores.runs.locations(run.rowId)
  const measured = new Set(stores.readings.inForce(run.rowId).map((reading) => reading.locationRowId))
  const keeps = (rowId: number) => points.some((point) => point.terminalRowId === rowId && measured.has(point.rowId))
  const otherwise = measuredOtherwise(run, scope, pinned)
  refuseMeasured(otherwise, keeps)
  const plane = changedPlane(run, scope, pinned)
  if (plane && measured.size > 0) throw problem('refused', message('error.plane_has_readings', {}), { field: 'runId' })
  // What was measured stays in the run with the terminal it was measured at.
  const gone = [...pinned.values()].filter(
    (entry) =>
      !now.has(entry.rowId) &&
      entry.kind !== 'instrument' &&
      entry.kind !== 'calibration' &&
      !(entry.kind === 'terminal' && keeps(entry.rowId)),
  )
  for (const entry of gone) unpin(transaction, run, entry)
  for (const { rowId, entity } of now.values()) {
    pin(transaction, run, { rowId, id: entity.id, revision: entity.revision }, pinned.get(rowId)?.revision ?? null)
  }
  const leaving = new Set([...gone, ...otherwise].map((entry) => entry.rowId))
  const retired = points.filter(({ terminalRowId, rowId }) => {
    if (plane && terminalRowId === null) return true
    const terminal = scope.terminals.find((candidate) => candidate.rowId === terminalRowId)
    return (terminalRowId !== null && leaving.has(terminalRowId)) || (terminal?.entity.body.closed != null && !measured.has(rowId))
  })
  const placed = new Set(points.map((point) => point.terminalRowId))
  const fresh = scope.terminals.filter((terminal) => !placed.has(terminal.rowId) || otherwise.includes(terminal))
  exchangePoints(transaction, run, retired, () => layOut(transaction, run, fresh.map(asPlaced), new Map(), plane?.boundary), fresh)
  if (transaction.changes.length > 0) transaction.revise(stored, run.body)
}
