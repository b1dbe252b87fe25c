import { isDeepStrictEqual } from 'node:util'
import type { z } from 'zod'
import type { CheckFinding } from '#core/api/jobs.ts'
import { differencesFromSigned } from '#core/history/signed-difference.ts'
import { message } from '#core/messages/say.ts'
import { CALCULATION_VERSION } from '#core/methods/catalogue.ts'
import { CertificationState } from '#core/model/results.ts'
import type { ProjectFile } from '../project-file/project-file.ts'
import { computeRun, signedResultOf } from './run-results.ts'
import { Session } from './session.ts'
import { asKept } from './visit-cache.ts'
import { keptState, visitState } from './visits.ts'

function checking(file: ProjectFile): Session {
  const options = { clock: () => 0, uuid: () => '', publish: () => undefined, log: () => undefined, believesKept: false }
  return new Session(file, options)
}

/** Works out every visit that the file keeps a state of, and holds the two against each other: what is kept must never say anything else. */
export function recalculateKept(file: ProjectFile): z.infer<typeof CheckFinding>[] {
  const session = checking(file)
  const findings: z.infer<typeof CheckFinding>[] = []
  for (const certification of session.stores.entities.list('certification')) {
    const kept = keptState(session, certification)
    if (kept === null || asKept(CertificationState, JSON.parse(kept)) === null) continue
    if (isDeepStrictEqual(JSON.parse(kept), JSON.parse(JSON.stringify(visitState(session, certification))))) continue
    const { name } = certification.entity.body
    findings.push({ kind: 'problem', sentence: message('check.kept_state_differs', { certification: name }) })
  }
  return findings
}

/**
 * Computes every signed run again with today's calculation. Where it reads otherwise, the calculation has changed since: that is a note,
 * never a problem, because the signed figures themselves are proved by their hashes and stay as they were signed.
 */
export function recalculateSigned(file: ProjectFile): z.infer<typeof CheckFinding>[] {
  const session = checking(file)
  const notes: z.infer<typeof CheckFinding>[] = []
  let same = 0
  const { entities } = session.stores
  const rooms = new Map(entities.list('room', { removed: true }).map(({ entity }) => [entity.id, entity.body.number]))
  const visits = new Map(entities.list('certification', { removed: true }).map(({ entity }) => [entity.id, entity.body.name]))
  for (const run of entities.list('run')) {
    if (run.entity.body.state !== 'signed') continue
    const signed = signedResultOf(session, run)
    if (!signed) continue
    const { room, filters } = differencesFromSigned(signed, computeRun(session, run))
    if (!room && filters.length === 0) same += 1
    else {
      const versions = { signedVersion: signed.calculationVersion, todaysVersion: CALCULATION_VERSION }
      notes.push({
        kind: 'note',
        sentence: message('check.calculation_changed', {
          certification: visits.get(run.entity.parentId ?? '') ?? '',
          room: rooms.get(run.entity.body.roomId) ?? '',
          filters: filters.join(', '),
          ...versions,
        }),
      })
    }
  }
  if (same > 0) notes.push({ kind: 'ok', sentence: message('check.calculation_same', { runs: same }) })
  return notes
}
