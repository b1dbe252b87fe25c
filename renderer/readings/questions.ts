import { mayBeNegative, questionAt } from '#core/methods/airflow/plausibility-by-way.ts'
import { airDirectionOf } from '#core/methods/airflow/ways.ts'
import type { EntityBody } from '#core/model/entities.ts'
import type { Sentence } from '#core/model/results.ts'
import type { PlacedReading } from './reading-book.ts'
import type { FilterView } from './run-desk.ts'
import { designVelocityMps, type FilterPlan, type RunPlan } from './run-plan.ts'
import { keyOf } from './typing.ts'

/** What stands on the desk: the readings of any terminal of the run. */
export type Desk = { readonly plan: () => RunPlan; readonly view: (terminalId: string) => FilterView | null }
type Asked = Pick<PlacedReading, 'place' | 'si' | 'typed' | 'unit'>

/** A few others of the run are enough to say what is usual. */
const ALIKE = 12

/** Readings that a number is held against: the others of its terminal; for a hood that stands alone those of like terminals of the run. */
export function othersOf(desk: Desk, view: FilterView, except: string): number[] {
  const others: number[] = []
  for (const [key, reading] of view.readings) if (key !== except) others.push(reading.si)
  if (others.length > 0 || view.filter.way !== 'hood') return others
  const direction = airDirectionOf(view.filter.terminal.body)
  const alike = (other: FilterPlan) =>
    other.way === 'hood' && other.terminalId !== view.filter.terminalId && airDirectionOf(other.terminal.body) === direction
  const like = desk.plan().filters.filter(alike)
  return like.flatMap((other) => [...(desk.view(other.terminalId)?.readings.values() ?? [])].map(({ si }) => si)).slice(-ALIKE)
}

/** What is odd about a number that stands on the screen, as a question; null when nothing is. */
export function questionOf(desk: Desk, view: FilterView, reading: Asked, instrument: EntityBody<'instrument'> | null): Sentence | null {
  const { filter } = view
  const { way, quantity } = filter
  const terminal = filter.terminal.body
  const { si, typed, unit, place } = reading
  return questionAt({
    way: way === 'plane' ? null : way,
    quantity,
    mayBeNegative: mayBeNegative(way === 'plane' ? null : way, airDirectionOf(terminal)),
    si,
    typed,
    unit,
    neighbours: othersOf(desk, view, keyOf(place)),
    designVelocityMps: designVelocityMps(desk.plan(), filter),
    designFlowM3ps: terminal.designFlow?.si ?? null,
    instrument,
  })
}
