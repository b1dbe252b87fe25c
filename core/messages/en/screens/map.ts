import type { Hazard, Terminal, TerminalKind } from '#core/model/entities.ts'
import type { AirflowType, CleanlinessClass, Dimension, OccupancyState, Phase } from '#core/model/values.ts'
import type { Formatter } from '#core/units/formatter.ts'

/** Words of the map screen. Codes start with "map.", those of the editor with "map.edit" and the like. Codes of the model travel inside `of`. */
type None = Record<never, never>

const KIND: Readonly<Record<TerminalKind, string>> = {
  supply_filter: 'supply filter',
  fan_filter_unit: 'fan filter unit',
  return_grille: 'return grille',
  exhaust_grille: 'exhaust grille',
  duct_section: 'duct section',
}
const STATE: Readonly<Record<OccupancyState, string>> = { as_built: 'as built', at_rest: 'at rest', in_operation: 'in operation' }
const AIRFLOW: Readonly<Record<AirflowType, string>> = {
  unidirectional: 'unidirectional airflow',
  non_unidirectional: 'non-unidirectional airflow',
}
const PHASE: Readonly<Record<Phase, string>> = { as_found: 'as found', as_left: 'as left' }

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
const TOOL_HINT = {
  select:
    'Drag filters to move them, drag over the floor to select several. Arrows nudge 1 cm, with Shift 10 cm; Alt and arrows go to the next filter.',
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

function classWords(cleanlinessClass: CleanlinessClass, state: OccupancyState): string {
  return cleanlinessClass === 'unclassified' ? 'unclassified' : `${cleanlinessClass}, ${STATE[state]}`
}

export const map = {
  'map.room.title': (p: { number: string; name: string }) => (p.name ? `${p.number} ${p.name}` : p.number),
  'map.room.about': (p: { facility: string; of: { cleanlinessClass: CleanlinessClass; state: OccupancyState; airflow: AirflowType } }) =>
    `${p.facility} · ${classWords(p.of.cleanlinessClass, p.of.state)} · ${AIRFLOW[p.of.airflow]}`,
  'map.room.missing': (_p: None) => 'This room is not in the project any more. Choose another in the list of places.',
  'map.edit': (_p: None) => 'Edit room',
  'map.canvas': (p: { number: string; filters: number }) => `Plan of ${p.number} seen from above, ${p.filters} filters and grilles`,
  'map.canvas.keys': (_p: None) =>
    'Arrow keys go from filter to filter as they lie on the plan, Enter opens the readings. With Shift they move the plan; plus and minus zoom, 0 shows the whole room.',
  'map.run': (_p: None) => 'Run',
  'map.run.choice': (p: { of: { phase: Phase; current: boolean } }) =>
    p.of.current ? `${PHASE[p.of.phase]} (current)` : PHASE[p.of.phase],
  'map.shade': (_p: None) => 'Shade the filters by',
  'map.shade.verdict': (_p: None) => 'Verdict',
  'map.shade.velocity': (_p: None) => 'Velocity',
  'map.no_filters': (_p: None) => 'No filters or grilles in this room yet.',
  'map.no_filters.draw': (_p: None) => 'Place the first ones',

  'map.zoom.in': (_p: None) => 'Zoom in',
  'map.zoom.out': (_p: None) => 'Zoom out',
  'map.zoom.fit': (_p: None) => 'Show the whole room',
  'map.north': (p: { degrees: number }) => `North lies ${p.degrees}° clockwise from the top of the plan`,
  'map.north.letter': (_p: None) => 'N',
  'map.scale': (p: { length: string }) => `Scale bar: ${p.length}`,
  'map.scale.length': (p: { bar: { value: number; unit: string } }) => `${p.bar.value} ${p.bar.unit}`,

  'map.legend': (_p: None) => 'Legend',
  'map.legend.figures': (p: { velocity: string; flow: string }) => `Figures: mean velocity ${p.velocity}, flow ${p.flow}`,
  'map.legend.shade': (p: { low: string; high: string }) => `Shades of mean velocity from ${p.low} to ${p.high}`,
  'map.kind': (p: { of: { kind: TerminalKind } }) => KIND[p.of.kind],
  'map.class': (p: { of: { cleanlinessClass: CleanlinessClass; state: OccupancyState } }) => classWords(p.of.cleanlinessClass, p.of.state),
  'map.airflow': (p: { of: { airflow: AirflowType } }) => AIRFLOW[p.of.airflow],
  'map.occupancy': (p: { of: { state: OccupancyState } }) => STATE[p.of.state],

  'map.face.name': (p: { tag: string; verdict: string; velocity: string; flow: string; of: { kind: TerminalKind } }) =>
    [p.tag, KIND[p.of.kind], p.verdict, p.velocity, p.flow].filter((part) => part !== '').join(', '),
  'map.face.closed': (_p: None) => 'closed',
  'map.face.picture': (p: { tag: string; points: number }) => `Face of ${p.tag} with ${p.points} measuring points`,
  'map.face.no_value': (_p: None) => '·',
  'map.face.seen_from_room': (_p: None) => 'Seen from the room, facing the wall.',
  'map.face.seen_from_above': (_p: None) => 'Seen from above, as on the plan.',
  'map.walls.title': (_p: None) => 'In walls, seen from the room',
  'map.zone.caption': (p: { name: string; verdict: string }) => `${p.name} · ${p.verdict}`,

  'map.figures': (_p: None) => 'Figures of the room',
  'map.figures.no_run': (_p: None) => 'Not measured in this certification yet.',
  'map.figure.supply': (_p: None) => 'Supply flow',
  'map.figure.air_changes': (_p: None) => 'Air changes',
  'map.figure.mean': (_p: None) => 'Mean velocity',
  'map.figure.spread': (_p: None) => 'Spread (RSD)',
  'map.figure.flow': (_p: None) => 'Flow',
  'map.figure.spread.note': (_p: None) => 'from filter to filter',
  'map.figure.design': (p: { design: string }) => `design ${p.design}`,
  'map.figure.so_far': (p: { flow: number; n: number; of: number }, f: Formatter) =>
    `so far ${f.quantity(p.flow, 'flow')}, ${p.n} of ${p.of}`,
  'map.figure.required_design': (p: { required: number | null; design: number | null }, f: Formatter) =>
    [
      p.required === null ? '' : `required ${f.quantity(p.required, 'air_change_rate')}`,
      p.design === null ? '' : `design ${f.quantity(p.design, 'air_change_rate')}`,
    ]
      .filter((part) => part !== '')
      .join(', '),

  'map.why.open_readings': (_p: None) => 'Open readings',
  'map.why.closed': (p: { reason: string }) => `Closed, a recorded zero: ${p.reason}`,
  'map.why.grille': (_p: None) => 'Return and exhaust air is not measured by the face velocity method.',
  'map.why.least_greatest': (_p: None) => 'Least to greatest',
  'map.why.span': (p: { low: number | null; high: number | null }, f: Formatter) =>
    p.low === null ? f.quantity(null, 'velocity') : `${f.number(p.low, 'velocity')} to ${f.quantity(p.high, 'velocity')}`,
  'map.why.largest_deviation': (_p: None) => 'Largest deviation',
  'map.why.percent_of_design': (_p: None) => 'Of design',
  'map.why.points': (_p: None) => 'Points measured',
  'map.why.points.of': (p: { n: number; of: number }) => `${p.n} of ${p.of}`,
  'map.why.criteria': (_p: None) => 'Criteria',
  'map.why.criterion': (p: { title: string }) => `${p.title}: `,
  'map.why.failing': (_p: None) => 'Filters that do not pass',
  'map.why.failed_as_found': (_p: None) => 'Failed as found; the run as left is the one that counts.',
  'map.why.face_size': (_p: None) => 'Face',
  'map.why.element': (_p: None) => 'Filter installed',
  'map.why.element.since': (p: { serial: string; since: { date: string } }, f: Formatter) =>
    p.serial ? `${p.serial}, since ${f.date(p.since.date)}` : `since ${f.date(p.since.date)}`,
  'map.why.history': (_p: None) => 'The years before',
  'map.why.history.picture': (p: { n: number }) => `${p.n} values over time with their limits`,
  'map.why.last': (p: { label: string; value: number; what: { dimension: Dimension } }, f: Formatter) =>
    `${p.label}: ${f.quantity(p.value, p.what.dimension)}`,
  'map.why.no_last': (_p: None) => 'No earlier value.',
  'map.why.whole_history': (_p: None) => 'Whole history',

  'map.prop.kind': (_p: None) => 'Kind',
  'map.prop.effective_area': (_p: None) => 'Effective area',
  'map.prop.class': (_p: None) => 'Class',
  'map.prop.airflow': (_p: None) => 'Airflow',
  'map.prop.ceiling': (_p: None) => 'Ceiling height',
  'map.prop.volume': (_p: None) => 'Volume',
  'map.prop.volume_reason': (_p: None) => 'Volume stated because',

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
  'map.edit.keys': (_p: None) =>
    'A places an array, N places one filter in the middle, C copies the selection, T tags it in sequence, R selects its row, Control A selects all, Control D duplicates, Delete removes. Arrow keys nudge by 1 centimetre, with Shift by 10. Alt and an arrow key go to the next filter, with Shift they add it. Enter goes to the properties, L to the table, Escape lets go. Plus and minus zoom.',
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
  'map.tool.hint': (p: { of: { tool: keyof typeof TOOL; selected: number } }) =>
    p.of.selected > 0 && p.of.tool === 'select' ? `${p.of.selected} selected. ${TOOL_HINT.select}` : TOOL_HINT[p.of.tool],
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
  'map.prop.closed.hint': (_p: None) => 'With a reason it counts as a recorded zero; empty means in service.',

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
