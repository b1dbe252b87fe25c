import { DateTime } from 'luxon'
import type { EntityBody } from '#core/model/entities.ts'
import type { PlainDate } from '#core/model/values.ts'

type Calibration = EntityBody<'calibration'>

function dayOf(date: PlainDate): DateTime {
  const day = DateTime.fromISO(date, { zone: 'utc' })
  if (!day.isValid) throw new RangeError(`${date} is not a calendar date`)
  return day
}

function plain(day: DateTime): PlainDate {
  return day.toFormat('yyyy-MM-dd')
}

/**
 * The calendar date at a place when an instant passed. `instantMs` in milliseconds since 1970 UTC, `timeZone` by its IANA name.
 *
 * @throws RangeError for a zone or instant that does not exist; zones are refused at their field before they come here.
 */
export function localDate(instantMs: number, timeZone: string): PlainDate {
  const there = DateTime.fromMillis(instantMs, { zone: timeZone })
  if (!there.isValid) throw new RangeError(`No date for ${instantMs} in ${timeZone}`)
  return plain(there)
}

/**
 * The day on which something done at intervals of whole months is due again, counted from the day it was done. The last day
 * counts: 31 August plus 6 months is the last day of February.
 *
 * @throws RangeError when `doneOn` is not a calendar date.
 */
export function dueDate(doneOn: PlainDate, intervalMonths: number): PlainDate {
  return plain(dayOf(doneOn).plus({ months: intervalMonths }))
}

/** Whole days from one calendar date to another; negative when the second comes first. */
export function daysBetween(from: PlainDate, to: PlainDate): number {
  return dayOf(to).diff(dayOf(from), 'days').days
}

/** The last day of a month written without a day ("2026-03"), which is what a month-only due date means (common practice). */
export function lastDayOfMonth(month: string): PlainDate {
  return plain(dayOf(`${month}-01`).endOf('month'))
}

/** How an instrument stood on a day. `calibration` is the certificate in force; `releasedBy` the later one that cures a gap. */
export type CalibrationStanding =
  | { readonly state: 'valid'; readonly calibration: Calibration }
  | {
      readonly state: 'released'
      readonly calibration: Calibration | null
      readonly releasedBy: Calibration
      /** its number; null where the certificate itself found the instrument in tolerance */
      readonly deviation: string | null
    }
  | { readonly state: 'past_due'; readonly calibration: Calibration }
  | { readonly state: 'before_first'; readonly calibration: null }
  | { readonly state: 'none'; readonly calibration: null }

/**
 * How an instrument stood on a calendar date at the site: in calibration from the day of its certificate to the due date,
 * which is the last valid day. The newest certificate made on or before that day is the one in force. A day in a gap (past
 * due, or before the first certificate) is released when the next certificate found the instrument in tolerance, or a later one
 * carries a numbered deviation. Source: the house's rule A3 (common practice).
 */
export function calibrationStanding(calibrations: readonly Calibration[], on: PlainDate): CalibrationStanding {
  if (calibrations.length === 0) return { state: 'none', calibration: null }
  // Plain dates in ISO form sort as text.
  const ordered = [...calibrations].sort((a, b) => (a.calibratedOn < b.calibratedOn ? -1 : a.calibratedOn > b.calibratedOn ? 1 : 0))
  const inForce = ordered.findLast((one) => one.calibratedOn <= on) ?? null
  if (inForce && on <= inForce.dueOn) return { state: 'valid', calibration: inForce }
  const later = ordered.filter((one) => one.calibratedOn > on)
  const [next] = later
  if (next?.foundInTolerance === true) return { state: 'released', calibration: inForce, releasedBy: next, deviation: null }
  const releasedBy = later.find((one) => one.release !== null)
  if (releasedBy?.release) return { state: 'released', calibration: inForce, releasedBy, deviation: releasedBy.release.number }
  return inForce ? { state: 'past_due', calibration: inForce } : { state: 'before_first', calibration: null }
}
