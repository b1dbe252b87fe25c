import { Link } from 'wouter'
import type { History } from '#core/model/results.ts'
import { useFormatter, useSay, useSentence } from '#renderer/app/session.tsx'
import { VerdictMark } from '#renderer/ui/verdict-mark.tsx'
import { VERDICT_COLOUR } from '#renderer/ui/verdict-patterns.tsx'
import styles from './why.module.css'

const WIDTH = 240
const HEIGHT = 54
const INSET = 6

/** The years before as a small line with its limits, broken where something was changed, and the last value in words. */
export function HistoryLine({ history, nowRunId }: { history: History; nowRunId: string | null }) {
  const t = useSay()
  const sentence = useSentence()
  const formatter = useFormatter()
  const here = history.points.findIndex((point) => point.runId === nowRunId)
  const before = history.points.slice(0, here < 0 ? undefined : here).findLast((point) => point.value !== null && point.runId !== nowRunId)
  const values = history.points.flatMap((point) => [point.value, point.low, point.high]).filter((value) => value !== null)
  const least = Math.min(...values)
  const span = Math.max(...values) - least || 1
  const x = (index: number) => INSET + (history.points.length === 1 ? 0.5 : index / (history.points.length - 1)) * (WIDTH - 2 * INSET)
  const y = (value: number) => HEIGHT - INSET - ((value - least) / span) * (HEIGHT - 2 * INSET)
  return (
    <section className={styles.history} aria-label={t('map.why.history', {})}>
      {before && before.value !== null ? (
        <p className={styles.last}>
          {t('map.why.last', {
            label: before.label,
            value: before.value,
            // Of the same visit it is what was found before it was adjusted.
            what: {
              dimension: history.dimension,
              phase: before.certificationId === history.points[here]?.certificationId ? before.phase : null,
            },
          })}
          <VerdictMark verdict={before.verdict} look="shape" />
        </p>
      ) : (
        <p className={styles.last}>{t('map.why.no_last', {})}</p>
      )}
      {values.length > 1 ? (
        <svg width={WIDTH} height={HEIGHT} role="img" aria-label={t('map.why.history.picture', { n: history.points.length })}>
          {(['low', 'high'] as const).map((limit) => (
            <path
              key={limit}
              className={styles.limit}
              d={lineOf(history.points.map((point, index) => (point[limit] === null ? null : [x(index), y(point[limit])])))}
            />
          ))}
          <path
            className={styles.trend}
            d={lineOf(
              history.points.map((point, index) => (point.value === null ? null : [x(index), y(point.value), point.broken.length > 0])),
            )}
          />
          {history.points.map((point, index) =>
            point.value === null ? null : (
              <circle
                key={point.runId}
                cx={x(index)}
                cy={y(point.value)}
                r={point.runId === nowRunId ? 5 : 3}
                style={{ fill: VERDICT_COLOUR[point.verdict] }}
              >
                <title>{`${point.label} ${formatter.quantity(point.value, history.dimension)}`}</title>
              </circle>
            ),
          )}
        </svg>
      ) : null}
      {history.points.at(-1)?.broken.map((breaks) => (
        <p key={breaks.code}>{sentence(breaks)}</p>
      ))}
      <Link href={`/history/${history.subjectId}`}>{t('map.why.whole_history', {})}</Link>
    </section>
  )
}

function lineOf(points: readonly (readonly [x: number, y: number, broken?: boolean] | null)[]): string {
  let pen = false
  let path = ''
  for (const point of points) {
    if (!point || point[2]) pen = false
    if (!point) continue
    path += `${pen ? 'L' : 'M'}${point[0]} ${point[1]}`
    pen = true
  }
  return path
}
