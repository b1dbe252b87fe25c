import { useMemo } from 'react'
import { methodOf } from '#core/methods/catalogue.ts'
import type { FilterResult } from '#core/model/results.ts'
import { useProject } from '../app/session.tsx'
import { inputOfFilter } from './live-input.ts'
import type { FilterView } from './run-desk.ts'
import type { OpenRun } from './use-run-desk.ts'

export type LiveFilter = {
  readonly result: FilterResult | null
  /** the engine has seen every number that is on the screen */
  readonly settled: boolean
}

/** The filter's figures: the engine's as soon as it knows all numbers, until then worked out here from what is on the screen. */
export function useLiveFilter(open: OpenRun, view: FilterView): LiveFilter {
  const { plan, hand, engine, acknowledged } = open
  const timeZone = useProject().body.timeZone
  const instrument = hand.instrument
  const provisional = useMemo(
    () => methodOf(plan.run.body.method).compute(inputOfFilter(plan, view, timeZone, instrument)).filters[0] ?? null,
    [plan, view, timeZone, instrument],
  )
  const terminalId = view.filter.terminalId
  const authoritative = useMemo(
    () => engine?.result.filters.find((filter) => filter.terminalId === terminalId) ?? null,
    [engine, terminalId],
  )
  const settled = authoritative !== null && engine !== null && engine.asOf >= acknowledged && view.unsaved + view.refused === 0
  const result = settled ? authoritative : provisional
  return useMemo(() => ({ result, settled }), [result, settled])
}
