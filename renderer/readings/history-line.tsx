import type { History } from '#core/model/results.ts'
import { VERDICT_COLOUR } from '../ui/verdict-patterns.tsx'
import styles from './filter-why.module.css'

const WIDTH = 280
const HEIGHT = 64
const EDGE = 10

/** The last visits of one filter as a small line; a break (a new filter element) parts it. */
export function HistoryLine({ history, label }: { history: History; label: string }) {
  const points = history.points.flatMap((point) => (point.value === null ? [] : [{ ...point, value: point.value }]))
  if (points.length === 0) return null
  const limits = points.flatMap((point) => [point.low, point.high]).filter((limit) => limit !== null)
  const all = [...points.map((point) => point.value), ...limits]
  const least = Math.min(...all)
  const span = Math.max(...all) - least || 1
  const x = (index: number) => EDGE + (points.length === 1 ? 0.5 : index / (points.length - 1)) * (WIDTH - 2 * EDGE)
  const y = (value: number) => HEIGHT - EDGE - ((value - least) / span) * (HEIGHT - 2 * EDGE)
  const line = points.map((point, index) => `${index === 0 || point.broken.length > 0 ? 'M' : 'L'}${x(index)} ${y(point.value)}`).join('')
  const last = points.at(-1)
  return (
    <svg viewBox={`0 0 ${WIDTH} ${HEIGHT}`} className={styles.history} role="img" aria-label={label}>
      {[last?.low ?? null, last?.high ?? null].map((limit, index) =>
        limit === null ? null : (
          <line key={index === 0 ? 'low' : 'high'} x1={0} x2={WIDTH} y1={y(limit)} y2={y(limit)} className={styles.limit} />
        ),
      )}
      <path d={line} className={styles.trend} />
      {points.map((point, index) => (
        <circle key={`${point.runId}`} cx={x(index)} cy={y(point.value)} r={4} style={{ fill: VERDICT_COLOUR[point.verdict] }} />
      ))}
    </svg>
  )
}
