import type { z } from 'zod'
import type { contract } from '#core/api/contract.ts'
import { message } from '#core/messages/say.ts'
import { gridOf } from '#core/methods/airflow/layout.ts'
import { methodOf } from '#core/methods/catalogue.ts'
import type { Entity, EntityBody } from '#core/model/entities.ts'
import { type RoomTask, workload } from '#core/planning/workload.ts'
import type { StoredEntity } from '../project-file/entities.ts'
import { problem } from '../project-file/problem.ts'
import { commit } from './command.ts'
import { checkReferences } from './references.ts'
import type { Session } from './session.ts'

type StartInput = z.infer<NonNullable<(typeof contract.certifications.startFrom)['~orpc']['inputSchema']>>

/** Averaging time that a run starts with where none was measured before, s (common practice). */
const STARTING_AVERAGING_S = 5

/** Starts a visit; the people of the one before carry over. */
export function startCertification(session: Session, input: StartInput): Entity {
  const { command, id, ...chosen } = input
  return commit(
    session,
    { command, name: 'start_certification', scope: 'project' },
    (transaction) => {
      if (session.stores.entities.rowOf(id) !== null) throw problem('conflict', message('error.conflict', { what: 'certification' }))
      if (chosen.endsOn < chosen.startsOn) throw problem('invalid_input', message('error.ends_before_start', {}), { field: 'endsOn' })
      const previous = chosen.previousId === null ? null : session.find('certification', chosen.previousId, 'previousId')
      const stillThere = (previous?.entity.body.personIds ?? []).filter(
        (personId) => session.stores.entities.find(personId)?.entity.removed === false,
      )
      const body: EntityBody<'certification'> = {
        ...chosen,
        personIds: [...new Set([...stillThere, command.personId])],
        finished: false,
      }
      checkReferences(session.stores, 'certification', body, null, 'certification')
      transaction.create('certification', id, null, body)
      return session.find('certification', id).entity
    },
    () => session.find('certification', id).entity,
  )
}

type Remaining = z.infer<NonNullable<(typeof contract.certifications.remaining)['~orpc']['outputSchema']>>

/** Filters, readings and minutes that are left: points without a reading in runs that were started, proposed points elsewhere. */
export function remaining(session: Session, certificationId: string): Remaining {
  const certification = session.find('certification', certificationId)
  const runs = session.stores.entities.list('run', { within: certification.rowId })
  const tasks = certification.entity.body.roomIds.flatMap((roomId): RoomTask[] => {
    const room = session.stores.entities.find(roomId)
    if (!room || room.entity.removed) return []
    const ofRoom = runs.filter(({ entity }) => entity.body.roomId === roomId)
    return ofRoom.length > 0 ? ofRoom.map((run) => openPoints(session, roomId, run)) : [proposed(session, roomId, room.rowId)]
  })
  const { filters, readings, minutes, rooms } = workload(tasks)
  const byRoom = new Map<string, { roomId: string; filters: number; readings: number }>()
  for (const room of rooms) {
    const sum = byRoom.get(room.roomId) ?? { roomId: room.roomId, filters: 0, readings: 0 }
    byRoom.set(room.roomId, { roomId: room.roomId, filters: sum.filters + room.filters, readings: sum.readings + room.readings })
  }
  return { filters, readings, minutes, rooms: [...byRoom.values()] }
}

function openPoints(session: Session, roomId: string, run: StoredEntity<'run'>): RoomTask {
  const { averagingTimeS, samplesPerPoint, state, missing } = run.entity.body
  const measured = new Set(session.stores.readings.inForce(run.rowId).map((reading) => reading.locationRowId))
  const excused = new Set(missing.flatMap((reason) => reason.terminalIds))
  const open = session.stores.runs
    .locations(run.rowId)
    .filter(({ rowId, location }) => state === 'open' && !measured.has(rowId) && !excused.has(location.terminalId ?? ''))
  const filters = new Set(open.map(({ terminalRowId }) => terminalRowId)).size
  return { roomId, filters, points: open.length, samplesPerPoint, averagingTimeS }
}

function proposed(session: Session, roomId: string, roomRowId: number): RoomTask {
  const method = methodOf('face_velocity_grid')
  const terminals = session.stores.entities
    .list('terminal', { within: roomRowId })
    .filter(({ entity }) => method.measures(entity.body) && entity.body.closed === null)
  const points = terminals.reduce((sum, { entity }) => {
    const { rows, columns } = gridOf(entity.body)
    return sum + rows * columns
  }, 0)
  return { roomId, filters: terminals.length, points, samplesPerPoint: 1, averagingTimeS: STARTING_AVERAGING_S }
}
