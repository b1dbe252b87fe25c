import type { Quantity, Unit } from '#core/model/values.ts'
import { fromSi, fromSiDifference } from '#core/units/units.ts'
import { useSay } from '../app/session.tsx'
import { axisTicks } from '../compare/axis-ticks.ts'
import type { CorrectionMark } from './evidence-form.ts'
import styles from './instruments.module.css'

const WIDTH = 520
const HEIGHT = 150
const LEFT = 56
const RIGHT = 16
const TOP = 10
const BOTTOM = 36

/** The corrections of a certificate over its readings: a bar for U at every point, the line between them is what corrects. */
export function CorrectionChart({ quantity, unit, marks }: { quantity: Quantity; unit: Unit; marks: readonly CorrectionMark[] }) {
  const t = useSay()
  const points = marks.map((mark) => ({
    at: fromSi(mark.reading, unit),
    correction: fromSiDifference(mark.correction, unit),
    half: fromSiDifference(mark.expandedUncertainty, unit),
  }))
  const across = axisTicks(points.map(({ at }) => at))
  const up = axisTicks([0, ...points.flatMap(({ correction, half }) => [correction - half, correction + half])])
  const x = scaleOf(across.ticks, LEFT, WIDTH - RIGHT)
  const y = scaleOf(up.ticks, HEIGHT - BOTTOM, TOP)
  if (points.length < 2) return null
  return (
    <svg
      className={styles.correctionChart}
      viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
      role="img"
      aria-label={t('instruments.chart', { quantity, points: points.length })}
    >
      {up.ticks.map((tick) => (
        <g key={tick}>
          <line x1={LEFT} x2={WIDTH - RIGHT} y1={y(tick)} y2={y(tick)} className={tick === 0 ? styles.chartZero : styles.chartGrid} />
          <text x={LEFT - 6} y={y(tick) + 4} textAnchor="end">
            {t('instruments.chart.number', { value: tick, digits: up.decimals })}
          </text>
        </g>
      ))}
      {across.ticks.map((tick) => (
        <text key={tick} x={x(tick)} y={HEIGHT - BOTTOM + 16} textAnchor="middle">
          {t('instruments.chart.number', { value: tick, digits: across.decimals })}
        </text>
      ))}
      <text x={(LEFT + WIDTH - RIGHT) / 2} y={HEIGHT - 4} textAnchor="middle">
        {t('instruments.chart.across', { quantity, unit })}
      </text>
      <text x={-(TOP + HEIGHT - BOTTOM) / 2} y={12} transform="rotate(-90)" textAnchor="middle">
        {t('instruments.chart.up', { unit })}
      </text>
      <polyline className={styles.chartLine} points={points.map(({ at, correction }) => `${x(at)},${y(correction)}`).join(' ')} />
      {points.map(({ at, correction, half }) => (
        <g key={at}>
          <line x1={x(at)} x2={x(at)} y1={y(correction - half)} y2={y(correction + half)} className={styles.chartBar} />
          <circle cx={x(at)} cy={y(correction)} r={3.5} className={styles.chartDot} />
        </g>
      ))}
    </svg>
  )
}

function scaleOf(ticks: readonly number[], from: number, to: number): (value: number) => number {
  const low = ticks[0] ?? 0
  const high = ticks.at(-1) ?? 1
  return (value) => from + ((value - low) / (high - low || 1)) * (to - from)
}
