import type { Hazard } from '#core/model/places.ts'
import type { Terminal, TerminalKind } from '#core/model/terminals.ts'
import type { CleanlinessClass } from '#core/model/values.ts'
import type { Formatter } from '#core/units/formatter.ts'
import { KIND } from './terminal-words.ts'

/** Words of the room editor, part of the map's. Codes of the model travel inside `of`. */
type None = Record<never, never>

const MOUNTING: Readonly<Record<Terminal['mounting'], string>> = { ceiling: 'in the ceiling', wall: 'in a wall', duct: 'in a duct' }
const FACE: Readonly<Record<Terminal['face'], string>> = {
  bare: 'bare filter',
  screen: 'perforated screen',
  swirl: 'swirl diffuser',
  louvre: 'louvred diffuser',
  grille: 'wall grille',
}
const AIR_SOURCE: Readonly<Record<Terminal['airSource'], string>> = {
  air_handler: 'air handler',
  recirculated: 'recirculated from this room',
  shared_plenum: 'shared plenum',
  device: 'device',
}
const AIR_GOES: Readonly<Record<Terminal['airSource'], string>> = {
  air_handler: 'air handler',
  recirculated: 'recirculated within this room',
  shared_plenum: 'shared plenum',
  device: 'device in this room',
}
const HAZARD: Readonly<Record<Hazard, string>> = {
  sterile: 'sterile work',
  hazardous_drug: 'hazardous drugs',
  biological: 'biological agents',
  aerosol: 'test aerosol',
}
const ALIGN = {
  left: 'Left edges',
  centre: 'Centres across',
  right: 'Right edges',
  top: 'Far edges',
  middle: 'Centres up',
  bottom: 'Near edges',
}
const PATH = {
  rows: 'row by row, from the left',
  rows_there_and_back: 'row by row, there and back',
  columns: 'column by column, from the far end',
  columns_there_and_back: 'column by column, there and back',
}
const TOOL = { select: 'Select', place: 'Place', zone: 'Zone', door: 'Door', walls: 'Pull walls', outline: 'Draw outline' }
/** The steps of the arrow keys, in the reader's lengths. */
const NUDGE = { m: { fine: '1 cm', coarse: '10 cm' }, ft: { fine: '1 inch', coarse: '6 inches' } }
const TOOL_HINT = {
  select: 'Drag filters to move them, drag over the floor to select several.',
  place: 'Click where the centre of the next filter belongs. It is made like the selected one.',
  zone: 'Drag a rectangle over the unidirectional area. Filters inside join it.',
  door: 'Click on the wall where the door belongs.',
  walls: 'Drag a wall outwards or inwards; in a free outline drag its corners too. Hold Alt for a place between the steps.',
  outline: 'Click the corners one after the other; click the first again or press Enter to close. Escape gives up.',
}
const SIDE = { width: 'Width', depth: 'Depth', x: 'Left edge at', y: 'Near edge at' }
const ARRAY_FIELD = { columnPitch: 'Pitch across', rowPitch: 'Pitch down', x: 'First centre, x', y: 'First centre, y' }
const LIMIT = { limit: 'Limit', low: 'Low limit', high: 'High limit', percent: 'Percent' }

function wallSide(to: { x: number; y: number }): string {
  if (Math.abs(to.x) >= Math.abs(to.y)) return to.x > 0 ? 'right' : 'left'
  return to.y > 0 ? 'far' : 'near'
}

export const mapEditor = {
  'map.field.empty': (_p: None) => 'Something belongs here.',
  'map.field.number': (p: { least: number | null; most: number | null; whole: boolean }) => {
    const what = p.whole ? 'a whole number' : 'a number'
    if (p.least !== null && p.most !== null) return `Enter ${what} from ${p.least} to ${p.most}.`
    return p.least !== null ? `Enter ${what} above ${p.least}.` : `Enter ${what}.`
  },
  'map.room.number_taken': (p: { number: string }) => `${p.number} is a room of this facility already. Choose another number.`,
  'map.class.only': (p: { of: { cleanlinessClass: CleanlinessClass } }) => p.of.cleanlinessClass,

  'map.edit.title': (p: { number: string; name: string }) => (p.name ? `Editing ${p.number} ${p.name}` : `Editing ${p.number}`),
  'map.edit.about': (p: { n: number; zones: number }) =>
    `${p.n} ${p.n === 1 ? 'filter or grille' : 'filters and grilles'}, ${p.zones} ${p.zones === 1 ? 'zone' : 'zones'}. Every step can be undone.`,
  'map.edit.done': (_p: None) => 'To the map',
  'map.edit.canvas': (p: { number: string; filters: number }) =>
    `Drawing board of ${p.number} seen from above, ${p.filters} filters and grilles`,
  'map.edit.keys': (_p: None, f: Formatter) => {
    const steps = NUDGE[f.unit('length') === 'm' ? 'm' : 'ft']
    return `A places an array, N places one filter in the middle, C copies the selection, T tags it in sequence, R selects its row, Control A selects all, Control D duplicates, Delete removes. Arrow keys nudge by ${steps.fine}, with Shift by ${steps.coarse}. Alt and an arrow key go to the next filter, with Shift they add it. Enter goes to the properties, L to the table, Escape lets go. Plus and minus zoom.`
  },
  'map.edit.face_name': (p: { tag: string; size: string; of: { kind: TerminalKind } }) => `${p.tag}, ${KIND[p.of.kind]}, ${p.size}`,
  'map.edit.several': (p: { n: number }) => `${p.n} selected`,
  'map.edit.differ': (_p: None) => 'not all alike',
  'map.edit.remove': (_p: None) => 'Remove',
  'map.edit.remove_several': (p: { n: number }) => `Remove ${p.n}`,
  'map.edit.total_area': (p: { area: string }) => `Effective area together: ${p.area}`,

  'map.bar': (_p: None) => 'Drawing tools',
  'map.view': (_p: None) => 'Plan or table',
  'map.view.plan': (_p: None) => 'Plan',
  'map.view.table': (_p: None) => 'Table',
  'map.tool': (_p: None) => 'Tool',
  'map.tool.choice': (p: { of: { tool: keyof typeof TOOL } }) => TOOL[p.of.tool],
  'map.tool.hint': (p: { of: { tool: keyof typeof TOOL; selected: number } }, f: Formatter) => {
    if (p.of.tool !== 'select') return TOOL_HINT[p.of.tool]
    const steps = NUDGE[f.unit('length') === 'm' ? 'm' : 'ft']
    return `${p.of.selected > 0 ? `${p.of.selected} selected. ` : ''}${TOOL_HINT.select} Arrows nudge ${steps.fine}, with Shift ${steps.coarse}; Alt and arrows go to the next filter.`
  },
  'map.snap': (_p: None) => 'Snap',
  'map.select.open': (_p: None) => 'Selection',
  'map.select.all': (_p: None) => 'Select all',
  'map.select.row': (_p: None) => 'Select the whole row',
  'map.align.open': (_p: None) => 'Align',
  'map.align.to': (p: { of: { to: keyof typeof ALIGN } }) => ALIGN[p.of.to],
  'map.align.distribute': (p: { of: { axis: 'across' | 'up' } }) => (p.of.axis === 'across' ? 'Space evenly across' : 'Space evenly up'),

  'map.table': (_p: None) => 'Filters and grilles of the room',
  'map.table.hint': (_p: None) => 'What is typed in a cell is saved when the cell is left.',
  'map.table.cell': (p: { tag: string; what: string }) => `${p.tag}: ${p.what}`,
  'map.table.select': (p: { tag: string }) => `Select ${p.tag}`,
  'map.table.select_all': (_p: None) => 'Select all',

  'map.array.open': (_p: None) => 'Array',
  'map.array.title': (_p: None) => 'Place an array',
  'map.array.about': (_p: None) =>
    'Rows run from the far end of the plan to the near one, columns from left to right. The array is spread over the room until you type otherwise.',
  'map.array.rows': (_p: None) => 'Rows',
  'map.array.columns': (_p: None) => 'Columns',
  'map.array.field': (p: { of: { key: keyof typeof ARRAY_FIELD } }) => ARRAY_FIELD[p.of.key],
  'map.array.too_many': (p: { most: number }) => `At most ${p.most} at a time.`,
  'map.array.outside': (p: { n: number }) => `${p.n} of them would reach out of the room.`,
  'map.array.overlapping': (_p: None) => 'Some would lie over each other: the pitch is smaller than the face.',
  'map.array.place': (p: { n: number }) => `Place ${p.n}`,
  'map.copy.open': (_p: None) => 'Copy',
  'map.copy.title': (p: { n: number }) => `Copy ${p.n} in a row or grid`,
  'map.copy.columns': (_p: None) => 'Columns in all',
  'map.copy.rows': (_p: None) => 'Rows in all',
  'map.copy.about': (_p: None) =>
    'Counts include the original. A negative pitch goes to the left or up the plan. Tags go on where the room ends.',
  'map.copy.do': (p: { n: number }) => `Make ${p.n} ${p.n === 1 ? 'copy' : 'copies'}`,
  'map.tags.open': (_p: None) => 'Tag',
  'map.tags.title': (p: { n: number }) => `Tag ${p.n} in sequence`,
  'map.tags.pattern': (_p: None) => 'Tag pattern',
  'map.tags.pattern.hint': (_p: None) => 'The first number or letter stands in braces: F-104-{01}, bank {A}.',
  'map.tags.path': (_p: None) => 'Counted',
  'map.tags.path.choice': (p: { of: { path: keyof typeof PATH } }) => PATH[p.of.path],
  'map.tags.preview': (p: { first: string; last: string; was: string }) => `${p.was} becomes ${p.first}, the last one ${p.last}.`,
  'map.tags.do': (p: { n: number }) => `Tag ${p.n}`,
  'map.tags.no_place': (_p: None) => 'Put the first number or letter in braces, such as {01}.',
  'map.tags.two_places': (_p: None) => 'Only one place in braces can count.',
  'map.tags.too_long': (_p: None) => 'These tags are too long: at most 120 characters.',
  'map.tags.taken': (p: { tag: string }) => `${p.tag} would stand twice in this room.`,

  'map.duplicate.open': (_p: None) => 'Duplicate room',
  'map.duplicate.title': (p: { number: string }) => `A room like ${p.number}`,
  'map.duplicate.hint': (p: { number: string }) => `Tags that begin with ${p.number} will begin with this number.`,
  'map.duplicate.facility': (_p: None) => 'Facility',
  'map.duplicate.do': (_p: None) => 'Make the room',
  'map.new.title': (_p: None) => 'New room',
  'map.new.about': (_p: None) => 'Number, size and class to begin with; filters, doors and zones follow on the plan.',
  'map.new.panel': (_p: None) => 'The room',
  'map.new.do': (_p: None) => 'Make the room and draw on',
  'map.new.no_facility': (_p: None) => 'There is no facility yet. Make one on the site screen first.',

  'map.shape.title': (_p: None) => 'Shape',
  'map.shape.side': (p: { of: { side: keyof typeof SIDE } }) => SIDE[p.of.side],
  'map.shape.to_polygon': (_p: None) => 'Make it a free outline',
  'map.shape.corner': (p: { n: number; of: { axis: 'x' | 'y' } }) => `Corner ${p.n}, ${p.of.axis}`,
  'map.shape.corner_add': (_p: None) => 'Add a corner',
  'map.shape.corner_remove': (p: { n: number }) => `Remove corner ${p.n}`,
  'map.shape.pull_which': (_p: None) => 'Wall to pull',
  'map.shape.wall': (p: { n: number; length: string; to: { x: number; y: number } }) => `Wall ${p.n}, ${wallSide(p.to)} side, ${p.length}`,
  'map.shape.pull_by': (_p: None) => 'Outwards by',
  'map.shape.pull': (_p: None) => 'Pull',
  'map.shape.pull_impossible': (_p: None) => 'That would leave no room between the walls.',
  'map.volume.title': (_p: None) => 'Stated volume, in place of the computed one',
  'map.volume.reason': (_p: None) => 'Reason',
  'map.volume.set': (_p: None) => 'Use this volume',
  'map.volume.clear': (_p: None) => 'Compute it again',

  'map.prop.number': (_p: None) => 'Number',
  'map.prop.name': (_p: None) => 'Name',
  'map.prop.state': (_p: None) => 'Occupancy state',
  'map.prop.area': (_p: None) => 'Plan area',
  'map.prop.required_changes': (_p: None) => 'Required minimum',
  'map.prop.required_usual': (p: { perHour: number; source: string }) => `To start from: ${p.perHour} per hour. ${p.source}.`,
  'map.prop.design_changes': (_p: None) => 'Design air changes',
  'map.prop.design_velocity': (_p: None) => 'Design velocity',
  'map.prop.design_flow': (_p: None) => 'Design flow',
  'map.prop.hazards': (_p: None) => 'Hazards',
  'map.hazard': (p: { of: { hazard: Hazard } }) => HAZARD[p.of.hazard],
  'map.prop.in_use': (_p: None) => 'In use',
  'map.prop.note': (_p: None) => 'Note',
  'map.prop.tag': (_p: None) => 'Tag',
  'map.prop.x': (_p: None) => 'Centre x',
  'map.prop.y': (_p: None) => 'Centre y',
  'map.prop.door_width': (_p: None) => 'Width',
  'map.prop.width': (_p: None) => 'Gross width',
  'map.prop.depth': (_p: None) => 'Gross depth',
  'map.prop.width_wall': (_p: None) => 'Gross width, across',
  'map.prop.height_wall': (_p: None) => 'Gross height',
  'map.prop.effective_area.hint': (p: { gross: number }, f: Formatter) =>
    `The open area inside the frame, at most ${f.quantity(p.gross, 'area')}. Proposed with a frame of 25 mm; the data sheet decides.`,
  'map.prop.rotation': (_p: None) => 'Turned clockwise, degrees',
  'map.prop.rotation_wall': (_p: None) => 'In a wall the turn is the way you face when you look at it: 0 the far wall, 90 the right one.',
  'map.prop.mounting': (_p: None) => 'Mounting',
  'map.mounting': (p: { of: { mounting: Terminal['mounting'] } }) => MOUNTING[p.of.mounting],
  'map.prop.face': (_p: None) => 'Face',
  'map.face.kind': (p: { of: { face: Terminal['face'] } }) => FACE[p.of.face],
  'map.prop.air_source': (_p: None) => 'Air from',
  'map.prop.air_goes': (_p: None) => 'Air goes to',
  'map.air_goes': (p: { of: { airSource: Terminal['airSource'] } }) => AIR_GOES[p.of.airSource],
  'map.air_source': (p: { of: { airSource: Terminal['airSource'] } }) => AIR_SOURCE[p.of.airSource],
  'map.prop.zone': (_p: None) => 'Zone',
  'map.prop.no_zone': (_p: None) => 'none, the room',
  'map.prop.grid_rows': (_p: None) => 'Point rows',
  'map.prop.grid_columns': (_p: None) => 'Point columns',
  'map.prop.grid_own': (_p: None) => 'Own grid; empty goes back to the proposal.',
  'map.prop.grid_proposed': (p: { rows: number; columns: number }) => `Proposed: ${p.rows} rows of ${p.columns}.`,
  'map.prop.factor': (_p: None) => 'Correction factor',
  'map.prop.factor.value': (_p: None) => 'Factor',
  'map.prop.factor.reason': (_p: None) => 'Reason',
  'map.prop.factor.set': (_p: None) => 'Use the factor',
  'map.prop.factor.clear': (_p: None) => 'Back to 1',
  'map.prop.closed': (_p: None) => 'Closed because',
  'map.prop.closed.hint': (_p: None) =>
    'With a reason it counts as a recorded zero against its design; empty means in service. Remove what was taken out for good.',

  'map.element.title': (_p: None) => 'Filter in place',
  'map.element.none': (_p: None) => 'No filter recorded yet.',
  'map.element.line': (p: { serial: string; model: string; from: { date: string }; to: { date: string } }) =>
    [p.serial, p.model, p.to.date ? `${p.from.date} to ${p.to.date}` : `since ${p.from.date}`].filter((part) => part !== '').join(', '),
  'map.element.serial': (_p: None) => 'Serial number',
  'map.element.model': (_p: None) => 'Model',
  'map.element.installed_on': (_p: None) => 'Installed on',
  'map.element.too_early': (_p: None) => 'This is before the present filter was installed.',
  'map.element.install': (_p: None) => 'Record the filter',
  'map.element.replace': (_p: None) => 'Replace the filter',

  'map.zone.new': (p: { n: number }) => `Zone ${p.n}`,
  'map.zone.boundary': (_p: None) => 'Boundary',
  'map.zone.members': (p: { n: number }) => `${p.n} ${p.n === 1 ? 'filter belongs' : 'filters belong'} to this zone.`,
  'map.zone.gather': (_p: None) => 'Take in the filters inside',
  'map.door.unnamed': (_p: None) => 'Door',
  'map.door.leads_to': (_p: None) => 'Leads to',
  'map.door.outside': (_p: None) => 'outside',
  'map.door.pressure': (_p: None) => 'Least pressure difference',

  'map.criteria.title': (_p: None) => 'Acceptance criteria',
  'map.criteria.set': (_p: None) => 'Criteria set',
  'map.criteria.none': (_p: None) => 'none yet: not tested',
  'map.criteria.as_room': (_p: None) => 'as the room',
  'map.criteria.own': (p: { on: boolean }) => (p.on ? '(own limit)' : '(switched off here)'),
  'map.criteria.change': (_p: None) => 'Change here',
  'map.criteria.on': (_p: None) => 'Applies here',
  'map.criteria.limit': (p: { of: { key: keyof typeof LIMIT } }) => LIMIT[p.of.key],
  'map.criteria.of_set': (p: { limit: string }) => `In use now: ${p.limit}`,
  'map.criteria.reason': (_p: None) => 'Reason',
  'map.criteria.save': (_p: None) => 'Use here',
  'map.criteria.drop': (_p: None) => 'As in the set',
}
