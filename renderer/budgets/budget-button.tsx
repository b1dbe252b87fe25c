import { useState } from 'react'
import type { BudgetFigure } from '#core/model/budgets.ts'
import type { Uncertainty } from '#core/model/results.ts'
import type { Dimension, Uuid } from '#core/model/values.ts'
import { useSay } from '../app/words.tsx'
import { BudgetDialog } from './budget-dialog.tsx'
import styles from './budgets.module.css'

export type BudgetOf = {
  /** the run that gave the figure */
  readonly runId: Uuid
  /** terminal, zone or room */
  readonly subjectId: Uuid
  readonly subject: string
  readonly figure: BudgetFigure
}

type BudgetButtonProps = BudgetOf & { readonly uncertainty: Uncertainty | null; readonly dimension: Dimension }

/** U and k beside a figure; opens the budget behind them. Nothing where no uncertainty is given. */
export function BudgetButton({ uncertainty, dimension, ...of }: BudgetButtonProps) {
  const t = useSay()
  const [open, setOpen] = useState(false)
  if (!uncertainty) return null
  const text = t('budget.beside', { ...uncertainty, dimension })
  return (
    <>
      <button
        type="button"
        aria-haspopup="dialog"
        className={styles.beside}
        aria-label={`${text}. ${t('budget.open', of)}`}
        onClick={() => setOpen(true)}
      >
        {text}
      </button>
      {open ? <BudgetDialog of={of} onClose={() => setOpen(false)} /> : null}
    </>
  )
}

/** Opens the budget of a figure whose uncertainty is not at hand here. */
export function BudgetLink(of: BudgetOf) {
  const t = useSay()
  const [open, setOpen] = useState(false)
  return (
    <>
      <button
        type="button"
        aria-haspopup="dialog"
        className={styles.beside}
        aria-label={t('budget.open', of)}
        onClick={() => setOpen(true)}
      >
        {t('budget.short', {})}
      </button>
      {open ? <BudgetDialog of={of} onClose={() => setOpen(false)} /> : null}
    </>
  )
}
