import { z } from 'zod'
import { DISTRIBUTIONS, TERM_SOURCES } from '#core/uncertainty/term.ts'
import { UncertaintySettings } from './criteria.ts'
import { Sentence } from './results.ts'
import { Basis, Dimension, Uuid } from './values.ts'

/** The figures that have an uncertainty budget. */
export const BudgetFigure = z.enum([
  'mean_velocity',
  'flow',
  'percent_of_design',
  'air_changes',
  'outside_air_changes',
  'offset',
  'offset_percent',
])
export type BudgetFigure = z.infer<typeof BudgetFigure>

/** One term of a budget: standard uncertainty = value / divisor, times the sensitivity the contribution, in the unit of the figure. */
export const BudgetTerm = z.strictObject({
  subject: z.string().describe('tag of the terminal, name of the instrument, number of the room'),
  at: z.string().nullable().describe('tag of the terminal that an instrument read at'),
  value: z.number(),
  distribution: z.enum(DISTRIBUTIONS),
  divisor: z.number(),
  sensitivity: z.number(),
  contribution: z.number().describe('with sign'),
  degreesOfFreedom: z.number().nullable().describe('null: not limited'),
})
export type BudgetTerm = z.infer<typeof BudgetTerm>

export const BudgetSource = z.enum(TERM_SOURCES)
export type BudgetSource = z.infer<typeof BudgetSource>

/** One line of a budget: a correlated group, whose terms are added with their signs, or independent terms of one kind, whose squares are. */
export const BudgetLine = z.strictObject({
  source: BudgetSource,
  correlated: z.boolean(),
  contribution: z.number().describe('standard uncertainty that the line adds, in the unit of the figure'),
  sharePercent: z.number().describe('of the combined variance'),
  degreesOfFreedom: z.number().nullable().describe('null: not limited, or several with their own'),
  terms: z.array(BudgetTerm),
  origin: z.array(Sentence).describe('where its size comes from'),
})
export type BudgetLine = z.infer<typeof BudgetLine>

/** The uncertainty budget of one figure, SI (percent and 1/h as such). */
export const FigureBudget = z.strictObject({
  subjectId: Uuid,
  subject: z.string(),
  figure: BudgetFigure,
  dimension: Dimension,
  basis: Basis,
  value: z.number(),
  lines: z.array(BudgetLine).describe('the greatest first'),
  combined: z.number(),
  effectiveDegreesOfFreedom: z.number().nullable().describe('null: not limited'),
  usedDegreesOfFreedom: z.number().nullable(),
  coverage: UncertaintySettings.shape.coverage,
  coverageFactor: z.number(),
  expanded: z.number(),
})
export type FigureBudget = z.infer<typeof FigureBudget>
