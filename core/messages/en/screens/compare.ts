import type { ComparisonRow } from '#core/model/results.ts'
import type { Dimension, Phase } from '#core/model/values.ts'
import type { Formatter } from '#core/units/formatter.ts'
import { PHASE } from '../states.ts'

type None = Record<never, never>
type Figured = { figure: { value: number | null; dimension: Dimension } }

const QUANTITY: Readonly<Record<ComparisonRow['quantity'], string>> = {
  face_velocity: 'mean velocity',
  flow: 'flow',
  air_changes: 'air changes',
}

/** Signed, so that a loss is told from a gain at a glance; the sign is a true minus. */
function signed(text: string, value: number): string {
  const bare = text.replace(/^[-−]/, '')
  return /[1-9]/.test(bare) ? `${value < 0 ? '−' : '+'}${bare}` : bare
}

function percent(value: number | null, f: Formatter): string {
  return value === null ? '—' : signed(f.decimal(value, 1), value)
}

/** Words of the compare and history screens. Codes start with "compare." */
export const compare = {
  'compare.title': (_p: None) => 'Compare',
  'compare.about': (p: { now: string }) => `${p.now} against an earlier visit`,
  'compare.against': (_p: None) => 'Against',
  'compare.scope': (_p: None) => 'Of',
  'compare.scope.site': (_p: None) => 'the whole site',
  'compare.needs_two': (_p: None) => 'Nothing to compare yet',
  'compare.needs_two_text': (_p: None) => 'A comparison needs two certifications. Plan the next one from the last, and it will stand here.',
  'compare.plan': (_p: None) => 'Plan a certification',
  'compare.busy': (_p: None) => 'Computing both visits from their readings',

  'compare.summary': (_p: None) => 'What there is to know',
  'compare.summary.show': (p: { count: number }) => (p.count === 1 ? 'Show its row' : `Show its ${p.count} rows`),
  'compare.under.title': (p: { before: string; now: string }) => `Would ${p.before} have passed under the criteria of ${p.now}?`,
  'compare.under.yes': (p: { rooms: number }) =>
    p.rooms === 1
      ? 'Yes: the one room with other criteria reads the same.'
      : `Yes: all ${p.rooms} rooms with other criteria read the same.`,
  'compare.under.no': (p: { count: number; rooms: number }) =>
    `Not entirely: of ${p.rooms} rooms with other criteria, ${p.count === 1 ? 'one would read' : `${p.count} would read`} otherwise.`,
  'compare.under.show': (p: { room: string }) => `Show the rows of ${p.room}`,
  'compare.under.busy': (_p: None) => 'Judging the earlier visit by the later criteria',

  'compare.filter.kind': (_p: None) => 'Rows',
  'compare.filter.all': (_p: None) => 'All',
  'compare.filter.rooms': (_p: None) => 'Rooms',
  'compare.filter.filters': (_p: None) => 'Terminals',
  'compare.filter.verdict': (_p: None) => 'Which ones',
  'compare.filter.verdict.any': (_p: None) => 'every verdict',
  'compare.filter.verdict.worse': (_p: None) => 'verdict got worse',
  'compare.filter.verdict.better': (_p: None) => 'verdict got better',
  'compare.filter.verdict.not_pass': (_p: None) => 'not passing now',
  'compare.filter.verdict.break': (_p: None) => 'not the same thing twice',
  'compare.filter.text': (_p: None) => 'Room or terminal',
  'compare.filter.clear': (_p: None) => 'Show all rows',
  'compare.rows': (p: { shown: number; of: number }) => (p.shown === p.of ? `${p.of} rows` : `${p.shown} of ${p.of} rows`),
  'compare.none': (_p: None) => 'No row fits. Show all rows again, or type less.',
  'compare.keys': (_p: None) => 'Arrow keys go from row to row, Enter opens the history.',

  'compare.column.place': (_p: None) => 'Room or terminal',
  'compare.column.then': (_p: None) => 'Then',
  'compare.column.now': (_p: None) => 'Now',
  'compare.column.change': (_p: None) => 'Change',
  'compare.column.percent': (_p: None) => 'Change, %',
  'compare.column.verdict_then': (_p: None) => 'Verdict then',
  'compare.column.verdict_now': (_p: None) => 'Verdict now',
  'compare.column.unit': (_p: None) => 'Unit',
  'compare.column.bar': (_p: None) => 'Change as a bar',
  'compare.column.breaks': (_p: None) => 'Not the same',
  'compare.quantity': (p: { quantity: ComparisonRow['quantity'] }) => QUANTITY[p.quantity],
  'compare.change': (p: Figured, f: Formatter) => {
    const { value, dimension } = p.figure
    return value === null ? '—' : signed(f.number(value, dimension), value)
  },
  'compare.percent': (p: { value: number | null }, f: Formatter) => percent(p.value, f),
  'compare.bar': (p: { value: number | null }, f: Formatter) => (p.value === null ? 'change not known' : `${percent(p.value, f)} percent`),
  'compare.signed_differs': (_p: None) => 'Today’s calculation gives another figure than the one that was signed.',

  'compare.why.breaks': (_p: None) => 'What is not the same',
  'compare.why.not_measured': (_p: None) => 'Not measured in this visit.',
  'compare.why.phase': (p: { phase: Phase }) => PHASE[p.phase],
  'compare.why.measured_by': (_p: None) => 'Measured by',
  'compare.why.measured_with': (_p: None) => 'With',
  'compare.why.measured_on': (_p: None) => 'On',
  'compare.why.criteria': (_p: None) => 'Criteria',
  'compare.why.criteria_revision': (p: { name: string; revision: number }) => `${p.name}, revision ${p.revision}`,
  'compare.why.no_criteria': (_p: None) => 'none',
  'compare.why.points': (_p: None) => 'Points',
  'compare.why.points_of': (p: { measured: number; planned: number }) => `${p.measured} of ${p.planned}`,
  'compare.why.spread': (_p: None) => 'Spread',
  'compare.why.flow': (_p: None) => 'Flow',
  'compare.why.supply': (_p: None) => 'Supply',
  'compare.why.volume': (_p: None) => 'Volume',
  'compare.why.plan_picture': (p: { visit: string }) => `Filters of the room in ${p.visit}, each with its verdict`,
  'compare.why.readings': (_p: None) => 'Readings',
  'compare.why.run_trail': (_p: None) => 'Trail of the run',
  'compare.why.as_found_before': (_p: None) => 'As found before it',
  'compare.why.map': (_p: None) => 'Room map',
  'compare.why.trail': (_p: None) => 'Trail',

  'compare.history.title': (p: { label: string }) => `History of ${p.label}`,
  'compare.history.about_filter': (_p: None) => 'Every complete run in which it was measured.',
  'compare.history.about_room': (_p: None) => 'Every complete run in this room.',
  'compare.history.quantity': (_p: None) => 'Quantity',
  'compare.history.quantity.face_velocity': (_p: None) => 'Mean velocity',
  'compare.history.quantity.flow': (_p: None) => 'Flow',
  'compare.history.quantity.air_changes': (_p: None) => 'Air changes',
  'compare.history.empty': (_p: None) => 'No run yet',
  'compare.history.empty_text': (_p: None) => 'The history begins with the first complete run.',
  'compare.history.picture': (p: { label: string; points: number }) =>
    `${p.label} over ${p.points} runs; the table below it holds the same figures`,
  'compare.history.limit': (_p: None) => 'Limit',
  'compare.history.column.run': (_p: None) => 'Certification',
  'compare.history.column.value': (_p: None) => 'Figure',
  'compare.history.column.change': (_p: None) => 'Change, %',
  'compare.history.column.limits': (_p: None) => 'Limits',
  'compare.history.column.verdict': (_p: None) => 'On this figure',
  'compare.history.column.overall_filter': (_p: None) => 'On all its criteria',
  'compare.history.column.overall_room': (_p: None) => 'On the whole run',
  'compare.history.overall_filter': (_p: None) => 'All its criteria:',
  'compare.history.overall_room': (_p: None) => 'Whole run:',
  'compare.history.column.broken': (_p: None) => 'What changed before',
  'compare.history.limits': (p: { low: number | null; high: number | null; of: { dimension: Dimension } }, f: Formatter) => {
    const { dimension } = p.of
    if (p.low !== null && p.high !== null) return `${f.number(p.low, dimension)} to ${f.number(p.high, dimension)}`
    if (p.low !== null) return `at least ${f.number(p.low, dimension)}`
    return p.high === null ? '—' : `at most ${f.number(p.high, dimension)}`
  },
  'compare.history.uncertainty_mark': (_p: None) => 'U of the figure',
  'compare.history.column.uncertainty': (_p: None) => 'U',
  'compare.history.uncertainty': (p: { expanded: number | null; of: { dimension: Dimension } }, f: Formatter) =>
    p.expanded === null ? '—' : `± ${f.uncertainty(p.expanded, p.of.dimension)}`,
  'compare.history.break_mark': (_p: None) => 'The trend is broken here',
  'compare.history.map': (_p: None) => 'Room map',
  'compare.history.trail': (_p: None) => 'Trail',
  'compare.history.gone': (_p: None) => 'This filter or room is not in the project.',
}
