import type { z } from 'zod'
import type { contract } from '#core/api/contract.ts'
import { filtersLeft } from '#core/history/outstanding.ts'
import { message } from '#core/messages/say.ts'
import { AT_THE_FACE, leastAveragingToday } from '#core/methods/airflow/averaging.ts'
import type { Entity, EntityBody } from '#core/model/entities.ts'
import { proposedTask } from '#core/planning/proposed-work.ts'
import { NO_POINTS, type PointsByWay, type RoomTask, withPoints, workload } from '#core/planning/workload.ts'
import type { StoredEntity } from '../project-file/entities.ts'
import { problem } from '../project-file/problem.ts'
import { commit } from './command.ts'
import { checkReferences } from './references.ts'
import { scopeOf } from './run-scope.ts'
import type { Session } from './session.ts'
import { keptRun } from './visits.ts'

type StartInput = z.infer<NonNullable<(typeof contract.certifications.startFrom)['~orpc']['inputSchema']>>

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

/**
 * Terminals, readings and minutes that are left: points without a reading or a reason in the runs that decide, proposed points where no run was
 * started.
 */
export function remaining(session: Session, certificationId: string): Remaining {
  const certification = session.find('certification', certificationId)
  const runs = session.stores.entities.list('run', { within: certification.rowId })
  const tasks = certification.entity.body.roomIds.flatMap((roomId): RoomTask[] => {
    const room = session.stores.entities.find(roomId)
    if (!room || room.entity.removed) return []
    const ofRoom = runs.filter(({ entity }) => entity.body.roomId === roomId)
    return ofRoom.length > 0 ? leftIn(session, roomId, ofRoom) : [proposed(session, roomId)]
  })
  const { terminals, readings, minutes, rooms } = workload(tasks)
  const byRoom = new Map<string, { roomId: string; filters: number; readings: number }>()
  for (const room of rooms) {
    const sum = byRoom.get(room.roomId) ?? { roomId: room.roomId, filters: 0, readings: 0 }
    byRoom.set(room.roomId, { roomId: room.roomId, filters: sum.filters + room.terminals, readings: sum.readings + room.readings })
  }
  return { filters: terminals, readings, minutes, rooms: [...byRoom.values()] }
}

function leftIn(session: Session, roomId: string, runs: readonly StoredEntity<'run'>[]): RoomTask[] {
  const standing = runs.map((run) => {
    const { phase, state, missing, averagingTimeS, samplesPerPoint } = run.entity.body
    const { pointsPlanned, pointsMeasured, result } = keptRun(session, run)
    // A plane has points and no filters; left out for a reason, none of them is left.
    const ofPlane = result.filters.length === 0 && state === 'open' && missing.length === 0 ? pointsPlanned - pointsMeasured : 0
    return { phase, state, missing, averagingTimeS, samplesPerPoint, filters: result.filters, ofPlane }
  })
  return filtersLeft(standing).map(({ run: { averagingTimeS, samplesPerPoint, ofPlane, filters: measuredIn }, filters }) => {
    const wayOf = new Map(measuredIn.map(({ terminalId, way }) => [terminalId, way]))
    let work: PointsByWay = { ...NO_POINTS, points: ofPlane }
    for (const { terminalId, planned, measured } of filters)
      work = withPoints(work, wayOf.get(terminalId) ?? 'face_grid', planned - measured)
    return { roomId, ...work, samplesPerPoint, averagingTimeS }
  })
}

function proposed(session: Session, roomId: string): RoomTask {
  // The air flow of the room takes in every terminal; the method that suits the room leaves out what it does not measure.
  const { room, zones, terminals, criteriaSets } = scopeOf(session, { roomId, zoneId: null, method: 'room_airflow' })
  const places = [...zones, ...criteriaSets].map(({ entity }) => entity)
  const planned = { room: room.entity, zones: zones.map(({ entity }) => entity), terminals: terminals.map(({ entity }) => entity) }
  return proposedTask(planned, leastAveragingToday(places, room.entity, AT_THE_FACE))
}
