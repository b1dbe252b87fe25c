import { useMemo } from 'react'
import { methodOf } from '#core/methods/catalogue.ts'
import type { AirOfRun, FilterResult, RunResult, ZoneResult } from '#core/model/results.ts'
import { useProject } from '../app/session.tsx'
import { inputOfFilter } from './live-input.ts'
import { unrecorded } from './reading-book.ts'
import type { FilterView } from './run-desk.ts'
import { keyOf, type Place } from './typing.ts'
import type { OpenRun } from './use-run-desk.ts'

export type LiveFilter = {
  /** of a terminal; null where the plane of a zone is measured */
  readonly result: FilterResult | null
  /** of the plane of a zone */
  readonly zone: ZoneResult | null
  readonly air: AirOfRun | null
  /** the engine has seen every number that is on the screen */
  readonly settled: boolean
}

export type Figures = Omit<LiveFilter, 'settled'>

/** What a run says of one of its terminals, or of its plane. */
export function figuresOf(run: RunResult, { filter }: Pick<FilterView, 'filter'>): Figures | null {
  const isPlane = filter.way === 'plane'
  const zone = isPlane ? (run.zones.find(({ zoneId }) => zoneId === filter.terminalId) ?? null) : null
  const result = isPlane ? null : (run.filters.find(({ terminalId }) => terminalId === filter.terminalId) ?? null)
  return zone || result ? { result, zone, air: run.air } : null
}

/** The figures as they would be with the number that is being typed; null while nothing that can be read is typed. */
export function useDraftFigures(open: OpenRun, view: FilterView, at: Place | null, draft: string): Figures | null {
  const { plan, hand, desk } = open
  const timeZone = useProject().body.timeZone
  return useMemo(() => {
    if (!at || draft === '' || plan.terminalOfPoint.get(at.point) !== view.filter.terminalId) return null
    const read = desk.board().read(draft, at)
    const instrument = hand.of(view.filter.quantity)
    if (!read.ok || !instrument) return null
    const readings = new Map(view.readings).set(keyOf(at), unrecorded(at, read.value, instrument.id))
    return figuresOf(methodOf(plan.run.body.method).compute(inputOfFilter(plan, { ...view, readings }, timeZone, instrument)), view)
  }, [plan, hand, desk, view, at, draft, timeZone])
}

const NO_FIGURES: Figures = { result: null, zone: null, air: null }

/** The figures of what is measured now: the engine's as soon as it knows all numbers, until then worked out here from what is on the screen. */
export function useLiveFilter(open: OpenRun, view: FilterView): LiveFilter {
  const { plan, hand, engine, acknowledged } = open
  const timeZone = useProject().body.timeZone
  const { filter } = view
  const instrument = hand.of(filter.quantity)
  const provisional = useMemo(
    () => figuresOf(methodOf(plan.run.body.method).compute(inputOfFilter(plan, view, timeZone, instrument)), view),
    [plan, view, timeZone, instrument],
  )
  const authoritative = useMemo(() => (engine ? figuresOf(engine.result, { filter }) : null), [engine, filter])
  const knowsAll = engine !== null && engine.asOf >= acknowledged && engine.plan === plan
  const settled = authoritative !== null && knowsAll && view.unsaved + view.refused === 0
  const figures = (settled ? authoritative : provisional) ?? NO_FIGURES
  return useMemo(() => ({ ...figures, settled }), [figures, settled])
}
