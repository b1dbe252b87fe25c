import type { Phase, PlainDate } from '#core/model/values.ts'
import type { Formatter } from '#core/units/formatter.ts'
import { PHASE } from '../states.ts'

type None = Record<never, never>

const COMPASS = ['north', 'north-east', 'east', 'south-east', 'south', 'south-west', 'west', 'north-west'] as const
const WANTING = { person: 'say who measures', instrument: 'choose an instrument', cautions: 'read the cautions' } as const
const several = (count: number, one: string, many: string) => `${count} ${count === 1 ? one : many}`

/** Words of the readings screen. Codes start with "readings." */
export const readings = {
  'readings.loading': (_p: None) => 'Laying out the run',
  'readings.title': (p: { room: string; phase: Phase }) => `${p.room}, ${PHASE[p.phase]}`,
  'readings.no_filters': (_p: None) => 'This run has no filter to measure.',
  'readings.no_filters_hint': (_p: None) =>
    'Place supply filters on the room map, then start the run again: a run keeps the filters that were there when it began.',
  'readings.to_map': (_p: None) => 'Room map',
  'readings.to_complete': (_p: None) => 'Complete this run in the certification',

  // ---- the face
  'readings.face': (p: { tag: string; rows: number; columns: number }) =>
    `Face of ${p.tag}: ${several(p.rows, 'row', 'rows')} ahead, ${several(p.columns, 'column', 'columns')} across`,
  'readings.facing': (p: { eighth: number }) => `you face ${COMPASS[p.eighth] ?? 'north'}`,
  'readings.facing_wall': (_p: None) => 'the wall as you face it from the room',
  'readings.north': (_p: None) => 'N',
  'readings.north_name': (p: { degrees: number }) => `North lies ${Math.round(p.degrees)} degrees clockwise from straight ahead`,
  'readings.turn_left': (_p: None) => 'I turned left',
  'readings.turn_right': (_p: None) => 'I turned right',
  'readings.cell.point': (_p: None) => 'Point',
  'readings.cell.empty': (_p: None) => 'no reading yet',
  'readings.cell.current': (_p: None) => 'typing goes here',
  'readings.sample_of': (p: { sample: number; samples: number }) => `sample ${p.sample} of ${p.samples}`,
  'readings.samples_taken': (p: { taken: number; samples: number }) => `${p.taken} of ${p.samples}`,

  // ---- states of a number
  'readings.state.typing': (_p: None) => 'typed, press Enter',
  'readings.state.waiting': (_p: None) => 'not yet sent',
  'readings.state.saving': (_p: None) => 'saving',
  'readings.state.saved': (_p: None) => 'saved',
  'readings.state.refused': (_p: None) => 'not saved',
  'readings.flag.questioned': (_p: None) => 'questioned',
  'readings.flag.below_range': (_p: None) => 'below range',
  'readings.flag.above_range': (_p: None) => 'above range',
  'readings.flag.reverse_flow': (_p: None) => 'reverse flow',
  'readings.flag.short_averaging': (_p: None) => 'averaged too short',
  'readings.flag.past_due': (_p: None) => 'instrument past due',
  'readings.flag.carried': (_p: None) => 'carried from as found',
  'readings.below_limit': (p: { limit: string }) => `below ${p.limit}`,
  'readings.above_limit': (p: { limit: string }) => `above ${p.limit}`,
  'readings.has_note': (_p: None) => 'with a note',

  // ---- the air
  'readings.air.title': (_p: None) => 'The air of this run',
  'readings.air.at_filter': (_p: None) => 'Air at the filter',
  'readings.air.at_instrument': (_p: None) => 'Air at the instrument',
  'readings.air.instrument_elsewhere': (_p: None) => 'The instrument stands in other air',
  'readings.air.temperature': (_p: None) => 'Temperature',
  'readings.air.relativeHumidity': (_p: None) => 'Relative humidity',
  'readings.air.pressure': (_p: None) => 'Station pressure',
  'readings.air.density': (p: { densityKgpm3: number; from: 'measured' | 'altitude'; pressurePa: number }, f: Formatter) =>
    p.from === 'measured'
      ? `Density ${f.decimal(p.densityKgpm3, 3)} kg/m³.`
      : `Density ${f.decimal(p.densityKgpm3, 3)} kg/m³, with ${f.quantity(p.pressurePa, 'pressure', { unit: 'hPa' })} by the altitude of the site.`,
  'readings.air.none': (_p: None) =>
    'Without temperature and station pressure nothing is converted: a criterion on air that the instrument does not show reads not tested.',
  'readings.air.none_at_altitude': (_p: None) =>
    'Without a temperature nothing is converted: a criterion on air that the instrument does not show reads not tested. The pressure can be taken from the altitude of the site.',
  'readings.air.no_pressure': (_p: None) => 'Station pressure is missing, and the site has no altitude to take it from.',
  'readings.air.save': (_p: None) => 'Save the air',
  'readings.air.line': (p: { temperatureC: number; pressurePa: number; densityKgpm3: number }, f: Formatter) =>
    `${f.quantity(p.temperatureC, 'temperature')}, ${f.quantity(p.pressurePa, 'pressure', { unit: 'hPa' })}, ${f.decimal(p.densityKgpm3, 3)} kg/m³`,
  'readings.air.line_none': (_p: None) => 'No air recorded',
  'readings.air.optional': (_p: None) => 'May also be recorded later, from the head of the readings screen.',

  // ---- entry
  'readings.now': (p: { tag: string; order: number; points: number }) => `${p.tag}, point ${p.order} of ${p.points}`,
  'readings.type_here': (_p: None) => 'Type the figure, then Enter',
  'readings.all_passed': (_p: None) => 'Every point has its reading.',
  'readings.some_passed': (p: { missing: number }) =>
    `The last point is done. ${several(p.missing, 'point was', 'points were')} left out on the way.`,
  'readings.all_passed_hint': (_p: None) => 'Move to a point to correct it.',
  'readings.go_to_missing': (_p: None) => 'Go to the first one',
  'readings.was': (p: { value: string }) => `was ${p.value}; a new figure voids and replaces it`,
  'readings.last_typed': (p: { where: string; value: string }) => `Last: ${p.value}${p.where ? ` at ${p.where}` : ''}.`,
  'readings.last_asked': (p: { where: string }) => `At ${p.where}:`,
  'readings.last_where': (p: { tag: string; here: boolean; order: number; points: number; sample: number; samples: number }) =>
    [p.here ? '' : p.tag, p.points > 1 ? `point ${p.order}` : '', p.samples > 1 ? `sample ${p.sample}` : '']
      .filter((part) => part !== '')
      .join(', '),
  'readings.next_sample': (p: { sample: number; samples: number }) => `next: sample ${p.sample} of ${p.samples}`,
  'readings.next_point': (p: { order: number }) => `next: point ${p.order}`,
  'readings.next_filter': (p: { tag: string; where: string }) => `next: ${p.tag}${p.where ? `, ${p.where}` : ''}`,
  'readings.next_none': (_p: None) => 'last point of the run',
  'readings.where': (p: { across: number; ahead: number; distanceM: number }, f: Formatter) => {
    const parts = [
      p.ahead > 0 ? 'ahead' : p.ahead < 0 ? 'behind you' : '',
      p.across > 0 ? 'to the right' : p.across < 0 ? 'to the left' : '',
    ].filter((part) => part !== '')
    return parts.length === 0 ? '' : `${f.quantity(p.distanceM, 'length', { digits: 1 })} ${parts.join(' and ')}`
  },
  'readings.where_wall': (_p: None) => 'on the wall',
  'readings.repeating': (p: { tag: string }) => `Measuring ${p.tag} again from its first point`,
  'readings.cannot_change': (_p: None) => 'Pick who is working first; a file open for reading only takes no readings.',
  'readings.run_not_open': (_p: None) =>
    'This run is complete, so its readings stand. Reopen it in the certification, with a reason, to change one.',
  'readings.no_instrument': (_p: None) => 'Choose the instrument first: a reading without one could not be traced.',
  'readings.announce': (p: { tag: string; order: number; last: string }) => `${p.last} Now ${p.tag}, point ${p.order}.`,

  // ---- the queue
  'readings.queue.saved': (_p: None) => 'All saved',
  'readings.queue.waiting': (p: { count: number }) => `${several(p.count, 'figure', 'figures')} on the way`,
  'readings.queue.stalled': (p: { count: number }) =>
    `${several(p.count, 'figure waits', 'figures wait')} here until the connection is back. Keep typing; nothing is lost.`,
  'readings.queue.refused': (p: { count: number }) => `${several(p.count, 'figure was', 'figures were')} not saved`,
  'readings.queue.refused_at': (p: { tag: string; order: number; value: string; why: string }) =>
    `${p.tag}, point ${p.order}: ${p.value}. ${p.why}`,
  'readings.queue.refused_step': (p: { why: string }) => `Undo or redo: ${p.why}`,
  'readings.queue.reason': (_p: None) => 'Why is it changed?',
  'readings.queue.retry': (_p: None) => 'Send again',
  'readings.queue.give_up': (_p: None) => 'Give up this figure',

  'readings.stale': (p: { count: number }) =>
    `${several(p.count, 'thing', 'things')} that this run uses changed since it began (a size, a limit, an instrument, a certificate). The run keeps what it began with.`,
  'readings.refresh': (_p: None) => 'Take over the changes',

  // ---- live figures
  'readings.figure.mean': (_p: None) => 'Mean',
  'readings.figure.spread': (_p: None) => 'Spread (RSD)',
  'readings.figure.deviation': (_p: None) => 'Largest deviation',
  'readings.figure.flow': (_p: None) => 'Flow',
  'readings.figure.at_point': (p: { order: number }) => `at point ${p.order}`,
  'readings.figure.provisional': (_p: None) => 'provisional',
  'readings.figure.settled': (_p: None) => 'as saved',
  'readings.figure.provisional_hint': (_p: None) =>
    'Worked out on this screen from what is typed; the project confirms it once everything is saved.',
  'readings.figure.design': (p: { percent: number }, f: Formatter) => `${f.number(p.percent, 'percent', { digits: 0 })} % of design`,
  'readings.figure.no_verdict': (_p: None) => 'Not computed here yet',

  // ---- tools
  'readings.tool.undo': (_p: None) => 'Undo',
  'readings.tool.redo': (_p: None) => 'Redo',
  'readings.tool.note': (_p: None) => 'Note',
  'readings.tool.repeat': (_p: None) => 'Measure again',
  'readings.tool.file': (_p: None) => 'From a file',
  'readings.tool.keypad': (_p: None) => 'Number keys',
  'readings.tool.paste': (_p: None) => 'Paste',
  'readings.tool.instrument': (_p: None) => 'Instrument',
  'readings.unit': (_p: None) => 'Unit of this run',
  'readings.tools': (_p: None) => 'Tools of this run',
  'readings.key.enter': (_p: None) => 'Enter',
  'readings.key.erase': (_p: None) => 'Erase the last digit',
  'readings.key.pad': (_p: None) => 'Number keys',

  // ---- strip and map
  'readings.strip': (_p: None) => 'Filters of this run, in the order they are walked',
  'readings.strip.progress': (p: { filled: number; places: number }) => `${p.filled}/${p.places}`,
  'readings.map': (p: { room: string }) => `Filters of ${p.room}, turned the way you face`,

  // ---- note
  'readings.note.title': (p: { tag: string; order: number }) => `Note on ${p.tag}, point ${p.order}`,
  'readings.note.label': (_p: None) => 'What should one know of this reading?',
  'readings.note.hint_stored': (_p: None) => 'The reading is recorded again with its note; the one without it is kept, voided.',
  'readings.note.hint_next': (_p: None) => 'Goes with the figure that is typed here next.',
  'readings.note.save': (_p: None) => 'Keep the note',
  'readings.note.reason': (_p: None) => 'Note added',

  // ---- measuring points
  'readings.tool.grid': (_p: None) => 'Points',
  'readings.grid.title': (p: { tag: string }) => `Measuring points of ${p.tag}`,
  'readings.grid.rows': (_p: None) => 'Rows',
  'readings.grid.columns': (_p: None) => 'Columns',
  'readings.grid.range': (_p: None) => 'A whole number from 1 to 40.',
  'readings.grid.points': (p: { points: number }) => `${several(p.points, 'point', 'points')} in cells of equal size`,
  'readings.grid.proposed': (p: { rows: number; columns: number }) => `Proposed for this face: ${p.rows} × ${p.columns}`,
  'readings.grid.orientation': (_p: None) => 'Rows lie along the depth of the face, columns along its width, however you stand.',
  'readings.grid.has_readings': (_p: None) =>
    'This filter has readings on the points it has now. Undo those first to lay out other points.',
  'readings.grid.plane_has_readings': (_p: None) =>
    'The plane has readings on the points it has now. Undo those first to lay out other points.',
  'readings.grid.all': (p: { count: number }) =>
    `Also for ${several(p.count, 'other filter', 'other filters')} of this size without readings`,
  'readings.grid.save': (_p: None) => 'Lay out these points',

  // ---- paste
  'readings.paste.title': (p: { count: number }) => `Paste ${several(p.count, 'figure', 'figures')}`,
  'readings.paste.how': (_p: None) => 'Copy a block of cells in a spreadsheet and press Ctrl+V here, or put it into this field.',
  'readings.paste.field': (_p: None) => 'Block of figures',
  'readings.paste.lay': (p: { tag: string }) => `Laid row by row onto the face of ${p.tag} as it is turned now.`,
  'readings.paste.more': (p: { filters: number }) => `Goes on over ${several(p.filters, 'more filter', 'more filters')} in path order.`,
  'readings.paste.other_shape': (_p: None) => 'The block has rows of another length than this face. Look at the face before you save.',
  'readings.paste.left_over': (p: { count: number }) =>
    `${several(p.count, 'figure has', 'figures have')} no point left and will not be saved.`,
  'readings.paste.replaces': (p: { count: number }) => `${several(p.count, 'reading', 'readings')} will be voided and replaced.`,
  'readings.paste.problems': (p: { count: number }) =>
    `${several(p.count, 'cell is', 'cells are')} no figure that can be taken. Correct the block and paste again.`,
  'readings.paste.problem_at': (p: { typed: string; why: string }) => `“${p.typed}”: ${p.why}`,
  'readings.paste.questioned': (p: { count: number }) => `${several(p.count, 'figure looks', 'figures look')} odd; marked on the face.`,
  'readings.paste.save': (_p: None) => 'Save these readings',
  'readings.paste.reason': (_p: None) => 'Pasted as a block',

  // ---- before the first reading
  'readings.before.title': (_p: None) => 'Before the first reading',
  'readings.before.who': (_p: None) => 'Who measures',
  'readings.before.with': (_p: None) => 'With which instrument',
  'readings.before.cautions': (_p: None) => 'Cautions',
  'readings.before.read_all': (p: { name: string }) => `I, ${p.name}, have read these cautions`,
  'readings.before.start': (_p: None) => 'Start measuring',
  'readings.before.wanting': (p: { of: readonly ('person' | 'instrument' | 'cautions')[] }) =>
    `Still to do: ${p.of.map((part) => WANTING[part]).join(', ')}.`,
  'readings.before.pick_person': (_p: None) => 'Pick a person first.',
  'readings.before.no_instrument': (_p: None) => 'No instrument is recorded yet.',
  'readings.before.add_instrument': (_p: None) => 'Record an instrument',
  'readings.before.filters': (p: { filters: number; points: number; samples: number }) =>
    `${several(p.filters, 'filter', 'filters')}, ${several(p.points, 'point', 'points')}${p.samples > 1 ? `, ${p.samples} samples each` : ''}`,
  'readings.before.plane_face': (p: { distanceM: number }, f: Formatter) =>
    `at the filter face, ${f.quantity(p.distanceM, 'length')} below it`,
  'readings.before.plane_height': (p: { heightM: number }, f: Formatter) =>
    `at working height, ${f.quantity(p.heightM, 'length')} above the floor`,
  'readings.before.averaging': (p: { seconds: number }, f: Formatter) => `${f.quantity(p.seconds, 'duration')} averaging at each point`,

  // ---- instruments
  'readings.instrument.due': (p: { dueOn: PlainDate }, f: Formatter) => `in calibration until ${f.date(p.dueOn)}`,
  'readings.instrument.overdue': (p: { dueOn: PlainDate }, f: Formatter) => `calibration was due ${f.date(p.dueOn)}`,
  'readings.instrument.no_certificate': (_p: None) => 'no calibration certificate',
  'readings.instrument.directional': (_p: None) => 'directional',
  'readings.instrument.omnidirectional': (_p: None) => 'omnidirectional',
  'readings.instrument.averaging': (p: { seconds: number }, f: Formatter) => `averages ${f.quantity(p.seconds, 'duration')}`,
  'readings.instrument.serial': (p: { serial: string }) => `no. ${p.serial}`,
  'readings.fit.past_due': (p: { name: string; dueOn: PlainDate }, f: Formatter) =>
    `${p.name} was due for calibration on ${f.date(p.dueOn)}. Readings are kept, but their verdicts read not valid until a later certificate or a numbered deviation releases them.`,
  'readings.fit.no_certificate': (p: { name: string }) =>
    `${p.name} has no calibration certificate that covers today. Readings are kept, but their verdicts read not valid.`,
  'readings.fit.averaging': (p: { name: string; hasS: number; needS: number }, f: Formatter) =>
    `${p.name} averages over ${f.quantity(p.hasS, 'duration')}; this run asks for ${f.quantity(p.needS, 'duration')} at each point.`,

  // ---- why panel
  'readings.why.criteria': (_p: None) => 'Held against',
  'readings.why.no_criteria': (_p: None) => 'No criterion is applied to this filter.',
  'readings.why.bar': (p: { value: string; limits: string }) => `${p.value} against ${p.limits}`,
  'readings.why.against': (p: { limits: string }) => `against ${p.limits}`,
  'readings.why.at_least': (p: { low: string }) => `at least ${p.low}`,
  'readings.why.at_most': (p: { high: string }) => `at most ${p.high}`,
  'readings.why.between': (p: { low: string; high: string }) => `${p.low} to ${p.high}`,
  'readings.why.history': (_p: None) => 'Earlier years',
  'readings.why.no_history': (_p: None) => 'Not measured before.',
  'readings.why.last_year': (p: { label: string; value: number | null }, f: Formatter) => `${p.label}: ${f.quantity(p.value, 'velocity')}`,
  'readings.why.since': (p: { percent: number }, f: Formatter) =>
    `${p.percent > 0 ? '+' : ''}${f.number(p.percent, 'percent', { digits: 1 })} % since then`,
  'readings.why.history_chart': (p: { tag: string; points: number }) =>
    `Mean face velocity of ${p.tag} over ${several(p.points, 'visit', 'visits')}`,
  'readings.why.readings': (_p: None) => 'Readings',
  'readings.why.none_yet': (_p: None) => 'No reading yet.',
  'readings.why.col.point': (_p: None) => 'Point',
  'readings.why.col.typed': (_p: None) => 'Typed',
  'readings.why.col.who': (_p: None) => 'Who, when',
  'readings.why.voided': (p: { reason: string }) => `voided${p.reason ? `: ${p.reason}` : ''}`,
  'readings.why.voided_count': (p: { count: number }) => several(p.count, 'repeat, voided', 'repeats, voided'),
  'readings.why.note': (p: { note: string }) => `“${p.note}”`,
  'readings.why.element': (p: { serial: string; installedOn: PlainDate }, f: Formatter) =>
    `Filter ${p.serial}, in place since ${f.date(p.installedOn)}`,
  'readings.why.area': (p: { areaM2: number }, f: Formatter) => `Effective area ${f.quantity(p.areaM2, 'area')}`,
  'readings.why.design': (p: { designMps: number }, f: Formatter) => `Design ${f.quantity(p.designMps, 'velocity')}`,
}
