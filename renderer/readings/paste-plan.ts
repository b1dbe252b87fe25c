import type { Sentence } from '#core/model/results.ts'
import type { Uuid } from '#core/model/values.ts'
import { inRowOrder, type QuarterTurns, turnedSize } from './face-view.ts'
import { layBlock, type PasteTarget, readBlock } from './paste-layout.ts'
import { questionOf } from './questions.ts'
import { type PlacedReading, unrecorded } from './reading-book.ts'
import type { RunDesk } from './run-desk.ts'
import type { FilterPlan } from './run-plan.ts'
import type { Place, Understood } from './typing.ts'
import type { HandInstrument } from './use-hand-instrument.ts'

export type PastePlan = {
  readonly values: readonly { readonly place: Place; readonly terminalId: Uuid; readonly value: Understood }[]
  readonly problems: readonly { readonly text: string; readonly why: Sentence }[]
  readonly questioned: ReadonlySet<number>
  readonly moreFilters: number
  readonly replaces: number
  readonly leftOver: number
  readonly otherShape: boolean
}

/** What would happen if a block were saved now: laid row by row as the face is turned, going on over the filters that follow. */
export function planPaste(
  desk: RunDesk,
  text: string,
  startTerminalId: Uuid,
  sample: number,
  turns: QuarterTurns,
  hand: HandInstrument | null,
): PastePlan {
  const plan = desk.plan()
  const start = plan.filterOf.get(startTerminalId)
  // A block is of one quantity and one instrument: terminals that are read otherwise are passed over.
  const alike = (filter: FilterPlan) => filter.quantity === start?.quantity && filter.carried === null
  const filters = start ? plan.filters.slice(start.index).filter(alike) : []
  const targets = filters.map((filter) => targetOf(filter, sample, turns))
  const layout = layBlock(readBlock(text), targets)
  const problems: { text: string; why: Sentence }[] = []
  const values = layout.values.flatMap(({ terminalId, place, text: typed }) => {
    const read = desk.board().read(typed, place)
    if (read.ok) return [{ terminalId, place, value: read.value }]
    problems.push({ text: typed, why: read.problem })
    return []
  })
  return {
    values,
    problems,
    questioned: questionedPoints(desk, values, hand),
    moreFilters: new Set(values.map((value) => value.terminalId)).size - 1,
    replaces: values.filter((value) => desk.at(value.place) !== null).length,
    leftOver: layout.leftOver,
    otherShape: layout.otherShape,
  }
}

/** The places of a terminal in the order a block is laid: as the face is turned, a duct line by line from the port. */
function targetOf({ terminalId, terminal, way, size, points }: FilterPlan, sample: number, turns: QuarterTurns): PasteTarget {
  const turned = terminal.body.mounting === 'wall' || way === 'duct_traverse' ? 0 : turns
  const laid = way === 'duct_traverse' ? points : inRowOrder(points, turned)
  return { terminalId, columns: turnedSize(size, turned).columns, places: laid.map((point) => ({ point: point.number, sample })) }
}

/** Each pasted number is held against the others of its filter as they would stand after saving. */
function questionedPoints(desk: RunDesk, values: PastePlan['values'], hand: HandInstrument | null): Set<number> {
  const questioned = new Set<number>()
  for (const terminalId of new Set(values.map((value) => value.terminalId))) {
    const view = desk.view(terminalId)
    if (!view) continue
    const readings = new Map<string, PlacedReading>(view.readings)
    const own = values.filter((value) => value.terminalId === terminalId)
    for (const { place, value } of own) {
      readings.set(`${place.point}:${place.sample}`, unrecorded(place, value, hand?.id ?? ''))
    }
    for (const { place, value } of own) {
      if (questionOf(desk, { ...view, readings }, { place, ...value }, hand?.body ?? null)) questioned.add(place.point)
    }
  }
  return questioned
}
