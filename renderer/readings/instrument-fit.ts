import { AVERAGING_S } from '#core/methods/airflow/averaging.ts'
import { sensedRange } from '#core/methods/airflow/reading-flags.ts'
import type { EntityBody } from '#core/model/entities.ts'
import type { Sentence } from '#core/model/results.ts'
import type { PlainDate, Quantity } from '#core/model/values.ts'
import { calibrationStanding } from '#core/planning/dates.ts'

export type Fit = {
  /** last valid day of the certificate in force, null when there is none */
  readonly dueOn: PlainDate | null
  readonly valid: boolean
  readonly low: number | null
  readonly high: number | null
  /** it cannot be used at all */
  readonly useless: boolean
  /** what does not match about its certificate and its own averaging, in sentences; it may still be used */
  readonly mismatches: readonly Sentence[]
}

/** How an instrument fits a run by its certificate, range and averaging, as of a calendar date at the site. The rest is {@link misfitsOfRun}. */
export function fitOf(
  instrument: EntityBody<'instrument'>,
  calibrations: readonly EntityBody<'calibration'>[],
  need: {
    readonly on: PlainDate
    readonly quantity: Quantity
    readonly averagingTimeS: number
  },
): Fit {
  const standing = calibrationStanding(calibrations, need.on)
  const range = sensedRange(instrument, need.quantity, standing.calibration)
  const mismatches: Sentence[] = []
  const name = instrument.name
  if (standing.state !== 'valid') {
    const dueOn = standing.calibration?.dueOn ?? null
    mismatches.push(
      dueOn ? { code: 'readings.fit.past_due', params: { name, dueOn } } : { code: 'readings.fit.no_certificate', params: { name } },
    )
  }
  const velocity = need.quantity === 'velocity'
  if (velocity && instrument.averagingTimeS !== null && instrument.averagingTimeS < Math.max(need.averagingTimeS, AVERAGING_S.otherwise)) {
    mismatches.push({
      code: 'readings.fit.averaging',
      params: { name, hasS: instrument.averagingTimeS, needS: Math.max(need.averagingTimeS, AVERAGING_S.otherwise) },
    })
  }
  return {
    dueOn: standing.calibration?.dueOn ?? null,
    valid: standing.state === 'valid',
    low: range?.low ?? null,
    high: range?.high ?? null,
    useless: range === null,
    mismatches,
  }
}
