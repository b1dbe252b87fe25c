import { z } from 'zod'
import { BudgetFigure, FigureBudget } from '../model/budgets.ts'
import { Uuid } from '../model/values.ts'
import { base } from './base.ts'

/** The uncertainty budget of a figure of a run, worked out when it is asked for; null where none can be given. */
export const budget = base
  .input(
    z.strictObject({
      runId: Uuid,
      subjectId: Uuid.describe('terminal, zone or room'),
      figure: BudgetFigure,
    }),
  )
  .output(FigureBudget.nullable())
