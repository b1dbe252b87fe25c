import type { ReactNode } from 'react'
import styles from './choice-card.module.css'

type ChoiceCardProps = {
  /** of the group that one is picked from */
  name: string
  picked: boolean
  disabled?: boolean
  onPick: () => void
  children: ReactNode
}

/** One choice of a few, large enough for a glove, with what has to be known before it is picked. */
export function ChoiceCard({ name, picked, disabled = false, onPick, children }: ChoiceCardProps) {
  return (
    <label className={styles.card} data-picked={picked ? '' : undefined} data-disabled={disabled ? '' : undefined}>
      <input type="radio" name={name} className="visually-hidden" checked={picked} disabled={disabled} onChange={onPick} />
      <span className={styles.dot} aria-hidden="true" />
      <span className={styles.words}>{children}</span>
    </label>
  )
}
