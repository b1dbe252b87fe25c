import { addCounts, noVerdicts, worstVerdict } from '#core/criteria/roll-up.ts'
import { message } from '#core/messages/say.ts'
import { CALCULATION_VERSION } from '#core/methods/catalogue.ts'
import type { Verdict } from '#core/model/criteria.ts'
import type { Entity, EntityBody } from '#core/model/entities.ts'
import type { RoomState, RunResult, VerdictCounts } from '#core/model/results.ts'
import { problem } from '../project-file/problem.ts'
import type { Client } from './run.ts'

export type EvaluatedRoom = {
  readonly roomId: string
  readonly number: string
  readonly name: string
  readonly state: RoomState
  readonly results: readonly RunResult[]
}
export type EvaluatedVisit = {
  readonly certification: Entity<'certification'>
  readonly verdict: Verdict
  readonly counts: VerdictCounts
  readonly rooms: readonly EvaluatedRoom[]
}
export type Evaluation = {
  readonly file: string
  readonly project: EntityBody<'project'>
  readonly calculationVersion: number
  readonly verdict: Verdict
  readonly counts: VerdictCounts
  readonly visits: readonly EvaluatedVisit[]
}

export const EXIT = { pass: 0, fail: 1, error: 2, open: 3 } as const

/** 0 all pass, 1 something fails, 3 nothing fails but something is open. */
export function exitOf({ verdict, counts }: Pick<Evaluation, 'verdict' | 'counts'>): number {
  if (verdict === 'fail' || counts.fail > 0) return EXIT.fail
  return verdict === 'pass' ? EXIT.pass : EXIT.open
}

/** Everything that one or all certifications say, through the same procedures as the screen. */
export async function evaluate(client: Client, file: string, wanted: { certification: string | null; all: boolean }): Promise<Evaluation> {
  const visits: EvaluatedVisit[] = []
  for (const certification of await chosenVisits(client, wanted)) visits.push(await evaluateVisit(client, certification))
  const counts = noVerdicts()
  for (const visit of visits) addCounts(counts, visit.counts)
  const [project] = await client.entities.list({ kinds: ['project'], within: null })
  if (project?.kind !== 'project') throw problem('not_found', message('error.not_found', { what: 'project' }))
  return {
    file,
    project: project.body,
    calculationVersion: CALCULATION_VERSION,
    verdict: worstVerdict(visits.map((visit) => visit.verdict)),
    counts,
    visits,
  }
}

/** The visits asked for by name or identity, all of them, or the latest. */
export async function chosenVisits(
  client: Client,
  wanted: { certification: string | null; all: boolean },
): Promise<Entity<'certification'>[]> {
  const every = (await client.entities.list({ kinds: ['certification'], within: null })).filter((entity) => entity.kind === 'certification')
  if (wanted.all) return every
  if (wanted.certification === null) {
    const { certificationId } = await client.evaluation.overview({ certificationId: null })
    return every.filter(({ id }) => id === certificationId)
  }
  const named = every.filter(({ id, body }) => id === wanted.certification || body.name === wanted.certification)
  if (named.length === 0) throw problem('not_found', message('cli.no_such_certification', { name: wanted.certification }))
  return named
}

async function evaluateVisit(client: Client, certification: Entity<'certification'>): Promise<EvaluatedVisit> {
  const state = await client.evaluation.certification({ certificationId: certification.id })
  const rooms: EvaluatedRoom[] = []
  const known = [
    ...(await client.entities.list({ kinds: ['room'], within: null })),
    ...(await client.entities.list({ kinds: ['room'], within: null, removed: true })),
  ]
  for (const { roomId } of state.rooms) {
    const room = known.find((entity) => entity.id === roomId)
    const evaluated = await client.evaluation.room({ certificationId: certification.id, roomId })
    const { number, name } = room?.kind === 'room' ? room.body : { number: roomId, name: '' }
    rooms.push({ roomId, number, name, ...evaluated })
  }
  return { certification, verdict: state.verdict, counts: state.counts, rooms }
}
