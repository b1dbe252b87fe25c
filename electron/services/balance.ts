import type { SystemsBalance, WholeSiteBalance } from '#core/api/balance.ts'
import { REFERENCE_DENSITY_KGPM3 } from '#core/methods/airflow/air-of-run.ts'
import { airDirectionOf } from '#core/methods/airflow/ways.ts'
import type { EntityBody } from '#core/model/entities.ts'
import type { Uuid } from '#core/model/values.ts'
import { crossesBoundary } from '#core/rooms/balance.ts'
import { type SystemOfSite, systemsOfSite, type TerminalOfSystem } from '#core/rooms/systems-of-site.ts'
import { type DoorOfSite, wholeSite } from '#core/rooms/whole-site.ts'
import type { StoredEntity } from '../project-file/entities.ts'
import { bodyAt, type Moment, momentOf, pinnedBody, type SpeakingRun, speakingRuns, terminalsAt } from './air-of-visit.ts'
import type { Session } from './session.ts'

type Scope = { certificationId: string; facilityId: string | null }
type SpeakingRuns = ReadonlyMap<Uuid, SpeakingRun>
type RoomThen = { readonly stored: StoredEntity<'room'>; readonly body: EntityBody<'room'> }

/** Rooms of the visit's scope in the facility, by number; a removed one that was measured stays in. */
function roomsOf(
  session: Session,
  certification: StoredEntity<'certification'>,
  facilityId: string | null,
  runs: SpeakingRuns,
  moment: Moment,
): RoomThen[] {
  const ids = new Set([...certification.entity.body.roomIds, ...runs.keys()])
  return [...ids]
    .flatMap((id): RoomThen[] => {
      const found = session.stores.entities.find(id)
      if (found?.entity.kind !== 'room') return []
      // Kind was compared: only a room passes.
      const stored = found as StoredEntity<'room'>
      const run = runs.get(id)
      const body = (run && pinnedBody(run, stored)) ?? bodyAt(session, stored, moment)
      return body ? [{ stored, body }] : []
    })
    .filter(({ stored }) => facilityId === null || stored.entity.parentId === facilityId)
    .sort((one, other) => one.body.number.localeCompare(other.body.number, 'en', { numeric: true }))
}

function latestPinned(runs: SpeakingRuns, door: StoredEntity<'door'>): EntityBody<'door'> | null {
  const pinning = [...runs.values()].filter((run) => pinnedBody(run, door) !== null)
  const orderOf = ({ completedOrder }: SpeakingRun) => completedOrder ?? Number.POSITIVE_INFINITY
  const [latest] = pinning.sort((one, other) => orderOf(other) - orderOf(one))
  return latest ? pinnedBody(latest, door) : null
}

/** Each door as the latest run of its rooms pinned it; one that none pinned as it stood when the last of them was completed. */
function doorsOf(session: Session, facilityId: string | null, runs: SpeakingRuns, moment: Moment): DoorOfSite[] {
  return session.stores.entities
    .list('door', { removed: true })
    .filter(({ entity }) => facilityId === null || entity.parentId === facilityId)
    .flatMap((stored): DoorOfSite[] => {
      const pinned = latestPinned(runs, stored)
      if (pinned) return [{ doorId: stored.entity.id, door: pinned }]
      const ofRooms = stored.entity.body.roomIds.flatMap((id) => (id === null ? [] : (runs.get(id) ?? [])))
      const body = bodyAt(session, stored, ofRooms.length > 0 ? momentOf(ofRooms) : moment)
      return body ? [{ doorId: stored.entity.id, door: body }] : []
    })
}

/**
 * How the air of the site, or of one facility, adds up in a visit: from the run that speaks for each room and what that run pinned. What no run
 * pins counts as it stood when the run that speaks was completed, so that a finished visit never moves with today's edits.
 */
export function balanceOfSite(session: Session, { certificationId, facilityId }: Scope): WholeSiteBalance {
  const certification = session.find('certification', certificationId)
  const runs = speakingRuns(session, certification)
  const moment = momentOf(runs.values())
  return wholeSite(
    { certificationId, facilityId },
    roomsOf(session, certification, facilityId, runs, moment).map(({ stored, body }) => {
      const run = runs.get(stored.entity.id)
      const terminals = new Map(terminalsAt(session, stored, run, moment).map((terminal) => [terminal.id, terminal.body]))
      return {
        roomId: stored.entity.id,
        facilityId: stored.entity.parentId ?? '',
        room: body,
        result: run?.result ?? null,
        tagOf: (id) => terminals.get(id)?.tag ?? '',
        staysWithin: (id) => {
          const terminal = terminals.get(id)
          return terminal !== undefined && !crossesBoundary(airDirectionOf(terminal), terminal.airSource)
        },
      }
    }),
    doorsOf(session, facilityId, runs, moment),
    REFERENCE_DENSITY_KGPM3,
  )
}

/** Every terminal of the site with what the run of its room says of it, and that run. */
function terminalsOfSite(session: Session, runs: SpeakingRuns, moment: Moment) {
  return session.stores.entities.list('room', { removed: true }).flatMap((room) => {
    const roomId = room.entity.id
    const run = runs.get(roomId)
    const standardKgpm3 = run?.result.air?.standardKgpm3 ?? null
    const results = new Map(run?.result.filters.map((result) => [result.terminalId, result]))
    return terminalsAt(session, room, run, moment).map(({ id, body }) => {
      const terminal: TerminalOfSystem = { terminalId: id, roomId, terminal: body, result: results.get(id) ?? null, standardKgpm3 }
      return { terminal, run }
    })
  })
}

/**
 * What each air system moves against the design of its fan in a visit. Terminals are on the system that the run of their room found them on; a
 * system and its design count as they stood when the last run that speaks of it was completed.
 */
export function balanceOfSystems(session: Session, { certificationId, facilityId }: Scope): SystemsBalance {
  const certification = session.find('certification', certificationId)
  const runs = speakingRuns(session, certification)
  const moment = momentOf(runs.values())
  const placed = terminalsOfSite(session, runs, moment)
  const speaking = new Map<Uuid, Set<SpeakingRun>>()
  for (const { terminal, run } of placed) {
    const { airSystemId } = terminal.terminal
    if (airSystemId === null || !run) continue
    speaking.set(airSystemId, (speaking.get(airSystemId) ?? new Set()).add(run))
  }
  const systems = session.stores.entities
    .list('air_system', { removed: true })
    .filter(({ entity }) => facilityId === null || entity.parentId === facilityId)
    .flatMap((stored): SystemOfSite[] => {
      const { id, parentId } = stored.entity
      const own = speaking.get(id)
      const system = bodyAt(session, stored, own ? momentOf(own) : moment)
      return system ? [{ airSystemId: id, facilityId: parentId ?? '', system }] : []
    })
  const known = new Set<string>(systems.map(({ airSystemId }) => airSystemId))
  const terminals = placed.flatMap(({ terminal }) => (known.has(terminal.terminal.airSystemId ?? '') ? [terminal] : []))
  return systemsOfSite({ certificationId, facilityId }, systems, terminals)
}
