import { budgetOf } from '#core/methods/airflow/uncertainty/budget-of.ts'
import type { BudgetFigure, FigureBudget } from '#core/model/budgets.ts'
import { runInput } from './run-input.ts'
import type { Session } from './session.ts'

/** The budget of a figure of a run, line by line, from what the run pinned; null where none can be given. */
export function budgetOfRun(
  session: Session,
  { runId, subjectId, figure }: { runId: string; subjectId: string; figure: BudgetFigure },
): FigureBudget | null {
  return budgetOf(runInput(session, session.find('run', runId)), subjectId, figure)
}
