import { useCallback } from 'react'
import type { Unit } from '#core/model/values.ts'
import { dimensionOf } from '#core/units/units.ts'
import { useFormatter, useProject } from '../app/session.tsx'
import type { PlacedReading } from './reading-book.ts'
import { unitOfRun } from './run-units.ts'
import type { OpenRun } from './use-run-desk.ts'

/** A reading as its cell shows it: as typed where that was in the unit of the run, else in that unit. */
export function useReadingText(unit: Unit): (reading: Pick<PlacedReading, 'typed' | 'unit' | 'si'>) => string {
  const f = useFormatter()
  return useCallback((reading) => (reading.unit === unit ? reading.typed : f.number(reading.si, dimensionOf(unit), { unit })), [unit, f])
}

/** The number entered last, which may be of another terminal and another quantity than the one at hand. */
export function useLastText(reading: PlacedReading | null, open: OpenRun): string {
  const { display } = useProject().body
  const { plan } = open
  const filter = reading ? plan.filterOf.get(plan.terminalOfPoint.get(reading.place.point) ?? '') : undefined
  const show = useReadingText(unitOfRun(plan.run.body, filter?.quantity ?? 'velocity', display))
  return reading ? show(reading) : ''
}

/** A limit beside a number that lies outside of it, with as many digits as it takes to see that; its unit is the run's. */
export function useLimitText(unit: Unit): (typedMps: number, limitMps: number) => string {
  const f = useFormatter()
  return useCallback(
    (typedMps, limitMps) => f.against(typedMps, limitMps, 'velocity', { unit }).limit.replace(f.unit('velocity', unit), '').trim(),
    [unit, f],
  )
}
