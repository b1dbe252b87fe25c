import { useSay } from '../app/session.tsx'
import { asFaced, type QuarterTurns } from './face-view.ts'
import type { FilterPlan, RunPlan } from './run-plan.ts'
import { type Board, nextWaiting, type Place } from './typing.ts'

/** What comes after the point at hand, and for another filter where it hangs as seen from here. */
export function useNextWords(plan: RunPlan, board: Board, at: Place | null, filter: FilterPlan, turns: QuarterTurns): string {
  const t = useSay()
  const next = at ? nextWaiting(at, board) : null
  if (!next) return t('readings.next_none', {})
  if (next.point === at?.point) return t('readings.next_sample', { sample: next.sample, samples: board.samplesPerPoint })
  const other = plan.filterOf.get(plan.terminalOfPoint.get(next.point) ?? '')
  if (!other || other.terminalId === filter.terminalId) {
    return t('readings.next_point', { order: filter.points.findIndex((point) => point.number === next.point) + 1 })
  }
  return t('readings.next_filter', { tag: other.terminal.body.tag, where: whereWords() })

  function whereWords(): string {
    const to = other?.terminal.body
    if (!to) return ''
    if (to.mounting === 'wall') return t('readings.where_wall', {})
    const dx = to.x - filter.terminal.body.x
    const dy = to.y - filter.terminal.body.y
    const distanceM = Math.hypot(dx, dy)
    const { across, ahead } = asFaced(dx, dy, plan.run.body.facingDegrees, turns)
    // A quarter of the way counts as a direction; less is hardly noticed from a ladder.
    const side = (part: number) => (Math.abs(part) < 0.25 * distanceM ? 0 : Math.sign(part))
    return t('readings.where', { across: side(across), ahead: side(ahead), distanceM })
  }
}
