import type { Quantity } from '#core/model/values.ts'
import type { Formatter } from '#core/units/formatter.ts'
import { WHAT } from '../misfits.ts'

type None = Record<never, never>

const hours = (minutes: number, f: Formatter): string =>
  minutes < 90 ? `${Math.round(minutes)}\u00a0min` : `${f.decimal(minutes / 60, 1)}\u00a0h`
const days = (count: number): string => `${count} ${count === 1 ? 'day' : 'days'}`

/** Words of the planning screen. Codes start with "plan." */
export const plan = {
  'plan.title': (_p: None) => 'Plan a certification',
  'plan.about': (p: { previous: string }) =>
    p.previous ? `Rooms, people and points carry over from ${p.previous}.` : 'The first one of this project.',
  'plan.no_rooms': (_p: None) => 'No rooms to certify yet',
  'plan.no_rooms_text': (_p: None) => 'A certification is planned over rooms. Draw the first room of the site.',
  'plan.to_site': (_p: None) => 'Go to the site',
  'plan.open': (p: { name: string; filters: number; readings: number }) =>
    p.readings === 0
      ? `${p.name} is not finished yet, and nothing is left to measure in it.`
      : `${p.name} is not finished yet: ${p.readings} readings at ${p.filters} ${p.filters === 1 ? 'terminal' : 'terminals'} are left.`,
  'plan.open_link': (p: { name: string }) => `Go on with ${p.name}`,

  'plan.visit': (_p: None) => 'The visit',
  'plan.from': (_p: None) => 'Start from',
  'plan.from.nothing': (_p: None) => 'nothing: all rooms in use',
  'plan.name': (_p: None) => 'Name',
  'plan.name_proposed': (p: { year: string }) => `Certification ${p.year}`,
  'plan.starts': (_p: None) => 'First day',
  'plan.ends': (_p: None) => 'Last day',
  'plan.purpose': (_p: None) => 'Purpose',
  'plan.purpose.initial': (_p: None) => 'first certification',
  'plan.purpose.periodic': (_p: None) => 'periodic',
  'plan.purpose.after_change': (_p: None) => 'after a change or repair',
  'plan.purpose.investigation': (_p: None) => 'investigation',
  'plan.why': (_p: None) => 'Why, or anything the team has to know',
  'plan.due': (p: { name: string; due: { on: string; days: number } }, f: Formatter) =>
    p.due.days < 0
      ? `The visit after ${p.name} was due on ${f.date(p.due.on)}, ${days(-p.due.days)} ago.`
      : `The visit after ${p.name} is due by ${f.date(p.due.on)}, in ${days(p.due.days)}.`,
  'plan.after_due': (p: { due: { on: string } }, f: Formatter) => `The last day lies after the due date, ${f.date(p.due.on)}.`,

  'plan.rooms': (_p: None) => 'Rooms',
  'plan.rooms_of': (p: { chosen: number; of: number }) => `${p.chosen} of ${p.of}`,
  'plan.room.all': (p: { facility: string }) => `All rooms of ${p.facility}`,
  'plan.column.room': (_p: None) => 'Room',
  'plan.column.last': (_p: None) => 'Last time',
  'plan.column.filters': (_p: None) => 'Terminals',
  'plan.column.readings': (_p: None) => 'Readings',
  'plan.column.time': (_p: None) => 'On site',
  'plan.room.not_last': (_p: None) => 'not in it',
  'plan.room.failed_as_found': (_p: None) => 'failed as found',
  'plan.room.out_of_use': (_p: None) => 'out of use',
  'plan.minutes': (p: { minutes: number }, f: Formatter) => (p.minutes === 0 ? '—' : hours(p.minutes, f)),

  'plan.work': (_p: None) => 'The work',
  'plan.work.rooms': (_p: None) => 'rooms',
  'plan.work.filters': (_p: None) => 'terminals',
  'plan.work.readings': (_p: None) => 'readings',
  'plan.work.doors': (_p: None) => 'Pressures over doors',
  'plan.people': (_p: None) => 'People on site',
  'plan.work.site': (_p: None) => 'On site',
  'plan.work.report': (_p: None) => 'Reports',
  'plan.work.days': (_p: None) => 'Days on site',
  'plan.work.person_days': (_p: None) => 'Person-days',
  'plan.work.days_value': (p: { days: number }, f: Formatter) => f.decimal(p.days, 1),
  'plan.work.hours_value': (p: { minutes: number }, f: Formatter) => hours(p.minutes, f),
  'plan.work.note': (p: { hours: number }, f: Formatter) =>
    `At ${f.significant(p.hours, 3)} hours a day; points, ways, doors, setting up a room, one change of gown a person and area, and the reports. Starting values, to be replaced by your own.`,
  'plan.too_long': (p: { needed: number; planned: number }, f: Formatter) =>
    `${days(p.planned)} planned, ${f.decimal(p.needed, 1)} days needed with these people.`,

  'plan.pack': (_p: None) => 'Instruments to pack',
  'plan.pack.none': (p: { quantity: Quantity }) => `No instrument in use measures ${WHAT[p.quantity]}. Add one.`,
  'plan.pack.for': (p: { quantities: readonly Quantity[]; doors: number }) =>
    `for ${p.quantities.map((quantity) => (quantity === 'pressure_difference' && p.doors > 0 ? 'the pressure over doors' : WHAT[quantity])).join(', ')}`,
  'plan.pack.covered': (p: { cover: { dueOn: string } }, f: Formatter) => `in calibration until ${f.date(p.cover.dueOn)}`,
  'plan.pack.ends_inside': (p: { cover: { dueOn: string } }, f: Formatter) =>
    `its calibration ends on ${f.date(p.cover.dueOn)}, within the visit: calibrate it before, or take another one`,
  'plan.pack.ended': (p: { cover: { dueOn: string } }, f: Formatter) =>
    `its calibration ends on ${f.date(p.cover.dueOn)}, before the visit: calibrate it before, or take another one`,
  'plan.pack.no_certificate': (_p: None) => 'has no certificate for these days',
  'plan.pack.need_dates': (_p: None) => 'Give the dates, and their calibration is held against them.',

  'plan.revert': (_p: None) => 'Back to what is proposed',
  'plan.start': (_p: None) => 'Start this certification',
  'plan.started': (p: { name: string }) => `${p.name} is started.`,
  'plan.problem.missing': (_p: None) => 'This is needed. Enter it.',
  'plan.problem.no_rooms': (_p: None) => 'Choose at least one room.',
}
