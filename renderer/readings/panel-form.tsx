import type { ReactNode } from 'react'
import { useSay } from '../app/session.tsx'
import type { RunStep } from '../app/use-run-step.ts'
import { Button } from '../ui/button.tsx'
import styles from './side-panel.module.css'

type PanelFormProps = {
  /** names the form; left out where it stands within a panel that has a title */
  title?: string
  /** what the button says that keeps what was written */
  save: string
  /** whether there is something to keep, and all of it is understood */
  able: boolean
  onSave: () => void
  onClose: () => void
  /** how far keeping has come, where it is not done at once */
  step?: RunStep
  children: ReactNode
}

/** What is written beside the typing: kept with Enter or its button, left with Escape, and what went wrong is told in place. */
export function PanelForm({ title, save, able, onSave, onClose, step, children }: PanelFormProps) {
  const t = useSay()
  const ready = able && !step?.busy
  return (
    <form
      className={title === undefined ? styles.within : styles.panel}
      aria-label={title}
      onKeyDown={(event) => {
        if (event.key === 'Escape') onClose()
      }}
      onSubmit={(event) => {
        event.preventDefault()
        if (ready) onSave()
      }}
    >
      {title === undefined ? null : <p className={styles.title}>{title}</p>}
      {children}
      {step?.problem ? (
        <p role="alert" className={styles.problem}>
          {step.problem}
        </p>
      ) : null}
      <div className={styles.actions}>
        <Button large kind="primary" type="submit" disabled={!ready}>
          {save}
        </Button>
        <Button large kind="quiet" onClick={onClose}>
          {t('app.cancel', {})}
        </Button>
      </div>
    </form>
  )
}
