import { type ReactNode, useId } from 'react'
import { joined } from './class-names.ts'
import styles from './panel.module.css'

type PanelProps = { title: string; actions?: ReactNode; children: ReactNode; level?: 2 | 3; className?: string; flush?: boolean }

/** A titled part of a screen. `flush` lets a table reach its edges. */
export function Panel({ title, actions, children, level = 2, className, flush }: PanelProps) {
  const id = useId()
  const Heading = level === 2 ? 'h2' : 'h3'
  return (
    <section aria-labelledby={id} className={joined(styles.panel, className)}>
      <header className={styles.head}>
        <Heading id={id} className={styles.title}>
          {title}
        </Heading>
        {actions ? <div className={styles.actions}>{actions}</div> : null}
      </header>
      <div className={flush ? undefined : styles.body}>{children}</div>
    </section>
  )
}

/** The head of a screen: its name, what it is about, and its commands to the right. */
export function ScreenHead({ title, about, actions }: { title: ReactNode; about?: ReactNode; actions?: ReactNode }) {
  return (
    <header className={styles.screenHead}>
      <div className={styles.screenName}>
        <h1>{title}</h1>
        {about ? <p className={styles.about}>{about}</p> : null}
      </div>
      {actions ? <div className={styles.actions}>{actions}</div> : null}
    </header>
  )
}

/** Pairs of name and value, for panels. */
export function Facts({ facts }: { facts: readonly (readonly [name: string, value: ReactNode])[] }) {
  return (
    <dl className={styles.facts}>
      {facts.map(([name, value]) => (
        <div key={name} className={styles.fact}>
          <dt>{name}</dt>
          <dd>{value}</dd>
        </div>
      ))}
    </dl>
  )
}
