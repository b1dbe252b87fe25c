import type { SystemsBalance, WholeSiteBalance } from '#core/api/balance.ts'
import { currentRun } from '#core/history/current-runs.ts'
import { REFERENCE_DENSITY_KGPM3 } from '#core/methods/airflow/air-of-run.ts'
import { airDirectionOf } from '#core/methods/airflow/ways.ts'
import type { RunResult } from '#core/model/results.ts'
import { crossesBoundary } from '#core/rooms/balance.ts'
import { systemsOfSite } from '#core/rooms/systems-of-site.ts'
import { wholeSite } from '#core/rooms/whole-site.ts'
import type { StoredEntity } from '../project-file/entities.ts'
import type { Session } from './session.ts'
import { keptRun, roomsInScope, runsOfVisit } from './visits.ts'

type Scope = { certificationId: string; facilityId: string | null }

/**
 * The run that a room's air is taken from: the current one that balances it, else the current one that measured its supply. Runs over a zone
 * say nothing about the room.
 */
function resultsByRoom(session: Session, certification: StoredEntity<'certification'>): Map<string, RunResult> {
  const runs = runsOfVisit(session, certification)
    .filter(({ entity }) => entity.body.zoneId === null)
    .map((run) => keptRun(session, run))
  const found = new Map<string, RunResult>()
  for (const roomId of new Set(runs.map((run) => run.roomId))) {
    const ofRoom = runs.filter((run) => run.roomId === roomId)
    const balancing = ofRoom.filter(({ result }) => result.room.balance !== null)
    const current = currentRun(balancing) ?? currentRun(ofRoom)
    if (current) found.set(roomId, current.result)
  }
  return found
}

/** Rooms of the visit's scope in the facility, by number; a removed one that was measured stays in. */
function roomsOf(session: Session, certification: StoredEntity<'certification'>, facilityId: string | null, measured: Iterable<string>) {
  const ids = new Set([...roomsInScope(session, certification), ...measured])
  return [...ids]
    .flatMap((id) => {
      const stored = session.stores.entities.find(id)
      // Kind is compared: only a room passes.
      return stored?.entity.kind === 'room' ? [stored as StoredEntity<'room'>] : []
    })
    .filter(({ entity }) => facilityId === null || entity.parentId === facilityId)
    .sort((one, other) => one.entity.body.number.localeCompare(other.entity.body.number, 'en', { numeric: true }))
}

function terminalsOf(session: Session, room: StoredEntity<'room'>): StoredEntity<'terminal'>[] {
  return session.stores.entities.list('terminal', { within: room.rowId, removed: true })
}

/** How the air of the site, or of one facility, adds up in a visit. */
export function balanceOfSite(session: Session, { certificationId, facilityId }: Scope): WholeSiteBalance {
  const certification = session.find('certification', certificationId)
  const results = resultsByRoom(session, certification)
  const rooms = roomsOf(session, certification, facilityId, results.keys())
  const doors = session.stores.entities.list('door')
  return wholeSite(
    { certificationId, facilityId },
    rooms.map((room) => {
      const terminals = new Map(terminalsOf(session, room).map(({ entity }) => [entity.id, entity.body]))
      return {
        roomId: room.entity.id,
        facilityId: room.entity.parentId ?? '',
        room: room.entity.body,
        result: results.get(room.entity.id) ?? null,
        tagOf: (id) => terminals.get(id)?.tag ?? '',
        staysWithin: (id) => {
          const terminal = terminals.get(id)
          return terminal !== undefined && !crossesBoundary(airDirectionOf(terminal), terminal.airSource)
        },
      }
    }),
    doors
      .filter(({ entity }) => facilityId === null || entity.parentId === facilityId)
      .map(({ entity }) => ({ doorId: entity.id, door: entity.body })),
    REFERENCE_DENSITY_KGPM3,
  )
}

/** What each air system moves against the design of its fan in a visit. Terminals are on the system that they are put on now. */
export function balanceOfSystems(session: Session, { certificationId, facilityId }: Scope): SystemsBalance {
  const certification = session.find('certification', certificationId)
  const results = resultsByRoom(session, certification)
  const systems = session.stores.entities.list('air_system').filter(({ entity }) => facilityId === null || entity.parentId === facilityId)
  const known = new Set(systems.map(({ entity }) => entity.id))
  const terminals = session.stores.entities.list('terminal').filter(({ entity }) => known.has(entity.body.airSystemId ?? ''))
  return systemsOfSite(
    { certificationId, facilityId },
    systems.map(({ entity }) => ({ airSystemId: entity.id, facilityId: entity.parentId ?? '', system: entity.body })),
    terminals.map(({ entity }) => {
      const roomId = entity.parentId ?? ''
      const result = results.get(roomId)?.filters.find(({ terminalId }) => terminalId === entity.id) ?? null
      return { terminalId: entity.id, roomId, terminal: entity.body, result }
    }),
  )
}
