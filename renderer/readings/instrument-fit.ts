import { AVERAGING_S } from '#core/methods/airflow/averaging.ts'
import { sensedRange } from '#core/methods/airflow/reading-flags.ts'
import type { EntityBody } from '#core/model/entities.ts'
import type { Sentence } from '#core/model/results.ts'
import type { PlainDate } from '#core/model/values.ts'
import { calibrationStanding } from '#core/planning/dates.ts'

export type Fit = {
  /** last valid day of the certificate in force, null when there is none */
  readonly dueOn: PlainDate | null
  readonly valid: boolean
  readonly low: number | null
  readonly high: number | null
  /** it cannot be used at all */
  readonly useless: boolean
  /** what does not match, in sentences; it may still be used */
  readonly mismatches: readonly Sentence[]
}

/** How an instrument fits a run, as of a calendar date at the site. */
export function fitOf(
  instrument: EntityBody<'instrument'>,
  calibrations: readonly EntityBody<'calibration'>[],
  need: {
    readonly on: PlainDate
    readonly averagingTimeS: number
    readonly designVelocityMps: number | null
    readonly airflowType: EntityBody<'room'>['airflowType']
    readonly faces: readonly EntityBody<'terminal'>['face'][]
  },
): Fit {
  const standing = calibrationStanding(calibrations, need.on)
  const range = sensedRange(instrument, 'velocity', standing.calibration)
  const mismatches: Sentence[] = []
  const name = instrument.name
  if (standing.state !== 'valid') {
    const dueOn = standing.calibration?.dueOn ?? null
    mismatches.push(
      dueOn ? { code: 'readings.fit.past_due', params: { name, dueOn } } : { code: 'readings.fit.no_certificate', params: { name } },
    )
  }
  if (range && need.designVelocityMps !== null && (need.designVelocityMps < range.low || need.designVelocityMps > range.high)) {
    mismatches.push({ code: 'readings.fit.range', params: { name, designMps: need.designVelocityMps, low: range.low, high: range.high } })
  }
  if (instrument.sensing === 'omnidirectional' && need.airflowType === 'unidirectional') {
    mismatches.push({ code: 'readings.fit.omnidirectional', params: { name } })
  }
  if (instrument.sensing === 'directional' && need.airflowType === 'non_unidirectional') {
    mismatches.push({ code: 'readings.fit.directional', params: { name } })
  }
  if (instrument.averagingTimeS !== null && instrument.averagingTimeS < Math.max(need.averagingTimeS, AVERAGING_S.otherwise)) {
    mismatches.push({
      code: 'readings.fit.averaging',
      params: { name, hasS: instrument.averagingTimeS, needS: Math.max(need.averagingTimeS, AVERAGING_S.otherwise) },
    })
  }
  if (need.faces.some((face) => face === 'swirl' || face === 'louvre')) mismatches.push({ code: 'readings.fit.swirl', params: {} })
  return {
    dueOn: standing.calibration?.dueOn ?? null,
    valid: standing.state === 'valid',
    low: range?.low ?? null,
    high: range?.high ?? null,
    useless: range === null,
    mismatches,
  }
}
