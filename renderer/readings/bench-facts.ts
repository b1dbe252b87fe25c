import type { Uuid } from '#core/model/values.ts'
import { type Direction, neighbour, type QuarterTurns } from './face-view.ts'
import { questionOf } from './questions.ts'
import type { PlacedReading } from './reading-book.ts'
import type { FilterPlan } from './run-plan.ts'
import type { Place } from './typing.ts'
import type { OpenRun } from './use-run-desk.ts'

/** The instrument of a reading: pinned by the run, or still only in the hand. */
export function instrumentBody(open: OpenRun, id: Uuid) {
  return (
    open.plan.instruments.find((instrument) => instrument.id === id)?.body ??
    open.hand.instruments.find((instrument) => instrument.id === id)?.body ??
    null
  )
}

/** The number entered last, wherever it was, with what is odd about it. */
export function lastOf(place: Place, reading: PlacedReading | null, terminalId: Uuid, open: OpenRun) {
  const view = open.desk.view(terminalId)
  if (!reading || !view) return null
  const { terminal, points } = view.filter
  return {
    reading,
    tag: terminal.body.tag,
    order: points.findIndex((point) => point.number === place.point) + 1,
    points: points.length,
    sample: place.sample,
    samples: open.plan.run.body.samplesPerPoint,
    question: questionOf(open.desk, view, reading, instrumentBody(open, reading.instrumentId)),
  }
}

/** Places of the whole run that have no number. */
export function countMissing(open: OpenRun): number {
  return open.plan.filters.reduce((sum, filter) => {
    if (filter.carried !== null) return sum
    const view = open.desk.view(filter.terminalId)
    return sum + (view ? view.places - view.filled : 0)
  }, 0)
}

/** What the view is where it cannot be turned; null where up is the way the technician faces. */
export function fixedView({ way, terminal }: Pick<FilterPlan, 'way' | 'terminal'>): 'wall' | 'duct' | 'whole' | null {
  if (way === 'duct_traverse') return 'duct'
  if (way === 'hood' || way === 'flow_element') return 'whole'
  return terminal.body.mounting === 'wall' && way !== 'plane' ? 'wall' : null
}

/** The place that an arrow key leads to: the next point of the face, the next line or place of a duct, the next sample of a whole terminal. */
export function placeBeside(
  filter: FilterPlan,
  at: Place | null,
  direction: Direction,
  turns: QuarterTurns,
  samples: number,
): Place | null {
  const { way, points } = filter
  const from = points.find((point) => point.number === at?.point)
  if (!at || !from) {
    const last = points.at(-1)
    return last ? { point: last.number, sample: 1 } : null
  }
  if (way === 'hood' || way === 'flow_element') {
    const sample = at.sample + (direction === 'right' || direction === 'behind' ? 1 : -1)
    return sample >= 1 && sample <= samples ? { point: from.number, sample } : null
  }
  // Lines of a duct stand side by side, and each runs down from its port.
  const laid = way === 'duct_traverse' ? points.map(({ number, row, column }) => ({ number, row: column, column: row })) : points
  const here = laid.find((point) => point.number === from.number)
  const to = here ? neighbour<{ number: number; row: number; column: number }>(laid, here, direction, turns) : null
  return to ? { point: to.number, sample: 1 } : null
}
