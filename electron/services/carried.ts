import { message } from '#core/messages/say.ts'
import type { EntityBody } from '#core/model/entities.ts'
import type { StoredEntity } from '../project-file/entities.ts'
import { problem } from '../project-file/problem.ts'
import type { Session } from './session.ts'

type Run = EntityBody<'run'>

function refused(
  session: Session,
  terminalId: string,
  code: 'error.carried_has_readings' | 'error.carried_not_measured' | 'error.carried_twice',
) {
  const tag = session.find('terminal', terminalId, 'set.carried').entity.body.tag
  return problem('refused', message(code, { tag }), { field: 'set.carried' })
}

/** Terminals with readings in force in a run, by identity. */
function measuredIn(session: Session, runRowId: number): Set<string> {
  const { stores } = session
  const rows = new Set(stores.readings.inForce(runRowId).map(({ locationRowId }) => locationRowId))
  return new Set(stores.runs.locations(runRowId).flatMap(({ rowId, location }) => (rows.has(rowId) ? (location.terminalId ?? []) : [])))
}

/** The as-found run that readings may be carried from: complete, of the same visit, room and method. */
function sourceOf(session: Session, run: StoredEntity<'run'>, fromRunId: string): StoredEntity<'run'> {
  const source = session.find('run', fromRunId, 'set.carried')
  const { body, parentId } = source.entity
  const { roomId, zoneId, method, plane } = run.entity.body
  const fits =
    parentId === run.entity.parentId &&
    body.phase === 'as_found' &&
    body.state !== 'open' &&
    body.roomId === roomId &&
    body.zoneId === zoneId &&
    body.method === method &&
    body.plane.kind === plane.kind
  if (!fits) throw problem('refused', message('error.carried_from_elsewhere', {}), { field: 'set.carried' })
  return source
}

function refuseUnlessAsked(before: Run['carried'], now: Run['carried']): void {
  const standing = new Set(before.map((group) => JSON.stringify(group)))
  for (const group of now) {
    if (standing.has(JSON.stringify(group)) || group.fanOrMainDamperMoved === false) continue
    const code = group.fanOrMainDamperMoved ? 'error.carried_though_moved' : 'error.carried_not_asked'
    throw problem('refused', message(code, {}), { field: 'set.carried' })
  }
}

/**
 * Refuses carried readings that cannot stand: in a run that is not as left, of a terminal that has readings of its own or was not measured as
 * found, or named twice; and where the fan or a main damper was moved since, or nobody has said that they were not. Groups that stand already
 * are not asked about again.
 */
export function checkCarried(session: Session, run: StoredEntity<'run'>, body: Run): void {
  if (body.carried.length === 0 || JSON.stringify(body.carried) === JSON.stringify(run.entity.body.carried)) return
  if (body.phase !== 'as_left') throw problem('refused', message('error.carried_as_left_only', {}), { field: 'set.carried' })
  refuseUnlessAsked(run.entity.body.carried, body.carried)
  const own = measuredIn(session, run.rowId)
  const named = new Set<string>()
  for (const { fromRunId, terminalIds } of body.carried) {
    const found = measuredIn(session, sourceOf(session, run, fromRunId).rowId)
    for (const id of terminalIds) {
      if (named.has(id)) throw refused(session, id, 'error.carried_twice')
      if (own.has(id)) throw refused(session, id, 'error.carried_has_readings')
      if (!found.has(id)) throw refused(session, id, 'error.carried_not_measured')
      named.add(id)
    }
  }
}
