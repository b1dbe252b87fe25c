import type { CriterionField, SetField } from '#core/criteria/compare-revisions.ts'
import type { CriteriaSet, Criterion, UncertaintySettings } from '#core/model/criteria.ts'
import type { Formatter } from '#core/units/formatter.ts'
import { enteredWords } from '../entered-words.ts'
import { BASIS, formWords, PLANE, QUANTITY, rule, SCOPE } from './criteria-words.ts'

type None = Record<never, never>

const FIELD: Readonly<Record<CriterionField | SetField, string>> = {
  title: 'Heading',
  quantity: 'Quantity',
  scope: 'Judged for',
  form: 'Limit',
  plane: 'Measuring plane',
  basis: 'Which air',
  on: 'In force',
  alert: 'Alert limits',
  source: 'Source',
  name: 'Name',
  decisionRule: 'Decision rule',
  comparison: 'Comparison',
  uncertainty: 'Uncertainty',
  note: 'Note',
}

function alertWords({ alert }: Criterion): string {
  if (!alert) return 'none'
  const low = alert.low ? `below ${enteredWords(alert.low)}` : ''
  const high = alert.high ? `above ${enteredWords(alert.high)}` : ''
  return [low, high].filter(Boolean).join(', ') || 'none'
}

function criterionValue(criterion: Criterion, field: CriterionField, f: Formatter): string {
  switch (field) {
    case 'title':
      return criterion.title
    case 'quantity':
      return QUANTITY[criterion.quantity]
    case 'scope':
      return SCOPE[criterion.scope]
    case 'form':
      return formWords(criterion.form, f)
    case 'plane':
      return PLANE[criterion.plane]
    case 'basis':
      return BASIS[criterion.basis]
    case 'on':
      return criterion.on ? 'in force' : 'switched off'
    case 'alert':
      return alertWords(criterion)
    case 'source':
      return criterion.source || 'none named'
  }
}

function uncertaintyWords(settings: UncertaintySettings, f: Formatter): string {
  const { coverage, areaPercent, volumePercent, hoodFactorPercent, correctionFactorPercent, traverseRulePercent, flowElementPercent } =
    settings
  const n = (value: number) => f.significant(value, 6)
  const how = coverage.kind === 'fixed' ? `k = ${n(coverage.factor)}` : `${n(coverage.levelPercent)} % by t`
  const air = `${n(settings.temperatureK)} K, ${n(settings.pressurePa)} Pa, ${n(settings.relativeHumidityPercent)} % humidity`
  return `${how}; area ${n(areaPercent)} %, volume ${n(volumePercent)} %, hood factor ${n(hoodFactorPercent)} %, correction factor ${n(correctionFactorPercent)} %, traverse rule ${n(traverseRulePercent)} %, flow element ${n(flowElementPercent)} %; ${air}`
}

function setValue(set: CriteriaSet, field: SetField, f: Formatter): string {
  switch (field) {
    case 'name':
      return set.name
    case 'decisionRule':
    case 'comparison':
      return rule(set, f)
    case 'uncertainty':
      return uncertaintyWords(set.uncertainty, f)
    case 'note':
      return set.note || 'none'
  }
}

/** Words for revisions of a criteria set: what differs, and what a draft would change in a certification. */
export const criteriaRevisions = {
  'criteria.history': (_p: None) => 'Revisions',
  'criteria.history.by': (p: { person: string; at: string }, f: { dateTime: (instant: string) => string }) =>
    `${f.dateTime(p.at)}, ${p.person}`,
  'criteria.history.first': (_p: None) => 'First revision',
  'criteria.history.same': (_p: None) => 'Nothing differs.',
  'criteria.field': (p: { field: CriterionField | SetField }) => FIELD[p.field],
  'criteria.value': (p: { criterion: Criterion; field: CriterionField }, f: Formatter) => criterionValue(p.criterion, p.field, f),
  'criteria.set_value': (p: { set: CriteriaSet; field: SetField }, f: Formatter) => setValue(p.set, p.field, f),
  'criteria.added': (p: { title: string }) => `Added: ${p.title}`,
  'criteria.removed': (p: { title: string }) => `Removed: ${p.title}`,
  'criteria.changed': (p: { name: string; before: string; after: string }) => `${p.name}: “${p.after}” instead of “${p.before}”`,

  'criteria.compare': (_p: None) => 'Compare two revisions',
  'criteria.compare.earlier': (_p: None) => 'From',
  'criteria.compare.later': (_p: None) => 'To',
  'criteria.compare.draft': (_p: None) => 'The unsaved draft',
  'criteria.compare.what': (_p: None) => 'What',
  'criteria.compare.before': (_p: None) => 'Before',
  'criteria.compare.after': (_p: None) => 'After',
  'criteria.compare.nothing': (_p: None) => '—',
  'criteria.compare.caption': (_p: None) => 'What differs between the two revisions',

  'criteria.copy': (_p: None) => 'Copy and adapt',
  'criteria.copy_name': (p: { name: string }) => `${p.name}, adapted`,
  'criteria.copied': (p: { name: string }) => `${p.name} is a set of its own now. No room follows it yet.`,

  'criteria.preview': (_p: None) => 'What would change in verdicts',
  'criteria.preview.calculation': (_p: None) => 'calculation changed, not the criteria',
  'criteria.preview.about': (_p: None) =>
    'The runs that count in a certification, computed again under the criteria chosen here. Nothing is kept, and what was judged or signed stays as it is.',
  'criteria.preview.certification': (_p: None) => 'Certification',
  'criteria.preview.under': (_p: None) => 'Under',
  'criteria.preview.none': (_p: None) => 'There is no certification yet.',
  'criteria.preview.incomplete': (_p: None) => 'The draft has something missing. Mend it first.',
  'criteria.preview.show': (_p: None) => 'Show what would change',
  'criteria.preview.busy': (_p: None) => 'Computing the certification under these criteria.',
  'criteria.preview.reach': (p: { runsAffected: number; runsJudged: number }) =>
    p.runsAffected === 0
      ? `None of the ${p.runsJudged} runs that count follows this set.`
      : `${p.runsAffected} of the ${p.runsJudged} runs that count follow this set.`,
  'criteria.preview.same': (_p: None) => 'No verdict would change.',
  'criteria.preview.rooms': (p: { count: number }) =>
    p.count === 0 ? 'No room’s verdict would change.' : `${p.count} ${p.count === 1 ? 'room’s verdict' : 'rooms’ verdicts'} would change.`,
  'criteria.preview.answer': (p: { certification: string; of: string }) => `${p.certification} under: ${p.of}`,
  'criteria.preview.changed': (p: { count: number }) =>
    p.count === 1 ? 'One criterion would read otherwise.' : `${p.count} criteria would read otherwise.`,
  'criteria.preview.count': (p: { count: number; verdict: string }) => `${p.count} ${p.verdict}`,
  'criteria.preview.as_judged': (_p: None) => 'As judged',
  'criteria.preview.under_draft': (_p: None) => 'Under these criteria',
  'criteria.preview.new': (_p: None) => 'not there',
  'criteria.preview.counts': (_p: None) => 'Verdicts, as judged and under these criteria',
  'criteria.preview.of_rooms': (_p: None) => 'Rooms',
  'criteria.preview.of_filters': (_p: None) => 'Terminals',
  'criteria.preview.more': (p: { more: number }) => `And ${p.more} more.`,

  'criteria.uncertainty': (_p: None) => 'Uncertainty',
  'criteria.uncertainty.about': (_p: None) =>
    'What a budget takes where nothing better is known of the terminal, room or instrument. Half the width of a rectangle, except where it says standard.',
  'criteria.coverage': (_p: None) => 'Coverage factor',
  'criteria.coverage.student': (_p: None) => 'from t at the effective degrees of freedom',
  'criteria.coverage.fixed': (_p: None) => 'fixed',
  'criteria.coverage.level': (_p: None) => 'Level, percent, two-sided',
  'criteria.coverage.factor': (_p: None) => 'k',
  'criteria.uncertainty.areaPercent': (_p: None) => 'Effective area, ± %',
  'criteria.uncertainty.volumePercent': (_p: None) => 'Volume, ± %',
  'criteria.uncertainty.hoodFactorPercent': (_p: None) => 'Hood factor, ± %',
  'criteria.uncertainty.correctionFactorPercent': (_p: None) => 'Correction factor, ± %',
  'criteria.uncertainty.traverseRulePercent': (_p: None) => 'Traverse rule, standard %',
  'criteria.uncertainty.flowElementPercent': (_p: None) => 'Flow element, ± %',
  'criteria.uncertainty.temperatureK': (_p: None) => 'Temperature, ± K',
  'criteria.uncertainty.pressurePa': (_p: None) => 'Pressure, ± Pa',
  'criteria.uncertainty.relativeHumidityPercent': (_p: None) => 'Relative humidity, ± %',
  'criteria.problem.number': (p: { least: number; most: number }) => `Enter a number from ${p.least} to ${p.most}.`,
}
