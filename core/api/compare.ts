import { z } from 'zod'
import { Verdict } from '../model/criteria.ts'
import { Comparison, History, Sentence } from '../model/results.ts'
import { Uuid } from '../model/values.ts'
import { base } from './base.ts'

/** One room of a visit under the criteria that another visit was judged by. */
export const UnderOtherCriteria = z.strictObject({
  roomId: Uuid,
  label: z.string(),
  asJudged: Verdict,
  underOther: Verdict,
  changedCriteria: z.boolean().describe('false when both visits used the same criteria revisions'),
  headline: Sentence.describe('of the room under the other criteria'),
})

export const compare = {
  certifications: base.input(z.strictObject({ thenId: Uuid, nowId: Uuid, roomId: Uuid.nullable() })).output(Comparison),
  history: base
    .input(z.strictObject({ subjectId: Uuid.describe('terminal or room'), quantity: z.enum(['face_velocity', 'flow', 'air_changes']) }))
    .output(History),
  /** "Would that visit have passed under the criteria of the other?": its current runs, computed again under them. */
  underOtherCriteria: base
    .input(z.strictObject({ certificationId: Uuid, criteriaFromId: Uuid, roomId: Uuid.nullable() }))
    .output(z.array(UnderOtherCriteria)),
}
