import type { CriteriaPreview, RoomUnderDraft } from '#core/api/criteria-preview.ts'
import { noVerdicts, tally, worstVerdict } from '#core/criteria/roll-up.ts'
import { differencesUnder, follows, underDraft, underPresentCalculation } from '#core/history/draft-criteria.ts'
import type { CriteriaSet, Verdict } from '#core/model/criteria.ts'
import type { RunResult } from '#core/model/results.ts'
import type { StoredEntity } from '../project-file/entities.ts'
import { checkWritten } from './body-rules.ts'
import { currentRunsByRoom } from './other-criteria.ts'
import { runInput } from './run-input.ts'
import { resultOf } from './run-results.ts'
import type { Session } from './session.ts'

type Asked = { certificationId: string; criteriaSetId: string; body: CriteriaSet }
type Pair = { readonly before: RunResult; readonly after: RunResult; readonly present: RunResult | null; readonly affected: boolean }

function pairOf(session: Session, run: StoredEntity<'run'>, { criteriaSetId, body }: Asked): Pair {
  const input = runInput(session, run)
  const before = resultOf(session, run)
  return follows(input, criteriaSetId)
    ? { before, after: underDraft(input, criteriaSetId, body), present: underPresentCalculation(input, before), affected: true }
    : { before, after: before, present: null, affected: false }
}

/** The worst of the runs decides, and says why. */
function deciding(results: readonly RunResult[]): { verdict: Verdict; headline: RunResult['headline'] | null } {
  const verdict = worstVerdict(results.map((result) => result.verdict))
  return { verdict, headline: results.find((result) => result.verdict === verdict)?.headline ?? null }
}

/**
 * What a visit would read if a draft stood in the place of a criteria set: its runs that count, as they were judged (frozen where signed) and
 * computed again under the draft. Nothing is written.
 */
export function previewCriteria(session: Session, asked: Asked): CriteriaPreview {
  checkWritten('criteria_set', asked.body, 'body')
  const certification = session.find('certification', asked.certificationId)
  const preview: CriteriaPreview = {
    runsJudged: 0,
    runsAffected: 0,
    rooms: { asJudged: noVerdicts(), underDraft: noVerdicts(), changed: [] },
    filters: { asJudged: noVerdicts(), underDraft: noVerdicts() },
    changed: [],
  }
  for (const [roomId, runs] of currentRunsByRoom(session, certification)) {
    const room = session.stores.entities.find(roomId)
    const label = room?.entity.kind === 'room' ? room.entity.body.number : ''
    const pairs = runs.map((run) => pairOf(session, run, asked))
    preview.runsJudged += pairs.length
    for (const { before, after, present, affected } of pairs) {
      tally(preview.filters.asJudged, before.filters)
      tally(preview.filters.underDraft, after.filters)
      if (!affected) continue
      preview.runsAffected += 1
      preview.changed.push(...differencesUnder(before, after, label, present))
    }
    const asJudged = deciding(pairs.map(({ before }) => before)).verdict
    const { verdict, headline } = deciding(pairs.map(({ after }) => after))
    preview.rooms.asJudged[asJudged] += 1
    preview.rooms.underDraft[verdict] += 1
    if (asJudged === verdict || !headline) continue
    const alone = deciding(pairs.map(({ before, present }) => present ?? before)).verdict
    const calculationChanged = alone === verdict
    const changed: RoomUnderDraft = { roomId, label, asJudged, underDraft: verdict, headline, calculationChanged }
    preview.rooms.changed.push(changed)
  }
  return preview
}
