import { useSay } from '../app/session.tsx'
import styles from './compare.module.css'

/** A change as a bar from the middle: a loss to the left and filled, a gain to the right and hollow. `scalePercent` fills half the width. */
export function ChangeBar({ percent, scalePercent }: { percent: number | null; scalePercent: number }) {
  const t = useSay()
  const half = 50
  const length = percent === null ? 0 : Math.min(1, Math.abs(percent) / scalePercent) * half
  const from = percent !== null && percent < 0 ? half - length : half
  return (
    <svg
      className={styles.bar}
      role="img"
      aria-label={t('compare.bar', { value: percent })}
      viewBox="0 0 100 20"
      preserveAspectRatio="none"
    >
      <rect x={from} y="5" width={length} height="10" className={percent !== null && percent < 0 ? styles.loss : styles.gain} />
      <line x1={half} x2={half} y1="1" y2="19" className={styles.axis} />
    </svg>
  )
}
