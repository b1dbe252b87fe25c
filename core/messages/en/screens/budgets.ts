import type { BudgetFigure, BudgetSource } from '#core/model/budgets.ts'
import type { Uncertainty } from '#core/model/results.ts'
import type { Basis, Dimension } from '#core/model/values.ts'
import type { Formatter } from '#core/units/formatter.ts'

type None = Record<never, never>

const FIGURE: Readonly<Record<BudgetFigure, string>> = {
  mean_velocity: 'Mean velocity',
  flow: 'Flow',
  percent_of_design: 'Percent of design',
  air_changes: 'Air changes',
  outside_air_changes: 'Air changes from the air handler alone',
  offset: 'Offset',
  offset_percent: 'Offset in percent of supply',
}
const SOURCE: Readonly<Record<BudgetSource, string>> = {
  calibration: 'Calibration',
  accuracy: 'Accuracy statement',
  drift: 'Drift since calibration',
  interpolation: 'Between calibration points',
  resolution: 'Resolution',
  spatial: 'Spread over the points',
  repeat: 'Repeats',
  traverse_rule: 'Traverse rule',
  hood_factor: 'Hood factor',
  flow_element: 'Flow element',
  correction_factor: 'Correction factor',
  area: 'Effective area',
  volume: 'Volume',
  density: 'Density of the air',
  other: 'Other',
}
const DISTRIBUTION = {
  normal: 'normal',
  student: 't',
  rectangular: 'rectangle',
  triangular: 'triangle',
  u_shaped: 'U-shaped',
} as const
const BASIS: Readonly<Record<Basis, string>> = { as_indicated: 'as indicated', standard: 'standard air', actual: 'actual air' }

/** Words of uncertainty budgets. Codes start with "budget." */
export const budgets = {
  'budget.short': (_p: None) => 'Uncertainty',
  'budget.open': (p: { figure: BudgetFigure; subject: string }) => `Uncertainty of ${FIGURE[p.figure].toLowerCase()}, ${p.subject}`,
  'budget.title': (p: { figure: BudgetFigure; subject: string }) => `${FIGURE[p.figure]} of ${p.subject}: uncertainty budget`,
  'budget.figure': (p: { figure: BudgetFigure }) => FIGURE[p.figure],
  'budget.busy': (_p: None) => 'Working out the budget.',
  'budget.none': (_p: None) =>
    'No uncertainty is given for this figure: a single point stands for a face, a part is not measured, or no certificate and no accuracy statement says how wrong the instrument may be.',
  'budget.beside': (p: Uncertainty & { dimension: Dimension }, f: Formatter) =>
    `± ${f.uncertainty(p.expanded, p.dimension)}, k = ${f.decimal(p.coverageFactor, 2)}`,
  'budget.result': (p: { value: number; expanded: number; coverageFactor: number; dimension: Dimension; basis: Basis }, f: Formatter) =>
    `${f.plusMinus(p.value, p.expanded, p.dimension)}, k = ${f.decimal(p.coverageFactor, 2)}, ${BASIS[p.basis]}`,
  'budget.coverage': (
    p: { coverage: { kind: 'student'; levelPercent: number } | { kind: 'fixed'; factor: number }; degrees: { used: number | null } },
    _f: Formatter,
  ) => {
    const { used } = p.degrees
    const degrees =
      used === null ? 'degrees of freedom not limited' : `${used > 1000 ? 'more than 1000' : used} effective degrees of freedom`
    return p.coverage.kind === 'fixed'
      ? `k is fixed by the criteria set; ${degrees}.`
      : `Two-sided level of ${p.coverage.levelPercent} %; k from t at ${degrees}.`
  },
  'budget.combined': (p: { combined: number; dimension: Dimension }, f: Formatter) =>
    `Combined standard uncertainty ${f.uncertainty(p.combined, p.dimension)}.`,
  'budget.caption': (_p: None) => 'Terms of the budget, the greatest first',
  'budget.column.source': (_p: None) => 'Term',
  'budget.column.contribution': (_p: None) => 'Contribution',
  'budget.column.share': (_p: None) => 'Share',
  'budget.column.degrees': (_p: None) => 'Degrees of freedom',
  'budget.source': (p: { source: BudgetSource }) => SOURCE[p.source],
  'budget.contribution_number': (p: { contribution: number; dimension: Dimension }, f: Formatter) =>
    // The unit stands in the head of the column.
    f.uncertainty(p.contribution, p.dimension).replace(/\u00a0.*$/, ''),
  'budget.contribution': (p: { contribution: number; dimension: Dimension }, f: Formatter) => f.uncertainty(p.contribution, p.dimension),
  'budget.share': (p: { percent: number }, f: Formatter) => `${f.decimal(p.percent, p.percent >= 9.95 ? 0 : 1)} %`,
  'budget.degrees': (p: { degrees: { of: number | null } }, f: Formatter) => (p.degrees.of === null ? '∞' : f.significant(p.degrees.of, 4)),
  'budget.each': (_p: None) => 'each its own',
  'budget.correlated': (p: { terms: number }) =>
    p.terms === 1 ? 'One error.' : `The same error ${p.terms} times: these add with their signs.`,
  'budget.independent': (p: { terms: number }) => (p.terms === 1 ? 'One error.' : `${p.terms} independent errors: their squares add.`),
  'budget.term': (
    p: {
      subject: string
      term: {
        at: string | null
        value: number
        divisor: number
        sensitivity: number
        contribution: number
        distribution: keyof typeof DISTRIBUTION
      }
      dimension: Dimension
    },
    f: Formatter,
  ) => {
    const { value, divisor, sensitivity, contribution, distribution } = p.term
    const sign = contribution < 0 ? '\u2212' : ''
    const where = p.term.at === null ? p.subject : `${p.subject}, ${p.term.at}`
    return `${where}: ${f.significant(value, 4)} (${DISTRIBUTION[distribution]}) / ${f.significant(divisor, 4)} × ${f.significant(sensitivity, 4)} in SI = ${sign}${f.uncertainty(Math.abs(contribution), p.dimension)}`
  },
  'budget.more_terms': (p: { more: number }) => `And ${p.more} more.`,
}
