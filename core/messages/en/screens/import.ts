import type { Unit } from '#core/model/values.ts'
import type { Formatter } from '#core/units/formatter.ts'
import { unitLabel } from '#core/units/units.ts'

type None = Record<never, never>
const several = (count: number, one: string, many: string) => `${count.toLocaleString('en')} ${count === 1 ? one : many}`
const ENCODINGS: Readonly<Record<string, string>> = {
  'utf-8': 'UTF-8',
  'utf-16le': 'UTF-16',
  'utf-16be': 'UTF-16',
  'windows-1252': 'the Western code page (Latin-1)',
}

/** Words of the screen that takes readings out of delimited files. Codes start with "import." */
export const importScreen = {
  'projects.chooser.open_delimited': (_p: None) => 'Choose a file of readings',

  'import.title': (_p: None) => 'Import readings',
  'import.into_run': (p: { room: string; phase: 'as_found' | 'as_left' }) =>
    `into ${p.room}, ${p.phase === 'as_found' ? 'as found' : 'as left'}`,
  'import.into_certification': (p: { name: string }) => `into the open runs of ${p.name}, found by the tag of the terminal`,
  'import.nowhere': (_p: None) => 'Readings belong to a run or a certification: open one, and choose “Import readings” there.',
  'import.go_to_certification': (_p: None) => 'Go to the certification',
  'import.saved_mappings': (_p: None) => 'Mappings of this project',
  'import.no_mappings': (_p: None) => 'None is saved yet. Import a file and save how it is read.',
  'import.forget_mapping': (p: { name: string }) => `Remove the mapping ${p.name}`,
  'import.forget': (_p: None) => 'Remove',
  'import.choose_file': (_p: None) => 'Choose file',
  'import.other_file': (_p: None) => 'Another file',
  'import.start': (_p: None) =>
    'Any delimited text file will do, as loggers and spreadsheets write them. Nothing is written before you have seen every row’s fate.',
  'import.looking': (_p: None) => 'Reading the first rows',
  'import.file': (p: { name: string; bytes: number; encoding: string }) =>
    `${p.name}, ${p.bytes.toLocaleString('en')} bytes, text in ${ENCODINGS[p.encoding] ?? p.encoding}`,

  'import.group.file': (_p: None) => 'The file',
  'import.group.columns': (_p: None) => 'Which column holds what',
  'import.group.rows': (_p: None) => 'For all rows',
  'import.how': (_p: None) => 'How the file is read',
  'import.mapping': (_p: None) => 'Mapping',
  'import.mapping.proposed': (_p: None) => 'proposed for this file',
  'import.mapping.fits': (_p: None) => 'made for such a file',
  'import.delimiter': (_p: None) => 'Columns are parted by',
  'import.delimiter.comma': (_p: None) => 'comma',
  'import.delimiter.semicolon': (_p: None) => 'semicolon',
  'import.delimiter.tab': (_p: None) => 'tab',
  'import.head_row': (_p: None) => 'Row of the head',
  'import.head_row_hint': (_p: None) => 'Empty where readings begin without one',
  'import.head_row_bad': (p: { rows: number }) => `Type a row from 1 to ${p.rows}, or nothing.`,
  'import.decimal': (_p: None) => 'Decimal sign',
  'import.decimal.point': (_p: None) => 'point',
  'import.decimal.comma': (_p: None) => 'comma',
  'import.decimal.any': (_p: None) => 'either, if clear',
  'import.column.value': (_p: None) => 'Value',
  'import.column.terminal': (_p: None) => 'Tag of the terminal',
  'import.column.point': (_p: None) => 'Point',
  'import.column.sample': (_p: None) => 'Sample',
  'import.column.unit': (_p: None) => 'Unit in each row',
  'import.column.quantity': (_p: None) => 'Quantity',
  'import.column.date': (_p: None) => 'Date, if apart from the time',
  'import.column.time': (_p: None) => 'Time',
  'import.column.instrument': (_p: None) => 'Serial number',
  'import.column.tag_needed': (_p: None) => 'Rows for a whole certification have to name the terminal.',
  'import.column.none': (_p: None) => 'in no column',
  'import.column.named': (p: { column: number; head: string }) => (p.head === '' ? `column ${p.column}` : `${p.column} · ${p.head}`),
  'import.unit': (_p: None) => 'Unit of the values',
  'import.unit.open': (_p: None) => 'as the head or the run says',
  'import.time_format': (_p: None) => 'Times are written as',
  'import.time_format_choose': (_p: None) => 'Day and month cannot be told apart here. Choose which comes first.',
  'import.time_format_pick': (_p: None) => 'Choose',
  'import.time_format_iso': (_p: None) => 'yyyy-MM-dd HH:mm:ss',
  'import.time_format_named': (p: { format: string }) => p.format,
  'import.time_format_read': (p: { at: string }, f: Formatter) => f.dateTime(p.at),
  'import.time_format_other': (_p: None) => 'another way',
  'import.time_format_typed': (_p: None) => 'Letters for its parts',
  'import.time_format_hint': (_p: None) =>
    'dd day, MM month, yyyy year, HH hours, mm minutes, ss seconds; in the zone of the site. Empty for 2026-03-02 08:15:00',
  'import.instrument': (_p: None) => 'Instrument of rows that name none',
  'import.instrument.pick': (_p: None) => 'Choose the instrument',
  'import.instrument.needed': (_p: None) => 'Choose the instrument that was used: no column of this file names one.',
  'import.first_point': (_p: None) => 'The first value belongs to point',
  'import.first_point_hint': (_p: None) => 'Empty for the first point without a reading',
  'import.sweep': (_p: None) =>
    'No column says where a value was taken, so the values are laid onto the points in the order of the sweep, all samples of a point before the next one. Look at the face before you keep them.',
  'import.mapping.name': (_p: None) => 'Name of this mapping',
  'import.mapping.save': (_p: None) => 'Save mapping',
  'import.mapping.update': (_p: None) => 'Save changes to it',
  'import.mapping.saved': (p: { name: string }) => `The mapping ${p.name} is saved, and offered when such a file comes again.`,

  'import.first_rows': (_p: None) => 'First rows of the file',
  'import.row': (_p: None) => 'Row',
  'import.checking': (_p: None) => 'Looking at every row',
  'import.check_stopped': (_p: None) => 'Stopped before every row was looked at.',
  'import.check_again': (_p: None) => 'Look at every row',
  'import.stop': (_p: None) => 'Stop',
  'import.verdict': (p: { rows: number; readings: number; problemRows: number }) =>
    p.problemRows === 0
      ? `${several(p.rows, 'row becomes a reading', 'rows become readings')}.`
      : `${several(p.problemRows, 'row has a problem', 'rows have a problem')}, out of ${p.rows.toLocaleString('en')}. Nothing is imported while one is left.`,
  'import.flagged': (p: { readings: number; flag: string }) =>
    `${several(p.readings, 'reading', 'readings')} will carry the mark “${p.flag}”.`,
  'import.hash_only': (_p: None) =>
    'The file is larger than an attachment may be: its hash is kept, and the file itself has to be kept by you.',
  'import.earlier': (p: { name: string; at: string; person: string }, f: Formatter) =>
    `This very file was imported on ${f.dateTime(p.at)}${p.person === '' ? '' : ` by ${p.person}`}, as ${p.name}.`,
  'import.again': (_p: None) => 'Import it once more all the same',
  'import.problems_title': (p: { shown: number; all: number }) =>
    p.shown === p.all ? 'Problems' : `Problems, the first ${p.shown} of ${p.all}`,
  'import.problem_at': (p: { row: number; column: number | null }) =>
    p.column === null ? `Row ${p.row}` : `Row ${p.row}, column ${p.column}`,
  'import.rows_title': (p: { shown: number; all: number }) =>
    p.shown === p.all
      ? 'Readings as they would be kept'
      : `Readings as they would be kept, the first ${p.shown.toLocaleString('en')} of ${p.all.toLocaleString('en')}`,
  'import.reading_row': (p: { row: number; tag: string; point: number; sample: number }) =>
    `Row ${p.row}: ${p.tag === '' ? '' : `${p.tag}, `}point ${p.point}${p.sample > 1 ? `, sample ${p.sample}` : ''}`,
  'import.reading_value': (p: { typed: string; unit: Unit }) => (/[a-z/]/i.test(p.typed) ? p.typed : `${p.typed} ${unitLabel(p.unit)}`),
  'import.reading_at': (p: { at: string }, f: Formatter) => f.dateTime(p.at),
  'import.face_title': (p: { tag: string }) => `On the face of ${p.tag}`,
  'import.face_of': (_p: None) => 'Terminal',
  'import.do': (p: { readings: number }) => `Import ${several(p.readings, 'reading', 'readings')}`,
  'import.writing': (_p: None) => 'Importing',
  'import.back_to_mapping': (_p: None) => 'Back to the mapping',
  'import.cancelled': (_p: None) => 'Stopped. Nothing was imported.',
  'import.done': (p: { readings: number; runs: number }) =>
    `${several(p.readings, 'reading is', 'readings are')} in ${several(p.runs, 'run', 'runs')} now, as one step that can be undone.`,
  'import.undo': (_p: None) => 'Undo the import',
  'import.to_run': (_p: None) => 'Back to the readings',
  'import.to_certification': (_p: None) => 'Back to the certification',
}
