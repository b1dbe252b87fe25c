import styles from './busy.module.css'

/** Says what the person is waiting for. Appears only after a moment, so that quick answers do not flicker. */
export function Busy({ label, progress }: { label: string; progress?: number }) {
  return (
    <div className={styles.busy} role="status">
      <span className={styles.track} aria-hidden="true">
        <span
          className={progress === undefined ? styles.sweep : styles.done}
          style={progress === undefined ? undefined : { width: `${progress * 100}%` }}
        />
      </span>
      <span>{label}</span>
    </div>
  )
}
