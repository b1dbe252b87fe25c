import type { TerminalKind } from '#core/model/terminals.ts'
import type { AirflowType, CleanlinessClass, Dimension, OccupancyState, Phase } from '#core/model/values.ts'
import type { Formatter } from '#core/units/formatter.ts'
import { criterionName, type Held } from '../results.ts'
import { PHASE } from '../states.ts'
import { mapEditor } from './map-editor.ts'
import { KIND } from './terminal-words.ts'

/** Words of the map screen. Codes start with "map.". Codes of the model travel inside `of`. */
type None = Record<never, never>

const STATE: Readonly<Record<OccupancyState, string>> = { as_built: 'as built', at_rest: 'at rest', in_operation: 'in operation' }
const AIRFLOW: Readonly<Record<AirflowType, string>> = {
  unidirectional: 'unidirectional airflow',
  non_unidirectional: 'non-unidirectional airflow',
}

function classWords(cleanlinessClass: CleanlinessClass, state: OccupancyState): string {
  return cleanlinessClass === 'unclassified' ? 'unclassified' : `${cleanlinessClass}, ${STATE[state]}`
}

export const map = {
  ...mapEditor,
  'map.room.title': (p: { number: string; name: string }) => (p.name ? `${p.number} ${p.name}` : p.number),
  'map.room.about': (p: { facility: string; of: { cleanlinessClass: CleanlinessClass; state: OccupancyState; airflow: AirflowType } }) =>
    `${p.facility} · ${classWords(p.of.cleanlinessClass, p.of.state)} · ${AIRFLOW[p.of.airflow]}`,
  'map.room.missing': (_p: None) => 'This room is not in the project any more. Choose another in the list of places.',
  'map.edit': (_p: None) => 'Edit room',
  'map.canvas': (p: { number: string; filters: number }) => `Plan of ${p.number} seen from above, ${p.filters} filters and grilles`,
  'map.canvas.keys': (_p: None) =>
    'Arrow keys go from filter to filter as they lie on the plan, Enter opens the readings. With Shift they move the plan; plus and minus zoom, 0 shows the whole room.',
  'map.run': (_p: None) => 'Run',
  'map.run.choice': (p: { of: { phase: Phase; current: boolean; zone: string } }) => {
    const run = p.of.zone === '' ? PHASE[p.of.phase] : `${p.of.zone}, ${PHASE[p.of.phase]}`
    return p.of.current ? `${run} (current)` : run
  },
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
  'map.figures.no_run': (_p: None) => 'Not measured yet.',
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
  'map.why.plane_alone': (_p: None) => 'This run measured the plane of a zone, not single terminals.',
  'map.why.not_in_run': (_p: None) => 'This run does not measure this terminal.',
  'map.why.least_greatest': (_p: None) => 'Least to greatest',
  'map.why.span': (p: { low: number | null; high: number | null }, f: Formatter) =>
    p.low === null ? f.quantity(null, 'velocity') : `${f.number(p.low, 'velocity')} to ${f.quantity(p.high, 'velocity')}`,
  'map.why.largest_deviation': (_p: None) => 'Largest deviation',
  'map.why.percent_of_design': (_p: None) => 'Of design',
  'map.why.points': (_p: None) => 'Points measured',
  'map.why.closed_faces': (_p: None) => 'Closed faces',
  'map.why.closed_faces.of': (p: { n: number }) => `${p.n}: zero in the mean, left out of spread and points`,
  'map.why.points.of': (p: { n: number; of: number }) => `${p.n} of ${p.of}`,
  'map.why.criteria': (_p: None) => 'Criteria',
  'map.why.criterion': (p: Held) => `${criterionName(p)}: `,
  'map.why.failing': (_p: None) => 'Terminals that do not pass',
  'map.why.failed_as_found': (_p: None) => 'Failed as found; the run as left is the one that counts.',
  'map.why.face_size': (_p: None) => 'Face',
  'map.why.element': (_p: None) => 'Filter installed',
  'map.why.element.since': (p: { serial: string; since: { date: string } }, f: Formatter) =>
    p.serial ? `${p.serial}, since ${f.date(p.since.date)}` : `since ${f.date(p.since.date)}`,
  'map.why.history': (_p: None) => 'The years before',
  'map.why.history.picture': (p: { n: number }) =>
    `${p.n} ${p.n === 1 ? 'value' : 'values'} over time with ${p.n === 1 ? 'its' : 'their'} limits`,
  'map.why.last': (p: { label: string; value: number; what: { dimension: Dimension; phase: Phase | null } }, f: Formatter) =>
    `Before, ${p.label}${p.what.phase === null ? '' : `, ${PHASE[p.what.phase]}`}: ${f.quantity(p.value, p.what.dimension)}`,
  'map.why.no_last': (_p: None) => 'No earlier value.',
  'map.why.whole_history': (_p: None) => 'Whole history',

  'map.prop.kind': (_p: None) => 'Kind',
  'map.prop.effective_area': (_p: None) => 'Effective area',
  'map.prop.class': (_p: None) => 'Class',
  'map.prop.airflow': (_p: None) => 'Airflow',
  'map.prop.ceiling': (_p: None) => 'Ceiling height',
  'map.prop.volume': (_p: None) => 'Volume',
  'map.prop.volume_reason': (_p: None) => 'Volume stated because',
}
