import type { Quantity, Unit } from '#core/model/values.ts'
import type { Formatter } from '#core/units/formatter.ts'
import { unitLabel } from '#core/units/units.ts'
import { wordsOf } from '../words.ts'

type None = Record<never, never>
const named = (quantity: Quantity) => wordsOf(quantity)
const several = (count: number, one: string, many: string) => `${count} ${count === 1 ? one : many}`
const of = (points: number, samples: number) =>
  samples === 1
    ? several(points, 'point has its value', 'points have their value')
    : `${several(points, 'point has', 'points have')} all ${samples} samples`

/** What keeps a row of a delimited file from becoming a reading, and what keeps a whole file from being imported. */
export const imports = {
  'import.no_value': (_p: None) => 'There is no value in this row.',
  'import.other_decimal': (p: { typed: string; decimal: 'point' | 'comma' }) =>
    `“${p.typed}” does not use the decimal ${p.decimal} that was chosen for this file. Correct the file or choose the other sign.`,
  'import.not_whole': (p: { text: string }) => (p.text === '' ? 'A number is missing here.' : `“${p.text}” is no whole number.`),
  'import.no_tag': (_p: None) => 'The tag of the terminal is missing here.',
  'import.unknown_tag': (p: { tag: string }) =>
    `No open run here measures a terminal with the tag “${p.tag}”. Correct the tag, or start the run of its room first.`,
  'import.tag_twice': (p: { tag: string }) =>
    `Several open runs, or several terminals of one, have the tag “${p.tag}”. Import into one run, or complete the other one first.`,
  'import.no_such_point': (p: { point: number; tag: string | null; most: number }) =>
    p.tag === null
      ? `The run has no point ${p.point} now; it has ${several(p.most, 'point', 'points')}.`
      : `${p.tag} has no point ${p.point}; it has ${several(p.most, 'point', 'points')}.`,
  'import.no_such_sample': (p: { sample: number; most: number }) => `There is no sample ${p.sample}: this run takes ${p.most} per point.`,
  'import.terminal_full': (p: { tag: string; points: number; samples: number }) =>
    `${p.tag} is full: ${of(p.points, p.samples)}. This value is one too many.`,
  'import.no_point_left': (p: { points: number; samples: number }) =>
    `No point is left for this value: ${of(p.points, p.samples)} or a reading already. Take the values that are too many out of the file.`,
  'import.has_reading': (p: { tag: string | null; point: number; sample: number }) =>
    `${p.tag === null ? 'Point' : `${p.tag}, point`} ${p.point}, sample ${p.sample} has a reading in the run already. Void it first, or take this row out of the file.`,
  'import.same_place': (p: { tag: string | null; point: number; sample: number; row: number }) =>
    `Row ${p.row} is for the same place: ${p.tag === null ? '' : `${p.tag}, `}point ${p.point}, sample ${p.sample}. Take one of the two out of the file.`,
  'import.unknown_quantity': (p: { text: string }) => `“${p.text}” is no quantity that the program knows, such as velocity or flow.`,
  'import.other_quantity': (p: { given: Quantity; measured: Quantity }) =>
    `This row holds ${named(p.given)}, but ${named(p.measured)} is measured at this point.`,
  'import.unknown_unit': (p: { text: string }) => `“${p.text}” is no unit that the program knows.`,
  'import.other_unit': (p: { unit: Unit; measured: Quantity }) =>
    `${unitLabel(p.unit)} is no unit of ${named(p.measured)}, which is measured at this point.`,
  'import.no_unit': (p: { quantity: Quantity }) =>
    `Nothing says in which unit this ${named(p.quantity)} is. Choose the unit for this file.`,
  'import.no_time': (p: { text: string; format: string }) =>
    p.text.trim() === ''
      ? 'The time is missing here.'
      : `“${p.text}” cannot be read as a time${p.format === '' ? ' such as 2026-03-02 08:15:00' : ` written as ${p.format}`}. Choose how this file writes its times.`,
  'import.time_not_chosen': (p: { text: string }) =>
    `Day and month cannot be told apart in “${p.text}” and the times after it. Choose how this file writes its times: dd for the day, MM for the month.`,
  'import.time_ahead': (p: { text: string }) =>
    `${p.text} has not come yet. Look at the order of day and month, and at the logger’s clock.`,
  'import.no_day': (p: { text: string }) => `“${p.text}” does not say of which day it is. Say which column holds the date.`,
  'import.time_otherwise': (p: { text: string; row: number }) =>
    `“${p.text}” is written in another way than the time of row ${p.row}: one of them names a time zone, or only a day. Such rows cannot be put in order of time; correct the file.`,
  'import.time_twice': (_p: None) =>
    'The clocks of the site were put back in this hour, which came twice. The rows of this file are not in order, and their times cannot put them in one. Sort the file as it was measured.',
  'import.no_instrument': (_p: None) => 'No instrument is named in this row, and none is chosen for the file.',
  'import.unknown_instrument': (p: { serial: string }) => `The project has no instrument in use with the serial number “${p.serial}”.`,

  'import.fewer_values': (p: { places: number }) =>
    p.places === 1
      ? 'One place at the end of the run stays without a value.'
      : `${p.places} places at the end of the run stay without a value.`,
  'import.not_in_order': (p: { row: number; sameTime: number | null }) =>
    `The rows of this file are not in order of time: row ${p.row} is earlier than one before it. They were laid onto the points in order of their times.${
      p.sameTime === null
        ? ''
        : ` Rows of one time stay as the file has them, the first of them row ${p.sameTime}: look whether they lie rightly.`
    }`,
  'import.file_empty': (p: { name: string }) => `${p.name} holds no row with anything in it. Choose another file.`,
  'import.no_rows': (p: { name: string }) => `${p.name} has no row of readings below its head. Say in which row the head stands.`,
  'import.other_head': (p: { name: string; mapping: string }) =>
    `${p.name} does not have the head that the mapping “${p.mapping}” was made for. Choose another mapping, or map the columns again.`,
  'import.unreadable': (p: { name: string; detail: string; row: number }) =>
    `${p.name} cannot be taken apart into rows and columns at row ${p.row}: ${p.detail}.`,
  'import.tag_needed': (_p: None) =>
    'Rows for a whole certification have to name the terminal by its tag. Say which column holds it, or import into one run.',
  'import.no_open_run': (_p: None) => 'There is no open run here to import into. Start one, or reopen one with a reason.',
  'import.problems': (p: { problems: number; rows: number }) =>
    `Nothing was imported: ${several(p.problems, 'row has a problem', 'rows have a problem')} out of ${p.rows}. Look at the list, then import again.`,
  'import.twice': (p: { name: string; at: string }, f: Formatter) =>
    `The same file was imported on ${f.dateTime(p.at)}${p.name === '' ? '' : ` as ${p.name}`}. Nothing was written; say so if it shall be imported once more.`,
  'import.file_changed': (p: { name: string }) =>
    `${p.name} was changed since its rows were looked at. Nothing was imported; look at the preview of what it says now.`,
  'import.not_text': (p: { name: string }) =>
    `${p.name} is no text file. Save it as delimited text (CSV) from the program that made it, and choose that file.`,
  'import.endless_row': (p: { name: string; row: number }) =>
    `Row ${p.row} of ${p.name} does not end: most likely a quotation mark in it is never closed. Correct the file, then choose it again.`,
  'import.changed_meanwhile': (_p: None) =>
    'Something was recorded or changed in these runs while the file was read. Nothing was imported; look at the preview once more.',
}
