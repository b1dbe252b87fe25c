import { useQuery } from '@tanstack/react-query'
import { useMemo } from 'react'
import type { Location, Reading } from '#core/model/readings.ts'
import { orpc } from '../app/client.ts'
import type { PlacedReading } from './reading-book.ts'
import type { FilterView } from './run-desk.ts'
import type { RunPlan } from './run-plan.ts'
import { keyOf } from './typing.ts'

/** A carried terminal with the readings that it was found with, at its points; any other as it is. */
export function useCarriedView(plan: RunPlan, view: FilterView): FilterView {
  const { terminalId, carried } = view.filter
  const group = plan.run.body.carried.find(({ terminalIds }) => terminalIds.includes(terminalId)) ?? null
  const wanted = carried !== null && group !== null && view.readings.size === 0
  const found = useQuery(orpc.runs.get.queryOptions({ input: { runId: group?.fromRunId ?? '' }, enabled: wanted }))
  return useMemo(() => {
    if (!wanted || !found.data) return view
    const { run } = found.data
    // Rows and columns are told as the technician faced.
    if (run.kind !== 'run' || run.body.facingDegrees !== plan.run.body.facingDegrees) return view
    const theirs = found.data.locations.filter((location) => location.terminalId === terminalId)
    return { ...view, readings: carriedReadings(view.filter.points, theirs, found.data.readings) }
  }, [wanted, found.data, view, terminalId, plan.run.body.facingDegrees])
}

/** As-found readings at the points of the as-left run, by row and column; none where the two layouts differ. */
export function carriedReadings(
  own: readonly Location[],
  theirs: readonly Location[],
  readings: readonly Reading[],
): ReadonlyMap<string, PlacedReading> {
  const ownAt = new Map(own.map((location) => [placeOf(location), location.number]))
  if (theirs.length !== own.length || !theirs.every((location) => ownAt.has(placeOf(location)))) return new Map()
  const numbers = new Map(theirs.map((location) => [location.number, ownAt.get(placeOf(location))]))
  return new Map(
    readings.flatMap((reading): [string, PlacedReading][] => {
      const point = numbers.get(reading.point)
      if (point === undefined || reading.voided) return []
      const { sample, typed, unit, si, note, at, instrumentId, personId, id } = reading
      const place = { point, sample }
      const placed: PlacedReading = {
        place,
        saved: 'saved',
        typed,
        unit,
        si,
        flags: [...reading.flags, 'carried'],
        note,
        at,
        instrumentId,
        personId,
        identity: { by: 'reading', id },
        refused: null,
        commandId: null,
      }
      return [[keyOf(place), placed]]
    }),
  )
}

function placeOf({ row, column }: Location): string {
  return `${row}/${column}`
}
