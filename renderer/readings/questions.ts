import { neighboursOf } from '#core/methods/airflow/neighbours.ts'
import { mayBeNegative, questionAt } from '#core/methods/airflow/plausibility-by-way.ts'
import { airDirectionOf } from '#core/methods/airflow/ways.ts'
import type { EntityBody } from '#core/model/entities.ts'
import type { Sentence } from '#core/model/results.ts'
import type { PlacedReading } from './reading-book.ts'
import type { FilterView } from './run-desk.ts'
import { designVelocityMps, type RunPlan } from './run-plan.ts'
import { keyOf } from './typing.ts'

/** What stands on the desk: the readings of any terminal of the run. */
export type Desk = { readonly plan: () => RunPlan; readonly view: (terminalId: string) => FilterView | null }
type Asked = Pick<PlacedReading, 'place' | 'si' | 'typed' | 'unit'>

/** What a number at a point is held against, by the choice that the project makes when it is recorded; `view` tells the terminal it stands at. */
export function othersOf(desk: Desk, view: FilterView, point: number): number[] {
  const plan = desk.plan()
  const filterAt = (number: number) => plan.filterOf.get(plan.terminalOfPoint.get(number) ?? '')
  return neighboursOf(
    {
      pointAt: (number) => {
        const filter = filterAt(number)
        if (!filter) return undefined
        const { terminalId, way, quantity, terminal } = filter
        return { location: { terminalId }, quantity, way: way === 'plane' ? null : way, direction: airDirectionOf(terminal.body) }
      },
      valueAt: (number) => {
        const terminalId = filterAt(number)?.terminalId ?? ''
        const at = terminalId === view.filter.terminalId ? view : desk.view(terminalId)
        return at?.readings.get(keyOf({ point: number, sample: 1 }))?.si ?? null
      },
    },
    point,
  )
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
    neighbours: othersOf(desk, view, place.point),
    designVelocityMps: designVelocityMps(desk.plan(), filter),
    designFlowM3ps: terminal.designFlow?.si ?? null,
    instrument,
  })
}
