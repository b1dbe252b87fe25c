import type { z } from 'zod'
import type { UnderOtherCriteria } from '#core/api/compare.ts'
import { worstVerdict } from '#core/criteria/roll-up.ts'
import { byCoverage, currentRun } from '#core/history/current-runs.ts'
import { type Criteria, criteriaOf, recomputeUnder } from '#core/history/other-criteria.ts'
import type { RunResult } from '#core/model/results.ts'
import type { StoredEntity } from '../project-file/entities.ts'
import { runInput } from './run-input.ts'
import { resultOf } from './run-results.ts'
import type { Session } from './session.ts'
import { completedOrder, roomsInScope, runsOfVisit } from './visits.ts'

type RoomUnder = z.infer<typeof UnderOtherCriteria>
type Asked = { certificationId: string; criteriaFromId: string; roomId: string | null }

/** "Would last year have passed under this year's criteria?", room by room; rooms that only one of the visits has are left out. */
export function underOtherCriteria(session: Session, { certificationId, criteriaFromId, roomId }: Asked): RoomUnder[] {
  const certification = session.find('certification', certificationId)
  const judged = currentRunsByRoom(session, certification)
  const reigning = currentRunsByRoom(session, session.find('certification', criteriaFromId))
  const rooms = roomsInScope(session, certification).filter((id) => roomId === null || id === roomId)
  return rooms.flatMap((id) => {
    const answer = roomUnder(session, id, judged.get(id) ?? [], reigning.get(id) ?? [])
    return answer ? [answer] : []
  })
}

/** The runs that count, of every room, one for each area they cover. */
export function currentRunsByRoom(session: Session, certification: StoredEntity<'certification'>): Map<string, StoredEntity<'run'>[]> {
  const byRoom = new Map<string, StoredEntity<'run'>[]>()
  for (const run of runsOfVisit(session, certification)) {
    const runs = byRoom.get(run.entity.body.roomId)
    if (runs) runs.push(run)
    else byRoom.set(run.entity.body.roomId, [run])
  }
  for (const [id, runs] of byRoom) {
    const seen = runs.map((run) => {
      const { zoneId, method, plane, phase, state } = run.entity.body
      return { run, zoneId, method, plane: plane.kind, phase, state, completedOrder: completedOrder(session, run) }
    })
    byRoom.set(
      id,
      byCoverage(seen).flatMap((group) => currentRun(group)?.run ?? []),
    )
  }
  return byRoom
}

function roomUnder(
  session: Session,
  roomId: string,
  judged: readonly StoredEntity<'run'>[],
  reigning: readonly StoredEntity<'run'>[],
): RoomUnder | null {
  const pairs = judged.flatMap((run) => {
    const other = reigning.find((candidate) => candidate.entity.body.zoneId === run.entity.body.zoneId)
    return other ? [{ run, criteria: criteriaOf(runInput(session, other)) }] : []
  })
  if (pairs.length === 0) return null
  const room = session.stores.entities.find(roomId)
  const answers = pairs.map(({ run, criteria }) => {
    const input = runInput(session, run)
    return { before: resultOf(session, run), after: recomputeUnder(input, criteria), changed: differ(criteriaOf(input), criteria) }
  })
  const underOther = worstVerdict(answers.map(({ after }) => after.verdict))
  // The worst verdict is one of them.
  const deciding = answers.find(({ after }) => after.verdict === underOther) as { after: RunResult }
  return {
    roomId,
    label: room?.entity.kind === 'room' ? room.entity.body.number : '',
    asJudged: worstVerdict(answers.map(({ before }) => before.verdict)),
    underOther,
    changedCriteria: answers.some(({ changed }) => changed),
    headline: deciding.after.headline,
  }
}

function differ(a: Criteria, b: Criteria): boolean {
  const shape = ({ criteriaSet, zoneCriteria, room, zoneOverrides }: Criteria) => {
    const revision = (set: Criteria['criteriaSet']) => set && `${set.id}.${set.revision}`
    const own = room && [room.overrides, room.requiredAirChangesPerHour]
    return JSON.stringify([revision(criteriaSet), [...zoneCriteria].map(([id, set]) => [id, revision(set)]), own, [...zoneOverrides]])
  }
  return shape(a) !== shape(b)
}
