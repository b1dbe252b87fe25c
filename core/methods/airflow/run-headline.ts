import { heldCriterion } from '#core/criteria/held-criterion.ts'
import type { Progress } from '#core/messages/en/results.ts'
import { message } from '#core/messages/say.ts'
import type { Verdict } from '#core/model/criteria.ts'
import type { CriterionResult, RunResult, Sentence, VerdictCounts } from '#core/model/results.ts'

type Place = { readonly subject: string; readonly criterion: CriterionResult }

function firstWith(verdict: Verdict, result: Pick<RunResult, 'filters' | 'zones' | 'roomCriteria'>, roomName: string): Place | null {
  const find = (criteria: readonly CriterionResult[]) => criteria.find((criterion) => criterion.verdict === verdict)
  const ofRoom = find(result.roomCriteria)
  if (ofRoom) return { subject: roomName, criterion: ofRoom }
  for (const zone of result.zones) {
    const criterion = find(zone.criteria)
    if (criterion) return { subject: zone.name, criterion }
  }
  let worst: Place | null = null
  for (const filter of result.filters) {
    const criterion = find(filter.criteria)
    if (!criterion) continue
    const isWorse = worst === null || (criterion.margin ?? 0) < (worst.criterion.margin ?? 0)
    if (isWorse) worst = { subject: filter.tag, criterion }
  }
  return worst
}

/** How far a run is: in filters, in terminals where grilles and ducts are among them, in points over a plane. */
function progressOf({ filters, zones }: Pick<RunResult, 'filters' | 'zones'>): Progress {
  const [plane] = filters.length === 0 ? zones : []
  if (plane) return { measured: plane.pointsMeasured, planned: plane.pointsPlanned, of: 'points' }
  const measured = filters.reduce((count, filter) => (filter.pointsMeasured > 0 ? count + 1 : count), 0)
  const planned = filters.reduce((count, filter) => (filter.closed ? count : count + 1), 0)
  const others = filters.some(({ direction, way }) => direction !== 'supply' || way === 'duct_traverse')
  return others ? { measured, planned, of: 'terminals' } : { measured, planned }
}

/** One sentence for a run: its verdict, and the criterion that decides it. The room comes first, then zones, then the worst filter. */
export function runHeadline(
  verdict: Verdict,
  counts: VerdictCounts,
  result: Pick<RunResult, 'filters' | 'zones' | 'roomCriteria'>,
  roomName: string,
): Sentence {
  const progress = progressOf(result)
  if (verdict === 'pass') return message('headline.pass', { criteria: counts.pass, progress })
  const deciding = firstWith(verdict, result, roomName)
  if (!deciding) return message('headline.no_criteria', { progress })
  const { criterion, subject } = deciding
  const params = { ...heldCriterion(criterion), subject, more: counts[verdict] - 1, progress }
  switch (verdict) {
    case 'fail':
      return message('headline.fail', {
        ...params,
        figure: { value: criterion.value, low: criterion.low, high: criterion.high, dimension: criterion.dimension },
      })
    case 'not_valid':
      return message('headline.not_valid', params)
    case 'inconclusive':
      return message('headline.inconclusive', params)
    default:
      return message('headline.not_tested', params)
  }
}
