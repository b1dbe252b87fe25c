import { certificationState } from '#core/history/certification.ts'
import { type ComparedVisit, compareCertifications } from '#core/history/compare.ts'
import { currentRun } from '#core/history/current-runs.ts'
import { type ElementInPlace, evidenceOf, type RunWithEvidence } from '#core/history/evidence.ts'
import { historyOf, type RunInHistory } from '#core/history/trend.ts'
import { message } from '#core/messages/say.ts'
import { methodOf } from '#core/methods/catalogue.ts'
import type { Comparison, History } from '#core/model/results.ts'
import type { StoredEntity } from '../project-file/entities.ts'
import { problem } from '../project-file/problem.ts'
import { runInput } from './run-input.ts'
import { signedResultOf } from './run-results.ts'
import type { Session } from './session.ts'
import { completedOrder, roomsInScope, runInVisit, runsOfVisit } from './visits.ts'

/** A run computed with today's calculation, beside what was signed and what it rests on. */
function runWithEvidence(session: Session, run: StoredEntity<'run'>): RunWithEvidence {
  const input = runInput(session, run)
  const elements = new Map<string, ElementInPlace>()
  for (const { terminalId, id, serialNumber } of session.stores.runs.elements(run.rowId)) elements.set(terminalId, { id, serialNumber })
  return {
    runId: run.entity.id,
    roomId: run.entity.body.roomId,
    result: methodOf(run.entity.body.method).compute(input),
    signed: run.entity.body.state === 'signed' ? signedResultOf(session, run) : null,
    evidence: evidenceOf(input),
    elements,
  }
}

/** One visit against another. Both sides are computed with today's calculation; where that differs from a signed figure, it is marked. */
export function compareVisits(session: Session, input: { thenId: string; nowId: string; roomId: string | null }): Comparison {
  const earlier = visit(session, input.thenId, input.roomId)
  const later = visit(session, input.nowId, input.roomId)
  const roomLabels = new Map<string, string>()
  for (const { roomId } of [...earlier.state.rooms, ...later.state.rooms]) {
    const room = session.stores.entities.find(roomId)
    if (room?.entity.kind === 'room') roomLabels.set(roomId, room.entity.body.number)
  }
  return compareCertifications({ earlier, later, roomLabels, roomId: input.roomId })
}

function visit(session: Session, certificationId: string, roomId: string | null): ComparedVisit {
  const certification = session.find('certification', certificationId)
  const stored = runsOfVisit(session, certification).filter(({ entity }) => roomId === null || entity.body.roomId === roomId)
  const runs = stored.map((run) => ({ run, seen: runWithEvidence(session, run) }))
  const state = certificationState({
    certificationId,
    roomIds: roomsInScope(session, certification).filter((id) => roomId === null || id === roomId),
    runs: runs.map(({ run, seen }) => runInVisit(session, run, seen.result)),
  })
  return { certificationId, state, runs: runs.map(({ seen }) => seen) }
}

/** A filter's or room's figure over all visits. */
export function history(session: Session, subjectId: string, quantity: History['quantity']): History {
  const subject = session.stores.entities.find(subjectId)
  if (subject?.entity.kind !== 'room' && subject?.entity.kind !== 'terminal') {
    throw problem('not_found', message('error.not_found', { what: 'terminal' }), { field: 'subjectId' })
  }
  const isRoom = subject.entity.kind === 'room'
  const roomId = isRoom ? subjectId : (subject.entity.parentId ?? '')
  const label = subject.entity.kind === 'room' ? subject.entity.body.number : subject.entity.body.tag
  const runs = session.stores.entities.list('certification').flatMap((certification): RunInHistory[] => {
    const ofRoom = runsOfVisit(session, certification)
      .filter(({ entity }) => entity.body.roomId === roomId)
      .map((run) => ({ run, phase: run.entity.body.phase, state: run.entity.body.state, completedOrder: completedOrder(session, run) }))
    const current = currentRun(ofRoom)
    return ofRoom
      .filter((one) => one.state !== 'open' || one === current)
      .map((one) => ({
        ...runWithEvidence(session, one.run),
        certificationId: certification.entity.id,
        certificationName: certification.entity.body.name,
        on: certification.entity.body.startsOn,
        completedOrder: one.completedOrder,
        method: one.run.entity.body.method,
        state: one.state,
      }))
  })
  return historyOf({ subjectId, kind: isRoom ? 'room' : 'filter', label, quantity, runs })
}
