import { z } from 'zod'
import { CriteriaSet, Verdict } from '../model/criteria.ts'
import { Sentence, VerdictCounts } from '../model/results.ts'
import { Uuid } from '../model/values.ts'
import { base } from './base.ts'

const change = { asJudged: Verdict, underDraft: Verdict }
const calculationChanged = z
  .boolean()
  .describe('judged by an earlier version of the calculation: the present one reads so under the set as it was, too')

/** A room whose verdict would be another one. */
export const RoomUnderDraft = z.strictObject({ roomId: Uuid, label: z.string(), ...change, headline: Sentence, calculationChanged })
export type RoomUnderDraft = z.infer<typeof RoomUnderDraft>

/** A criterion of a filter, zone or room whose verdict would be another one. */
export const CriterionUnderDraft = z.strictObject({
  key: z.string(),
  title: z.string(),
  asJudged: Verdict.nullable().describe('null: the criterion is new'),
  underDraft: Verdict.nullable().describe('null: the criterion is gone'),
  reason: Sentence,
  calculationChanged,
})
export type CriterionUnderDraft = z.infer<typeof CriterionUnderDraft>

/** A filter, zone or room of a run whose criteria would read otherwise. */
export const SubjectUnderDraft = z.strictObject({
  kind: z.enum(['filter', 'zone', 'room']),
  subjectId: Uuid,
  roomId: Uuid,
  label: z.string(),
  ...change,
  criteria: z.array(CriterionUnderDraft),
})
export type SubjectUnderDraft = z.infer<typeof SubjectUnderDraft>

/** What a certification would read under a draft of a criteria set. Nothing of it is kept. */
export const CriteriaPreview = z.strictObject({
  runsJudged: z.number().int().describe('runs that count'),
  runsAffected: z.number().int().describe('those of them that follow this set'),
  rooms: z.strictObject({ asJudged: VerdictCounts, underDraft: VerdictCounts, changed: z.array(RoomUnderDraft) }),
  filters: z.strictObject({ asJudged: VerdictCounts, underDraft: VerdictCounts }),
  changed: z.array(SubjectUnderDraft),
})
export type CriteriaPreview = z.infer<typeof CriteriaPreview>

/** "What would change if this revision, or the unsaved draft, were applied?": current runs computed again under it. */
export const preview = base.input(z.strictObject({ certificationId: Uuid, criteriaSetId: Uuid, body: CriteriaSet })).output(CriteriaPreview)
