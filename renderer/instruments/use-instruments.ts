import { useQuery } from '@tanstack/react-query'
import { useMemo } from 'react'
import { type DaysInDoubt, daysInDoubt } from '#core/history/in-doubt.ts'
import type { Entity } from '#core/model/entities.ts'
import { localDate } from '#core/planning/dates.ts'
import { orpc } from '../app/client.ts'
import { useProject } from '../app/session.tsx'
import { type CalibrationState, calibrationState } from './calibration-state.ts'

export type KnownInstrument = {
  readonly instrument: Entity<'instrument'>
  /** newest first */
  readonly calibrations: readonly Entity<'calibration'>[]
  readonly state: CalibrationState
  /** certificates that found it out of tolerance, with the days before them whose readings are in doubt; newest first */
  readonly doubts: readonly DaysInDoubt[]
}

/** The calendar date at the site now. */
export function useToday(): string {
  const { timeZone } = useProject().body
  return localDate(Date.now(), timeZone)
}

/** All instruments with their certificates and how they stand today; those that matter first. */
export function useInstruments(): { instruments: readonly KnownInstrument[] | null; error: unknown } {
  const today = useToday()
  const query = useQuery(orpc.entities.list.queryOptions({ input: { kinds: ['instrument', 'calibration'], within: null } }))
  const instruments = useMemo(() => {
    if (!query.data) return null
    const calibrations = query.data.filter((entity) => entity.kind === 'calibration')
    return query.data
      .filter((entity) => entity.kind === 'instrument')
      .map((instrument): KnownInstrument => {
        const own = calibrations
          .filter((calibration) => calibration.parentId === instrument.id)
          .sort((a, b) => b.body.calibratedOn.localeCompare(a.body.calibratedOn))
        const bodies = own.map((calibration) => calibration.body)
        return { instrument, calibrations: own, state: calibrationState(bodies, today), doubts: daysInDoubt(bodies).reverse() }
      })
      .sort(
        (a, b) =>
          Number(b.instrument.body.active) - Number(a.instrument.body.active) ||
          a.instrument.body.name.localeCompare(b.instrument.body.name),
      )
  }, [query.data, today])
  return { instruments, error: query.error }
}
