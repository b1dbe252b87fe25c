import type { ReactNode } from 'react'
import { joined } from './class-names.ts'
import styles from './figure.module.css'

type FigureProps = {
  /** the number as text, from a Formatter */
  value: string
  unit?: string
  label?: string
  /** a line below: the limit, last year's value */
  note?: ReactNode
  size?: 'body' | 'large' | 'figure'
  className?: string
}

const SIZE_CLASS = { body: styles.body, large: styles.large, figure: styles.hero } as const

/** A number as the hero: figure big, unit once and small. */
export function Figure({ value, unit, label, note, size = 'figure', className }: FigureProps) {
  return (
    <div className={joined(styles.figure, className)}>
      {label ? <span className={styles.label}>{label}</span> : null}
      <span className={SIZE_CLASS[size]}>
        {value}
        {unit ? <span className={styles.unit}> {unit}</span> : null}
      </span>
      {note ? <span className={styles.note}>{note}</span> : null}
    </div>
  )
}
