import type { ReactNode } from 'react'
import styles from './steps.module.css'

/** A choice of a form with its name above it. */
export function StartChoice({ label, children }: { label: string; children: ReactNode }) {
  return (
    <div className={styles.choice}>
      <span className={styles.label}>{label}</span>
      {children}
    </div>
  )
}
