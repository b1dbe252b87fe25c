import type { Message } from '#core/messages/say.ts'
import type { EntityBody } from '#core/model/entities.ts'
import type { ReadingFlag } from '#core/model/readings.ts'
import type { PlainDate, Quantity } from '#core/model/values.ts'
import { calibrationStanding } from '#core/planning/dates.ts'

type Instrument = EntityBody<'instrument'>
type Calibration = EntityBody<'calibration'>

/** Range in SI. */
export type Range = { readonly low: number; readonly high: number }

/**
 * What an instrument can indicate of a quantity, in SI: its own range, narrowed by the calibrated range of the certificate in
 * force where that states one. Null when it cannot sense the quantity.
 */
export function sensedRange(instrument: Instrument, quantity: Quantity, calibration: Calibration | null = null): Range | null {
  const sensed = instrument.senses.find((one) => one.quantity === quantity)
  if (!sensed) return null
  const range = { low: sensed.low.si, high: sensed.high.si }
  const calibrated = calibration?.range
  if (!calibrated || calibrated.quantity !== quantity) return range
  return { low: Math.max(range.low, calibrated.low.si), high: Math.min(range.high, calibrated.high.si) }
}

export type FlagInput = {
  readonly si: number
  readonly quantity: Quantity
  readonly instrument: Instrument
  readonly calibrations: readonly Calibration[]
  /** calendar date at the site when the reading was taken */
  readonly localDate: PlainDate
  readonly averagingTimeS: number
  /** what the run's plane and criteria ask for, s: `leastAveragingTimeS` of averaging.ts */
  readonly leastAveragingTimeS: number
  readonly questioned: boolean
}

/**
 * The flags a reading is stored with. The range is checked on the value as indicated, its size alone where the range does not
 * go below zero; zero counts as below any range; a value above it is kept and excluded by the calculation. Past due also covers a reading made before the
 * instrument's first certificate, and one without any; whether a later certificate releases it is decided when the run is
 * evaluated.
 */
export function flagsFor(input: FlagInput): ReadingFlag[] {
  const { si, quantity, instrument } = input
  const standing = calibrationStanding(input.calibrations, input.localDate)
  const range = sensedRange(instrument, quantity, standing.calibration)
  const indicated = range && range.low < 0 ? si : Math.abs(si)
  const flags: ReadingFlag[] = []
  if (si === 0) flags.push('below_range')
  else if (range && indicated < range.low) flags.push(range.low < 0 ? 'above_range' : 'below_range')
  if (range && indicated > range.high) flags.push('above_range')
  if (si < 0 && quantity === 'velocity') flags.push('reverse_flow')
  if (input.averagingTimeS < input.leastAveragingTimeS) flags.push('short_averaging')
  if (standing.state !== 'valid') flags.push('past_due')
  if (input.questioned) flags.push('questioned')
  return flags
}

export type Refusal = Extract<Message, { code: `refusal.${string}` }>

/**
 * Why a reading cannot be recorded at all, or null: a quantity that the instrument does not sense, or a velocity below zero
 * from an instrument that does not report reverse flow.
 */
export function refuseReading(input: {
  readonly si: number
  readonly quantity: Quantity
  readonly instrument: Instrument
}): Refusal | null {
  const { si, quantity, instrument } = input
  if (!instrument.senses.some((one) => one.quantity === quantity)) {
    return { code: 'refusal.cannot_sense', params: { instrument: instrument.name, quantity } }
  }
  if (si < 0 && quantity === 'velocity' && !instrument.reportsReverseFlow) {
    return { code: 'refusal.no_reverse_flow', params: { instrument: instrument.name } }
  }
  return null
}
