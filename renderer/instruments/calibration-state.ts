import type { EntityBody } from '#core/model/entities.ts'
import { calibrationStanding, daysBetween } from '#core/planning/dates.ts'

/** Certificates that end within so many days are worth a word. */
export const SOON_DAYS = 60

export type CalibrationState =
  | { readonly kind: 'valid' | 'ends_soon'; readonly dueOn: string; readonly days: number }
  | { readonly kind: 'past_due'; readonly dueOn: string; readonly days: number }
  | { readonly kind: 'before_first' | 'none' }

/** How an instrument's calibration stands today, and whether that ends soon. */
export function calibrationState(calibrations: readonly EntityBody<'calibration'>[], today: string): CalibrationState {
  const standing = calibrationStanding(calibrations, today)
  if (standing.state === 'none' || standing.state === 'before_first') return { kind: standing.state }
  if (standing.state === 'released' && standing.calibration === null) return { kind: 'before_first' }
  const dueOn = standing.calibration?.dueOn ?? today
  const days = daysBetween(today, dueOn)
  if (standing.state !== 'valid') return { kind: 'past_due', dueOn, days: -days }
  return { kind: days <= SOON_DAYS ? 'ends_soon' : 'valid', dueOn, days }
}

/** What a planned visit has to know of an instrument's calibration. */
export type CoverOfVisit =
  | { readonly kind: 'covered'; readonly dueOn: string }
  | { readonly kind: 'ends_inside' | 'ended'; readonly dueOn: string }
  | { readonly kind: 'none' }

/** Whether an instrument stays in calibration from the first to the last day of a visit, by the certificates known now. */
export function coverOfVisit(calibrations: readonly EntityBody<'calibration'>[], startsOn: string, endsOn: string): CoverOfVisit {
  const atStart = calibrationStanding(calibrations, startsOn)
  if (atStart.state === 'none' || atStart.state === 'before_first' || !atStart.calibration) return { kind: 'none' }
  if (atStart.state !== 'valid') return { kind: 'ended', dueOn: atStart.calibration.dueOn }
  const atEnd = calibrationStanding(calibrations, endsOn)
  if (atEnd.state === 'valid') return { kind: 'covered', dueOn: atEnd.calibration.dueOn }
  return { kind: 'ends_inside', dueOn: atStart.calibration.dueOn }
}
