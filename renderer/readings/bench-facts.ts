import type { Uuid } from '#core/model/values.ts'
import { questionOf } from './cell-look.ts'
import type { PlacedReading } from './reading-book.ts'
import { designVelocityMps } from './run-plan.ts'
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
  return {
    reading,
    order: view.filter.points.findIndex((point) => point.number === place.point) + 1,
    question: questionOf(view, reading, designVelocityMps(open.plan, view.filter), instrumentBody(open, reading.instrumentId)),
  }
}

/** Places of the whole run that have no number. */
export function countMissing(open: OpenRun): number {
  return open.plan.filters.reduce((sum, filter) => {
    const view = open.desk.view(filter.terminalId)
    return sum + (view ? view.places - view.filled : 0)
  }, 0)
}
