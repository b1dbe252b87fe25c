import { keepsHigh, RELATIVE_TOLERANCE, reachesLow } from '#core/criteria/compare-limit.ts'
import type { ReleasedUse, UncoveredUse } from '#core/criteria/stance.ts'
import type { EntityBody } from '#core/model/entities.ts'
import type { Quantity } from '#core/model/values.ts'
import { calibrationStanding } from '#core/planning/dates.ts'
import { sensedRange } from './reading-flags.ts'

/** What an instrument may be trusted with on one calendar day at the site. Ranges in SI, as indicated. */
export type Cover = {
  readonly low: number
  readonly high: number
  readonly uncovered: UncoveredUse | null
  readonly released: ReleasedUse | null
  /** the certificate in force on that day */
  readonly calibration: Calibration | null
}

type Calibration = EntityBody<'calibration'>

const EVERYTHING = { low: Number.NEGATIVE_INFINITY, high: Number.POSITIVE_INFINITY } as const

const USE_OF = { past_due: 'past_due', before_first: 'before_certificate', none: 'no_certificate' } as const

/**
 * Whether an instrument's calibration covers a reading. `on` is the calendar date at the site; how certificates cover and release days
 * is {@link calibrationStanding}'s. The range is the instrument's, narrowed by the calibrated range; open where it is not known.
 */
export function coverOf(
  instrument: EntityBody<'instrument'> | null,
  calibrations: readonly Calibration[],
  quantity: Quantity,
  on: string,
): Cover {
  const standing = calibrationStanding(calibrations, on)
  const { calibration } = standing
  const { low, high } = (instrument && sensedRange(instrument, quantity, calibration)) ?? EVERYTHING
  if (standing.state === 'valid') return { low, high, uncovered: null, released: null, calibration }
  const kind = standing.state === 'released' ? (standing.calibration ? 'past_due' : 'before_certificate') : USE_OF[standing.state]
  const use: UncoveredUse = {
    instrument: instrument?.name ?? '?',
    serialNumber: instrument?.serialNumber ?? '?',
    kind,
    on,
    dueOn: standing.calibration?.dueOn ?? null,
  }
  if (standing.state !== 'released') return { low, high, uncovered: use, released: null, calibration }
  const { releasedBy, deviation } = standing
  return { low, high, uncovered: null, released: { ...use, certificate: releasedBy.certificateNumber, deviation }, calibration }
}

/**
 * Outside the range at its far end, beyond the tolerance with which a value counts as on its limit: by size, or at either end where the
 * range itself goes below zero.
 */
export function isAbove(cover: Cover, si: number): boolean {
  if (cover.low < 0) return !(reachesLow(si, cover.low) && keepsHigh(si, cover.high))
  return !keepsHigh(Math.abs(si), cover.high)
}

/** Zero, or a magnitude below the range. */
export function isBelow(cover: Cover, si: number): boolean {
  return si === 0 || Math.abs(si) < cover.low * (1 - RELATIVE_TOLERANCE)
}
