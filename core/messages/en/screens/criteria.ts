import type { CriteriaSet, Criterion, CriterionForm, CriterionQuantity, CriterionScope, Limit } from '#core/model/criteria.ts'
import type { Entered } from '#core/model/values.ts'
import { enteredText } from '#core/units/format.ts'
import { unitLabel } from '#core/units/units.ts'

type None = Record<never, never>

const QUANTITY: Readonly<Record<CriterionQuantity, string>> = {
  face_velocity: 'Face velocity',
  flow: 'Flow',
  air_changes: 'Air changes',
  outside_air_changes: 'Air changes from the air handler alone',
  velocity_spread: 'Spread of velocities',
  filter_to_filter_spread: 'Spread from filter to filter',
  largest_deviation: 'Largest deviation from the mean',
  air_offset: 'Offset flow',
  air_offset_percent: 'Offset in percent of supply',
}
const SCOPE: Readonly<Record<CriterionScope, string>> = {
  point: 'every point',
  filter: 'every filter',
  zone: 'the zone',
  room: 'the room',
}
const PLANE: Readonly<Record<Criterion['plane'], string>> = {
  filter_face: 'at the filter face',
  working_height: 'at working height',
  any: 'at either plane',
}

function entered(value: Entered): string {
  const text = enteredText(value)
  return /[^\d.,\s−-]/.test(text) ? text : `${text} ${unitLabel(value.unit)}`
}

function limit(value: Limit): string {
  return value.from === 'value' ? entered(value.value) : 'the room’s required minimum'
}

/** A criterion's form in words, such as "at least 0.36 m/s". */
function formWords(form: CriterionForm): string {
  switch (form.kind) {
    case 'at_least':
      return `at least ${limit(form.limit)}`
    case 'at_most':
      return `at most ${limit(form.limit)}`
    case 'between':
      return `from ${limit(form.low)} to ${limit(form.high)}`
    case 'within_percent_of_design':
      return `within ${form.percent} % of design`
    case 'spread_at_most':
      return `at most ${form.percent} %`
    case 'each_within_percent_of_mean':
      return `each within ${form.percent} % of the ${form.of === 'zone' ? 'zone' : 'filter'}’s mean`
  }
}

function rule(set: Pick<CriteriaSet, 'decisionRule' | 'comparison'>): string {
  const decision = set.decisionRule.kind === 'simple' ? 'Simple acceptance' : `Guarded acceptance, ${set.decisionRule.multiple} times U`
  return `${decision}; ${set.comparison === 'absolute' ? 'compared unrounded' : 'rounded to the digits of the limit'}`
}

/** Words of the criteria screens. Codes start with "criteria." */
export const criteria = {
  'criteria.title': (_p: None) => 'Acceptance criteria',
  'criteria.about': (_p: None) =>
    'Limits are data with a source. Licensed standards, local codes and the procedures of the site decide; these are where to start.',
  'criteria.own': (_p: None) => 'Sets of this project',
  'criteria.empty': (_p: None) => 'No criteria yet',
  'criteria.empty_text': (_p: None) => 'Without criteria nothing is judged. Adopt a starting set below and make it your own.',
  'criteria.starting': (_p: None) => 'Sets to start from',
  'criteria.adopt': (_p: None) => 'Adopt',
  'criteria.adopt_named': (p: { name: string }) => `Adopt ${p.name}`,
  'criteria.adopted': (p: { name: string }) => `${p.name} is now a set of this project. Edit it freely.`,
  'criteria.new': (_p: None) => 'Empty set',
  'criteria.new_name': (_p: None) => 'New criteria set',
  'criteria.gone': (_p: None) => 'This criteria set is not in the project.',
  'criteria.column.name': (_p: None) => 'Set',
  'criteria.column.revision': (_p: None) => 'Revision',
  'criteria.column.criteria': (_p: None) => 'Criteria in force',
  'criteria.column.used': (_p: None) => 'Used by',
  'criteria.column.rule': (_p: None) => 'Decision',
  'criteria.count': (p: { on: number; off: number }) => (p.off === 0 ? `${p.on}` : `${p.on}, ${p.off} switched off`),
  'criteria.used': (p: { rooms: number; zones: number }) =>
    p.rooms + p.zones === 0
      ? 'nothing yet'
      : [p.rooms ? `${p.rooms} ${p.rooms === 1 ? 'room' : 'rooms'}` : '', p.zones ? `${p.zones} ${p.zones === 1 ? 'zone' : 'zones'}` : '']
          .filter(Boolean)
          .join(', '),
  'criteria.rule': (p: Pick<CriteriaSet, 'decisionRule' | 'comparison'>) => rule(p),

  'criteria.revision': (p: { revision: number }) => `Revision ${p.revision}`,
  'criteria.revision_note': (p: { revision: number }) =>
    `Saving makes revision ${p.revision}. Runs that are done keep the revision they were judged by.`,
  'criteria.set': (_p: None) => 'The set',
  'criteria.name': (_p: None) => 'Name',
  'criteria.note': (_p: None) => 'Note',
  'criteria.comparison': (_p: None) => 'How a value is compared with its limit',
  'criteria.comparison.absolute': (_p: None) => 'unrounded',
  'criteria.comparison.rounded_to_limit': (_p: None) => 'rounded to the digits of the limit',
  'criteria.decision': (_p: None) => 'Near a limit',
  'criteria.decision.simple': (_p: None) => 'simple acceptance',
  'criteria.decision.guarded': (_p: None) => 'guarded by a multiple of the uncertainty',
  'criteria.multiple': (_p: None) => 'Multiple of U',
  'criteria.guarded_hint': (_p: None) => 'Guarded acceptance needs an expanded uncertainty; figures without one then read not tested.',
  'criteria.reason': (_p: None) => 'Why it changes',
  'criteria.reason_hint': (_p: None) => 'Stands in the history beside the new revision.',

  'criteria.list': (_p: None) => 'Criteria',
  'criteria.add': (_p: None) => 'Add a criterion',
  'criteria.untitled': (_p: None) => 'New criterion',
  'criteria.on': (_p: None) => 'In force',
  'criteria.on_named': (p: { title: string }) => `${p.title} is in force`,
  'criteria.off': (_p: None) => 'switched off',
  'criteria.edit': (p: { title: string }) => `Edit ${p.title}`,
  'criteria.remove': (_p: None) => 'Remove this criterion',
  'criteria.done': (_p: None) => 'Close this criterion',
  'criteria.form_words': (p: { form: CriterionForm }) => formWords(p.form),
  'criteria.where_words': (p: { scope: CriterionScope; plane: Criterion['plane'] }) => `${SCOPE[p.scope]}, ${PLANE[p.plane]}`,
  'criteria.no_source': (_p: None) => 'no source named',
  'criteria.heading': (_p: None) => 'Heading',
  'criteria.key': (_p: None) => 'Short key',
  'criteria.key_hint': (_p: None) => 'Keeps the criterion the same one from year to year. Small letters, digits and underscores.',
  'criteria.quantity': (_p: None) => 'Quantity',
  'criteria.scope': (_p: None) => 'Judged for',
  'criteria.form': (_p: None) => 'Form',
  'criteria.plane': (_p: None) => 'Measuring plane',
  'criteria.source': (_p: None) => 'Source',
  'criteria.source_hint': (_p: None) => 'Standard and clause, the site’s rule, or “common practice”.',
  'criteria.limit': (_p: None) => 'Limit',
  'criteria.limit_low': (_p: None) => 'From',
  'criteria.limit_high': (_p: None) => 'To',
  'criteria.percent': (_p: None) => 'Percent',
  'criteria.percent_of': (_p: None) => 'Of the mean of',
  'criteria.limit_from': (_p: None) => 'The limit comes from',
  'criteria.limit_from.value': (_p: None) => 'a value here',
  'criteria.limit_from.room_required_minimum': (_p: None) => 'each room’s required minimum',
  'criteria.alerts': (_p: None) => 'Alert limits (shown, never part of the verdict)',
  'criteria.alert_low': (_p: None) => 'Alert below',
  'criteria.alert_high': (_p: None) => 'Alert above',

  'criteria.quantity.face_velocity': (_p: None) => QUANTITY.face_velocity,
  'criteria.quantity.flow': (_p: None) => QUANTITY.flow,
  'criteria.quantity.air_changes': (_p: None) => QUANTITY.air_changes,
  'criteria.quantity.outside_air_changes': (_p: None) => QUANTITY.outside_air_changes,
  'criteria.quantity.velocity_spread': (_p: None) => QUANTITY.velocity_spread,
  'criteria.quantity.filter_to_filter_spread': (_p: None) => QUANTITY.filter_to_filter_spread,
  'criteria.quantity.largest_deviation': (_p: None) => QUANTITY.largest_deviation,
  'criteria.scope.point': (_p: None) => SCOPE.point,
  'criteria.scope.filter': (_p: None) => SCOPE.filter,
  'criteria.scope.zone': (_p: None) => SCOPE.zone,
  'criteria.scope.room': (_p: None) => SCOPE.room,
  'criteria.plane.filter_face': (_p: None) => PLANE.filter_face,
  'criteria.plane.working_height': (_p: None) => PLANE.working_height,
  'criteria.plane.any': (_p: None) => PLANE.any,
  'criteria.form.at_least': (_p: None) => 'at least',
  'criteria.form.at_most': (_p: None) => 'at most',
  'criteria.form.between': (_p: None) => 'from … to',
  'criteria.form.within_percent_of_design': (_p: None) => 'within a percentage of design',
  'criteria.form.spread_at_most': (_p: None) => 'relative standard deviation at most',
  'criteria.form.each_within_percent_of_mean': (_p: None) => 'every reading within a percentage of a mean',

  'criteria.history': (_p: None) => 'Revisions',
  'criteria.history.by': (p: { person: string; at: string }, f: { dateTime: (instant: string) => string }) =>
    `${f.dateTime(p.at)}, ${p.person}`,
  'criteria.history.first': (_p: None) => 'First revision',
  'criteria.history.added': (p: { title: string; form: CriterionForm }) => `Added: ${p.title}, ${formWords(p.form)}`,
  'criteria.history.removed': (p: { title: string }) => `Removed: ${p.title}`,
  'criteria.history.limit': (p: { title: string; before: CriterionForm; after: CriterionForm }) =>
    `${p.title}: ${formWords(p.after)}, before ${formWords(p.before)}`,
  'criteria.history.switched': (p: { title: string; on: boolean }) => `${p.title}: switched ${p.on ? 'on' : 'off'}`,
  'criteria.history.other': (p: { title: string }) => `${p.title}: wording, source or alert limits`,
  'criteria.history.set': (_p: None) => 'Name, note or decision rule',

  'criteria.problem.missing': (_p: None) => 'This is needed. Enter it.',
  'criteria.problem.key': (_p: None) => 'Use small letters, digits and underscores, at most 60.',
  'criteria.problem.percent': (_p: None) => 'Enter a percentage above zero.',
  'criteria.problem.percent_design': (_p: None) => 'Enter a percentage above zero and at most 100.',
  'criteria.problem.multiple': (_p: None) => 'Enter a multiple from 0 to 2.',
  'criteria.saved': (p: { name: string; revision: number }) => `${p.name}: revision ${p.revision} is saved.`,
}
