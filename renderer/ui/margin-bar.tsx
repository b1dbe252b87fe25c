import type { Verdict } from '#core/model/criteria.ts'
import { joined } from './class-names.ts'
import styles from './margin-bar.module.css'
import { marginScale } from './margin-scale.ts'
import { VERDICT_COLOUR } from './verdict-patterns.tsx'

type MarginBarProps = {
  /** all in the same unit */
  value: number | null
  low: number | null
  high: number | null
  verdict: Verdict
  /** what the bar shows, in words: "0.41 m/s against at least 0.36 m/s" */
  label: string
  className?: string
}

/** Limit and margin as a thin scale: the permitted part is a solid rail, the limits are posts, the value is a needle. */
export function MarginBar({ value, low, high, verdict, label, className }: MarginBarProps) {
  const scale = marginScale(value, low, high)
  const from = scale.low ?? 0
  const to = scale.high ?? 1
  const percent = (place: number) => `${place * 100}%`
  const limited = scale.low !== null || scale.high !== null
  return (
    <span className={joined(styles.bar, className)} role="img" aria-label={label}>
      {limited ? <span className={styles.permitted} style={{ left: percent(from), width: percent(to - from) }} /> : null}
      {scale.low !== null ? <span className={styles.post} style={{ left: percent(scale.low) }} /> : null}
      {scale.high !== null ? <span className={styles.post} style={{ left: percent(scale.high) }} /> : null}
      {scale.value !== null ? (
        <span className={styles.needle} style={{ left: percent(scale.value), color: VERDICT_COLOUR[verdict] }} />
      ) : null}
    </span>
  )
}
