import type { ReactNode } from 'react'
import styles from './empty-state.module.css'
import { Icon, type IconName } from './icon.tsx'

type EmptyStateProps = { icon?: IconName; title: string; children?: ReactNode; action?: ReactNode }

/** An empty place says what belongs there and offers the first step. */
export function EmptyState({ icon, title, children, action }: EmptyStateProps) {
  return (
    <div className={styles.empty}>
      {icon ? (
        <span className={styles.icon}>
          <Icon name={icon} size={28} />
        </span>
      ) : null}
      <p className={styles.title}>{title}</p>
      {children ? <div className={styles.text}>{children}</div> : null}
      {action ? <div className={styles.action}>{action}</div> : null}
    </div>
  )
}
