import { DateTime } from 'luxon'
import type { EntityBody } from '#core/model/entities.ts'
import { daysBetween } from '#core/planning/dates.ts'

type Visit = Pick<EntityBody<'certification'>, 'startsOn' | 'endsOn' | 'name'>

const dayOf = (date: string): DateTime => DateTime.fromISO(date, { zone: 'utc' })
const FRIDAY = 5

/**
 * Dates for the visit after another: as long as that one, ending on the last weekday that is not after the due date. A due date in
 * the past proposes nothing.
 */
export function proposedDates(previous: Visit, dueOn: string, today: string): { startsOn: string; endsOn: string } | null {
  if (dueOn < today) return null
  const due = dayOf(dueOn)
  const end = due.weekday > FRIDAY ? due.minus({ days: due.weekday - FRIDAY }) : due
  const start = end.minus({ days: daysBetween(previous.startsOn, previous.endsOn) })
  const begins = start.weekday > FRIDAY ? start.plus({ days: 8 - start.weekday }) : start
  return { startsOn: begins.toFormat('yyyy-MM-dd'), endsOn: end.toFormat('yyyy-MM-dd') }
}

/** The name of the visit after another: the year in it moves on with the dates ("Certification 2026" gives "Certification 2027"). */
export function proposedName(previous: Visit, startsOn: string): string | null {
  const year = previous.startsOn.slice(0, 4)
  if (!previous.name.includes(year) || startsOn === '') return null
  return previous.name.replace(year, startsOn.slice(0, 4))
}

/** Calendar days of a visit, both ends counted; 0 while a date is missing or they are the wrong way round. */
export function daysOfVisit(startsOn: string, endsOn: string): number {
  return startsOn === '' || endsOn === '' || endsOn < startsOn ? 0 : daysBetween(startsOn, endsOn) + 1
}
