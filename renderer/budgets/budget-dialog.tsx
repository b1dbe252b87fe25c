import { useQuery } from '@tanstack/react-query'
import type { FigureBudget } from '#core/model/budgets.ts'
import { orpc } from '../app/client.ts'
import { useFailureText, useSay } from '../app/words.tsx'
import { Busy } from '../ui/busy.tsx'
import { Dialog } from '../ui/dialog.tsx'
import type { BudgetOf } from './budget-button.tsx'
import { BudgetLines } from './budget-lines.tsx'
import styles from './budgets.module.css'

/** The uncertainty budget of a figure, as it follows from what is saved. */
export function BudgetDialog({ of, onClose }: { of: BudgetOf; onClose: () => void }) {
  const t = useSay()
  const failureText = useFailureText()
  const { runId, subjectId, figure } = of
  const query = useQuery(orpc.evaluation.budget.queryOptions({ input: { runId, subjectId, figure } }))
  return (
    <Dialog open wide title={t('budget.title', of)} onClose={onClose}>
      {query.error ? <p role="alert">{failureText(query.error)}</p> : null}
      {query.isPending ? <Busy label={t('budget.busy', {})} /> : null}
      {query.data === null ? <p>{t('budget.none', {})}</p> : null}
      {query.data ? <Budget budget={query.data} /> : null}
    </Dialog>
  )
}

function Budget({ budget }: { budget: FigureBudget }) {
  const t = useSay()
  return (
    <div className={styles.budget}>
      <p className={styles.result}>{t('budget.result', budget)}</p>
      <div className={styles.soft}>
        <p>{t('budget.combined', budget)}</p>
        <p>{t('budget.coverage', { coverage: budget.coverage, degrees: { used: budget.usedDegreesOfFreedom } })}</p>
      </div>
      <BudgetLines budget={budget} />
    </div>
  )
}
