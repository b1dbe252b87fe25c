import type { AirDirection, FlowWay, TerminalFace } from '#core/model/terminals.ts'
import type { Basis, Quantity } from '#core/model/values.ts'
import type { Formatter } from '#core/units/formatter.ts'

type None = Record<never, never>

const WAY: Readonly<Record<FlowWay | 'plane', string>> = {
  face_grid: 'grid over the face',
  hood: 'capture hood',
  duct_traverse: 'duct traverse',
  flow_element: 'flow element',
  plane: 'measuring plane',
}
const SHORT: Readonly<Record<FlowWay | 'plane', string>> = {
  face_grid: 'grid',
  hood: 'hood',
  duct_traverse: 'duct',
  flow_element: 'element',
  plane: 'plane',
}
const DIRECTION: Readonly<Record<AirDirection, string>> = { supply: 'supply', return: 'return', exhaust: 'exhaust' }
const FACE: Readonly<Record<TerminalFace, string>> = {
  bare: 'bare filter',
  screen: 'screen',
  swirl: 'swirl diffuser',
  louvre: 'louvre',
  grille: 'grille',
}
const WITH: Readonly<Record<Quantity, string>> = {
  velocity: 'Velocities with',
  flow: 'Flows with',
  pressure_difference: 'Pressure differences with',
  velocity_pressure: 'Velocity pressures with',
  temperature: 'Temperatures with',
  relative_humidity: 'Humidities with',
  barometric_pressure: 'Station pressure with',
}
const BASIS: Readonly<Record<Basis, string>> = { as_indicated: 'as indicated', standard: 'standard air', actual: 'actual air' }
const several = (count: number, one: string, many: string) => `${count} ${count === 1 ? one : many}`
const density = (f: Formatter, kgpm3: number) => `${f.decimal(kgpm3, 3)} kg/m³`

/** Words of measuring by each way: hood, duct, flow element, plane; of bases, of what does not suit, of doors. Codes start with "ways." */
export const ways = {
  'ways.of': (p: { of: { way: FlowWay | 'plane' } }) => WAY[p.of.way],
  'ways.short': (p: { of: { way: FlowWay | 'plane' } }) => SHORT[p.of.way],
  'ways.terminal': (p: { of: { way: FlowWay | 'plane'; direction: AirDirection } }) => `${WAY[p.of.way]}, ${DIRECTION[p.of.direction]}`,
  'ways.with': (p: { of: { quantity: Quantity } }) => WITH[p.of.quantity],
  'ways.basis': (p: { of: { basis: Basis } }) => BASIS[p.of.basis],
  'ways.unit_of': (p: { of: { quantity: Quantity } }) =>
    p.of.quantity === 'flow' ? 'Unit of flows' : p.of.quantity === 'velocity' ? 'Unit of velocities' : 'Unit of pressures',
  'ways.no_quantity': (p: { of: { quantity: Quantity } }) => `does not measure ${p.of.quantity.replaceAll('_', ' ')}`,
  'ways.none_for': (p: { of: { quantity: Quantity } }) => `No instrument of the project measures ${p.of.quantity.replaceAll('_', ' ')}.`,
  'ways.pick_for': (p: { tag: string; of: { quantity: Quantity } }) =>
    `${p.tag} is read as ${p.of.quantity.replaceAll('_', ' ')}. Choose the instrument in your hand for it.`,
  'ways.design_flow': (p: { flowM3ps: number }, f: Formatter) => `Design ${f.quantity(p.flowM3ps, 'flow')}`,
  'ways.last_flow': (p: { label: string; value: number | null }, f: Formatter) => `${p.label}: ${f.quantity(p.value, 'flow')}`,
  'ways.flow_chart': (p: { tag: string; points: number }) => `Flow of ${p.tag} over ${several(p.points, 'visit', 'visits')}`,
  'ways.range': (p: { low: string; high: string }) => `${p.low} to ${p.high}`,
  'ways.before': (p: { of: { method: 'room_airflow' | 'plane_velocity_grid' }; terminals: number; points: number; samples: number }) => {
    const what = p.of.method === 'room_airflow' ? several(p.terminals, 'terminal', 'terminals') : 'the plane of a zone'
    return `${what}, ${several(p.points, 'point', 'points')}${p.samples > 1 ? `, ${p.samples} samples each` : ''}`
  },
  'ways.carried': (p: { tag: string; reason: string }) => `${p.tag} is carried from as found: ${p.reason}`,
  'ways.carried_short': (_p: None) => 'carried',

  // ---- stages
  'ways.whole': (p: { tag: string }) => `Readings of ${p.tag}`,
  'ways.plane': (p: { tag: string; rows: number; columns: number }) =>
    `Plane of ${p.tag}: ${several(p.rows, 'row', 'rows')} ahead, ${several(p.columns, 'column', 'columns')} across`,
  'ways.duct': (p: { tag: string; lines: number; points: number; of: { shape: 'rectangle' | 'round' } }) =>
    `Section of ${p.tag}: ${several(p.lines, p.of.shape === 'round' ? 'diameter' : 'line', p.of.shape === 'round' ? 'diameters' : 'lines')}, ${several(p.points, 'point', 'points')} on each`,
  'ways.duct.seen': (p: { of: { shape: 'rectangle' | 'round' } }) =>
    p.of.shape === 'round'
      ? 'as seen looking with the air; diameters clockwise from the top, depths from the inner wall'
      : 'as seen looking with the air; lines from the left inner wall, depths from the top one',
  'ways.duct.angle': (p: { degrees: number }) => `${Number(p.degrees.toFixed(1))}°`,
  'ways.duct.line': (p: { n: number; of: { shape: 'rectangle' | 'round' } }) => `${p.of.shape === 'round' ? 'Diameter' : 'Line'} ${p.n}`,
  'ways.duct.at_wall': (p: { depth: string }) => `${p.depth} from the left`,
  'ways.duct.at_angle': (p: { degrees: number }) => `${Number(p.degrees.toFixed(1))}° from the top`,
  'ways.duct.depth': (_p: None) => 'Depth',
  'ways.duct.depth_hint': (_p: None) => 'from the inner wall at the port',
  'ways.duct.picture': (p: { size: string }) => `Inside ${p.size}`,
  'ways.duct.velocity_now': (p: { velocityMps: number; of: { basis: Basis } }, f: Formatter) =>
    `= ${f.quantity(p.velocityMps, 'velocity')}, ${BASIS[p.of.basis]}`,
  'ways.no_density': (p: { densityKgpm3: number }, f: Formatter) =>
    `No air is recorded: pressures are worked out for ${density(f, p.densityKgpm3)}.`,
  'ways.hood.factor': (p: { factor: number; of: { face: TerminalFace }; because: string }, f: Formatter) =>
    `× ${f.significant(p.factor, 6)} for a ${FACE[p.of.face]} (${p.because})`,
  'ways.hood.several': (p: { factor: number }, f: Formatter) => `× ${f.significant(p.factor, 4)}, over factors that differ`,
  'ways.hood.no_factor': (p: { of: { face: TerminalFace } }) => `No factor of this hood for a ${FACE[p.of.face]}: taken as read`,
  'ways.hood.gap': (p: { of: { face: TerminalFace }; fromM3ps: number; toM3ps: number }, f: Formatter) =>
    `No factor for a ${FACE[p.of.face]} is stated between ${f.quantity(p.fromM3ps, 'flow')} and ${f.quantity(p.toM3ps, 'flow')}. A reading there takes the factor of the nearest range, and the largest of the half widths. Let one range end where the next begins.`,
  'ways.hood.no_reading': (p: { of: { face: TerminalFace } }) => `Face: ${FACE[p.of.face]}. The factor follows from the reading.`,
  'ways.figures': (_p: None) => 'Figures so far',
  'ways.follows': (_p: None) => 'What the figure stands for',
  'ways.figure.flow': (_p: None) => 'Flow of the terminal',
  'ways.figure.design': (_p: None) => 'Design',
  'ways.figure.percent': (_p: None) => 'Of design',
  'ways.figure.within': (_p: None) => 'Points within limits',
  'ways.element.discharge': (p: { coefficient: number }) => `Discharge coefficient ${p.coefficient}`,
  'ways.element.stated': (p: { flowM3ps: number; densityKgpm3: number }, f: Formatter) =>
    `${f.quantity(p.flowM3ps, 'flow')} at 1 Pa, stated for ${density(f, p.densityKgpm3)}`,
  'ways.grid.plane': (_p: None) => 'Points of the plane',
  'ways.grid.plane_count': (p: { points: number; cells: number }) =>
    p.points === p.cells
      ? `${several(p.points, 'point', 'points')} in cells of equal size`
      : `${several(p.points, 'point', 'points')} inside the zone, of ${p.cells} cells`,
  'ways.paste.duct': (p: { tag: string }) => `Laid line by line from the port of ${p.tag}: a row of the block is a line of the duct.`,
  'ways.paste.whole': (p: { tag: string }) => `Laid one by one, ${p.tag} first, then the terminals that follow and are read alike.`,

  // ---- the three figures
  'ways.basis.title': (_p: None) => 'The same air, told three ways',
  'ways.basis.mean': (_p: None) => 'Mean velocity',
  'ways.basis.flow': (_p: None) => 'Flow',
  'ways.basis.factor': (_p: None) => 'Factor',
  'ways.basis.times': (p: { factor: number }, f: Formatter) => `× ${f.decimal(p.factor, 4)}`,
  'ways.basis.used_by': (p: { titles: string }) => `used by: ${p.titles}`,
  'ways.basis.criterion': (p: { of: { basis: Basis } }) =>
    `held against ${p.of.basis === 'as_indicated' ? 'the figure as indicated' : BASIS[p.of.basis]}`,
  'ways.basis.density': (p: { actual: number | null; instrument: number | null; standard: number | null }, f: Formatter) => {
    const parts = [
      p.actual === null ? '' : `at the filter ${density(f, p.actual)}`,
      p.instrument === null || p.instrument === p.actual ? '' : `at the instrument ${density(f, p.instrument)}`,
      p.standard === null ? '' : `standard ${density(f, p.standard)}`,
    ].filter((part) => part !== '')
    return `Density ${parts.join(', ')}.`
  },
  'ways.basis.not_known': (_p: None) => 'not known',
  'ways.basis.why_not': (_p: None) =>
    'Standard and actual figures need the air of the run, and an instrument that states which air its display speaks of.',

  // ---- what does not suit
  'ways.misfits': (_p: None) => 'What does not suit, and what is asked',
  'ways.misfits.none': (_p: None) => 'Everything suits, and nothing is asked.',
  'ways.misfits.open': (p: { stops: number; asks: number }) =>
    [
      p.stops > 0 ? `${several(p.stops, 'thing does', 'things do')} not suit` : '',
      p.asks > 0 ? several(p.asks, 'question', 'questions') : '',
    ]
      .filter((part) => part !== '')
      .join(', '),
  'ways.misfits.go_on': (_p: None) => 'Go on with a reason',
  'ways.misfits.answer': (_p: None) => 'Answer',
  'ways.misfits.change': (_p: None) => 'Change the reason',
  'ways.misfits.reason': (_p: None) => 'Why the run goes on with it',
  'ways.misfits.reply': (_p: None) => 'The answer, in words',
  'ways.misfits.save': (_p: None) => 'Keep the reason',
  'ways.misfits.close': (_p: None) => 'Close this list',
  'ways.misfits.never_stops': (_p: None) => 'Typing goes on in any case; the reason stands in the run and in the audit trail.',
  'ways.misfits.accepted': (p: { name: string; at: string; reason: string }, f: Formatter) =>
    `${p.name}, ${f.dateTime(p.at)}: “${p.reason}”`,

  // ---- doors
  'ways.doors': (_p: None) => 'Pressure over the doors',
  'ways.doors.tool': (_p: None) => 'Doors',
  'ways.doors.none': (_p: None) => 'This room has no door on the map.',
  'ways.doors.difference': (p: { first: string; second: string }) => `${p.first} above ${p.second}`,
  'ways.doors.outside': (_p: None) => 'outside',
  'ways.doors.wanted': (p: { wantedPa: number; first: string; second: string }, f: Formatter) =>
    p.wantedPa >= 0
      ? `Wanted: ${p.first} at least ${f.quantity(p.wantedPa, 'pressure')} above ${p.second} (a positive figure).`
      : `Wanted: ${p.first} at least ${f.quantity(-p.wantedPa, 'pressure')} below ${p.second} (a negative figure).`,
  'ways.doors.not_wanted': (_p: None) => 'No least difference is set for this door.',
  'ways.doors.with': (_p: None) => 'Read with',
  'ways.doors.no_instrument': (_p: None) => 'not named',
  'ways.doors.save': (_p: None) => 'Keep these pressures',
  'ways.doors.line': (p: { name: string; measuredPa: number | null; wantedPa: number | null }, f: Formatter) => {
    const measured = p.measuredPa === null ? 'not measured' : f.quantity(p.measuredPa, 'pressure')
    return `${p.name}: ${measured}${p.wantedPa === null ? '' : ` (wanted ${p.wantedPa >= 0 ? '≥' : '≤'} ${f.quantity(p.wantedPa, 'pressure')})`}`
  },
  'ways.doors.agrees': (_p: None) => 'as wanted',
  'ways.doors.short': (_p: None) => 'the right way, less than wanted',
  'ways.doors.disagrees': (_p: None) => 'the wrong way',
  'ways.doors.against_balance': (_p: None) => 'not what the balance lets expect',
  'ways.doors.both_ways': (_p: None) => 'the balance cannot tell: air goes both ways here',

  // ---- the room
  'ways.room': (p: { room: string }) => `Air of ${p.room}`,
  'ways.room.terminals': (p: { measured: number; planned: number }) => `${p.measured} of ${several(p.planned, 'terminal', 'terminals')}`,
  'ways.room.supply': (_p: None) => 'Supply',
  'ways.room.return': (_p: None) => 'Return',
  'ways.room.exhaust': (_p: None) => 'Exhaust',
  'ways.room.offset': (_p: None) => 'Offset',
  'ways.room.offset_note': (p: { percent: number | null }, f: Formatter) =>
    p.percent === null ? '' : `${f.quantity(p.percent, 'percent', { digits: 1 })} of supply`,
  'ways.room.recirculated': (p: { flow: number }, f: Formatter) => `Moved within the room, in no sum: ${f.quantity(p.flow, 'flow')}.`,
  'ways.room.so_far': (p: { missing: number }) => `so far, ${several(p.missing, 'terminal', 'terminals')} missing`,
  'ways.room.mean': (_p: None) => 'Mean velocity',
  'ways.room.within': (_p: None) => 'Points within limits',
  'ways.room.basis': (p: { of: { basis: Basis }; balance: { basis: Basis } | null }) =>
    p.balance === null || p.balance.basis === p.of.basis
      ? `Figures: ${BASIS[p.of.basis]}.`
      : `Supply to offset: ${BASIS[p.balance.basis]}; air changes: ${BASIS[p.of.basis]}.`,

  // ---- starting a run
  'ways.start.method': (_p: None) => 'What is measured',
  'ways.start.face_velocity_grid': (_p: None) => 'Face velocities of the supply filters',
  'ways.start.face_velocity_grid.about': (_p: None) => 'A grid of points under each filter: mean, spread, flow, air changes.',
  'ways.start.room_airflow': (_p: None) => 'Air flow of the whole room',
  'ways.start.room_airflow.about': (_p: None) => 'Every terminal by its own way, in and out: supply, return, exhaust, and their balance.',
  'ways.start.plane_velocity_grid': (_p: None) => 'Measuring plane of a zone',
  'ways.start.plane_velocity_grid.about': (_p: None) => 'A grid over the plane of a unidirectional zone, whatever hangs above it.',
  'ways.start.no_zone': (_p: None) => 'This room has no zone on the map.',
  'ways.start.nothing': (_p: None) => 'Nothing in this room is measured so.',
  'ways.start.proposed': (_p: None) => 'proposed for this room',
  'ways.start.zone': (_p: None) => 'Zone',
  'ways.start.rows': (_p: None) => 'Rows along the depth',
  'ways.start.columns': (_p: None) => 'Columns along the width',
  'ways.start.grid_range': (_p: None) => 'A whole number from 1 to 60.',
  'ways.start.grid_empty': (_p: None) => 'No cell has its centre inside the zone: choose more rows or columns.',
  'ways.start.grid_proposed': (p: { rows: number; columns: number }) => `Proposed: ${p.rows} × ${p.columns}`,
  'ways.start.how': (p: { terminals: number; points: number }) =>
    `What is measured how: ${several(p.terminals, 'terminal', 'terminals')}, ${several(p.points, 'point', 'points')}`,
  'ways.start.how_group': (p: { points: number; of: { way: FlowWay; direction: AirDirection } }) =>
    `${DIRECTION[p.of.direction]}, ${WAY[p.of.way]}${p.points > 1 ? `, ${p.points} points each` : ''}`,
  'ways.start.group': (p: { count: number; text: string }) => `${p.count} × ${p.text}`,
  'ways.start.closed': (_p: None) => 'closed, a recorded zero',
  'ways.start.no_way': (_p: None) => 'no duct or flow element is described: not measured',
  'ways.start.change': (_p: None) => 'Change a way on the map',

  // ---- completing
  'ways.complete.all_again': (_p: None) =>
    'As left stands for the whole room: every terminal is measured again, carried from as found with a reason, or left out with a reason.',
  'ways.complete.counts': (p: { measured: number; carried: number; excused: number; open: number }) =>
    `${p.measured} measured, ${p.carried} carried, ${p.excused} left out with a reason, ${p.open} still open`,
  'ways.complete.carry': (_p: None) => 'Carry terminals that nobody touched',
  'ways.complete.plane': (p: { zone: string; measured: number; planned: number }) =>
    `${p.zone}: ${p.measured} of ${several(p.planned, 'point', 'points')} of the plane have a reading. Say why the others are left out.`,
}
