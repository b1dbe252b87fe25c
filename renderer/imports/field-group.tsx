import type { ReactNode } from 'react'
import styles from './import.module.css'

/** Fields of the mapping that belong together, under what they say. */
export function FieldGroup({ title, children }: { title: string; children: ReactNode }) {
  return (
    <fieldset className={styles.group}>
      <legend className={styles.groupTitle}>{title}</legend>
      <div className={styles.form}>{children}</div>
    </fieldset>
  )
}
