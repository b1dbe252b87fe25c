import { createHash } from 'node:crypto'
import { certificationState, roomState } from '#core/history/certification.ts'
import type { RunInVisit } from '#core/history/current-runs.ts'
import { samplesLacking } from '#core/history/outstanding.ts'
import { isFilter } from '#core/methods/airflow/ways.ts'
import { CALCULATION_VERSION, methodOf } from '#core/methods/catalogue.ts'
import type { EntityBody } from '#core/model/entities.ts'
import type { CertificationState, RoomState, RunResult } from '#core/model/results.ts'
import type { StoredEntity } from '../project-file/entities.ts'
import { inputRevisionOf, resultOf } from './run-results.ts'
import type { Session } from './session.ts'
import { signaturesOf } from './signatures.ts'

/** A run as the roll-up of a visit sees it; its result may be handed in where it was computed already. */
export function runInVisit(session: Session, run: StoredEntity<'run'>, result: RunResult = resultOf(session, run)): RunInVisit {
  const { roomId, zoneId, method, plane, phase, state } = run.entity.body
  // A plane has its points in its zone, and no filters.
  const counted = result.filters.length > 0 ? result.filters : result.zones
  return {
    runId: run.entity.id,
    roomId,
    zoneId,
    method,
    plane: plane.kind,
    phase,
    state,
    completedOrder: completedOrder(session, run),
    result,
    beyondTheZone: beyondTheZone(session, run, result),
    samplesLacking: samplesLacking(result.filters),
    pointsPlanned: counted.reduce((sum, one) => sum + one.pointsPlanned, 0),
    pointsMeasured: counted.reduce((sum, one) => sum + one.pointsMeasured, 0),
    signatures: signaturesOf(session, run),
  }
}

/** What a run over one zone says nothing about. The room is looked at as it stood when the run was begun, so that no answer ever moves. */
function beyondTheZone(session: Session, run: StoredEntity<'run'>, result: RunResult): RunInVisit['beyondTheZone'] {
  const { zoneId, roomId, method } = run.entity.body
  const { entities } = session.stores
  const room = zoneId === null ? null : entities.find(roomId)
  const [start] = room ? entities.revisions(run.rowId) : []
  if (!room || !start) return { roomFilterIds: [], roomCriteria: 0 }
  const inService = entities.list('terminal', { within: room.rowId, removed: true }).filter(({ rowId }) => {
    const body = entities.revisions(rowId).findLast(({ entryId }) => entryId <= start.entryId)?.body
    // The row belongs to a terminal.
    const terminal = body as EntityBody<'terminal'> | null | undefined
    if (!terminal || terminal.closed !== null) return false
    // A plane stands for the filters above it.
    return method === 'plane_velocity_grid' ? isFilter(terminal.kind) && terminal.zoneId !== zoneId : methodOf(method).measures(terminal)
  })
  return {
    roomFilterIds: inService.map(({ entity }) => entity.id),
    roomCriteria: result.roomCriteria.filter(({ reason }) => reason.code === 'reason.part_of_room').length,
  }
}

/** The entry by which a run was completed last: it grows with time, also across restarts. */
export function completedOrder(session: Session, run: StoredEntity<'run'>): number | null {
  if (run.entity.body.state === 'open') return null
  let order: number | null = null
  let before = 'open'
  for (const { state, entryId } of session.stores.entities.statesOf(run.rowId)) {
    const now = state ?? 'open'
    if (now !== 'open' && before === 'open') order = entryId
    before = now
  }
  return order
}

export function runsOfVisit(session: Session, certification: StoredEntity<'certification'>): StoredEntity<'run'>[] {
  return session.stores.entities.list('run', { within: certification.rowId })
}

/** Rooms in the scope of a visit that are still in the project; those with runs appear in any case. */
export function roomsInScope(session: Session, certification: StoredEntity<'certification'>): string[] {
  return certification.entity.body.roomIds.filter((id) => session.stores.entities.find(id)?.entity.removed === false)
}

/** A run as the roll-up sees it, slim, worked out again only where something it rests on was changed. */
export function keptRun(session: Session, run: StoredEntity<'run'>, revision: string = inputRevisionOf(session, run)): RunInVisit {
  return session.cache.run(run.rowId, revision, () => runInVisit(session, run))
}

/** The runs of a visit, the rooms in its scope, and the name of the state of everything that its own state rests on. */
function visitParts(session: Session, certification: StoredEntity<'certification'>) {
  const runs = runsOfVisit(session, certification).map((run) => ({ run, revision: inputRevisionOf(session, run) }))
  const roomIds = roomsInScope(session, certification)
  const hash = createHash('sha256').update(roomIds.join())
  for (const { run, revision } of runs) hash.update(`${run.entity.id}.${revision};`)
  return { runs, roomIds, revision: hash.digest('hex') }
}

/** The state of a visit, worked out again only where something it rests on was changed. */
export function visitState(session: Session, certification: StoredEntity<'certification'>): CertificationState {
  const { runs, roomIds, revision } = visitParts(session, certification)
  return session.cache.visit(certification.rowId, revision, () =>
    certificationState({
      certificationId: certification.entity.id,
      roomIds,
      runs: runs.map(({ run, revision: ofRun }) => keptRun(session, run, ofRun)),
    }),
  )
}

/** The state of a visit that the file keeps for the next opening, as it would be believed there; null where it would not. */
export function keptState(session: Session, certification: StoredEntity<'certification'>): string | null {
  const { revision } = visitParts(session, certification)
  return session.stores.results.cached(certification.rowId, revision, CALCULATION_VERSION)
}

export function visitRoom(session: Session, certificationId: string, roomId: string): { state: RoomState; results: RunResult[] } {
  const certification = session.find('certification', certificationId)
  const runs = runsOfVisit(session, certification)
    .filter(({ entity }) => entity.body.roomId === roomId)
    .map((run) => runInVisit(session, run))
  return { state: roomState(roomId, runs), results: runs.map(({ result }) => result) }
}

/** The visit that counts as the latest: by its first day, then by its place in the file. */
export function latestVisit(session: Session): StoredEntity<'certification'> | null {
  const visits = session.stores.entities.list('certification')
  return visits.reduce<StoredEntity<'certification'> | null>(
    (latest, visit) => (latest === null || visit.entity.body.startsOn >= latest.entity.body.startsOn ? visit : latest),
    null,
  )
}
