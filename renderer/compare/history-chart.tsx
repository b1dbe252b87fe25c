import { CartesianGrid, ComposedChart, ErrorBar, Line, ReferenceLine, ResponsiveContainer, Tooltip, XAxis, YAxis } from 'recharts'
import type { History } from '#core/model/results.ts'
import type { Dimension } from '#core/model/values.ts'
import { fromSi, SI_UNIT, toSi } from '#core/units/units.ts'
import { useFormatter, useProject, useSay, useSentence } from '../app/session.tsx'
import { VerdictMark, VerdictShape } from '../ui/verdict-mark.tsx'
import { axisTicks } from './axis-ticks.ts'
import styles from './compare.module.css'
import { type ChartPoint, seriesOf } from './history-series.ts'

const MARK_PX = 16

/** A figure over the years, its limits, the verdict of each run, and where the trend is broken. The table beside it says the same. */
export function HistoryChart({ history, wholeRoom }: { history: History; wholeRoom: boolean }) {
  const t = useSay()
  const formatter = useFormatter()
  const { display } = useProject().body
  const { dimension, points, label } = history
  const unit = dimension === 'velocity' ? display.velocity : dimension === 'flow' ? display.flow : SI_UNIT[dimension]
  const series = seriesOf(history, (si) => fromSi(si, unit))
  const axis = axisTicks(
    series.data
      .flatMap(({ low, high, half, values }) => [
        low,
        high,
        ...Object.values(values).flatMap((value) => (typeof value === 'number' ? [value - (half ?? 0), value + (half ?? 0)] : [])),
      ])
      .filter((value) => typeof value === 'number'),
  )
  const runName = (x: number) => series.data[x]?.point.label ?? ''
  return (
    <figure>
      <div className={styles.chart} role="img" aria-label={t('compare.history.picture', { label, points: points.length })}>
        <ResponsiveContainer width="100%" height="100%">
          <ComposedChart data={[...series.data]} margin={{ top: 28, right: 20, bottom: 8, left: 8 }} accessibilityLayer={false}>
            <CartesianGrid stroke="var(--line)" vertical={false} />
            <XAxis
              dataKey="x"
              type="number"
              domain={[-0.4, points.length - 0.6]}
              ticks={points.map((_, x) => x)}
              tickFormatter={runName}
              interval={0}
              stroke="var(--line-strong)"
              tick={{ fill: 'var(--ink-soft)', fontSize: 12 }}
            />
            <YAxis
              domain={[axis.ticks[0] ?? 'auto', axis.ticks.at(-1) ?? 'auto']}
              ticks={[...axis.ticks]}
              interval={0}
              tickFormatter={(tick: number) => formatter.number(toSi(tick, unit), dimension, { unit, digits: axis.decimals })}
              stroke="var(--line-strong)"
              tick={{ fill: 'var(--ink-soft)', fontSize: 12 }}
              label={{ value: formatter.unit(dimension), position: 'insideTopLeft', offset: -2, fill: 'var(--ink-soft)', fontSize: 12 }}
              width={62}
            />
            {series.breaks.map(({ x }) => (
              <ReferenceLine key={x} x={x - 0.5} stroke="var(--inconclusive)" strokeWidth={2} strokeDasharray="3 2" />
            ))}
            {(['low', 'high'] as const).map((limit) => (
              <Line
                key={limit}
                dataKey={limit}
                stroke="var(--ink)"
                strokeWidth={1.4}
                strokeDasharray="6 4"
                dot={false}
                activeDot={false}
                isAnimationActive={false}
              />
            ))}
            {series.pieces.map((piece) => (
              <Line
                key={piece}
                dataKey={(entry: ChartPoint) => entry.values[piece] ?? null}
                stroke="var(--accent)"
                strokeWidth={2}
                dot={<Mark dimension={dimension} />}
                activeDot={false}
                isAnimationActive={false}
              >
                <ErrorBar
                  dataKey={(entry: ChartPoint) => entry.half ?? 0}
                  direction="y"
                  width={5}
                  stroke="var(--ink-soft)"
                  strokeWidth={1.4}
                  isAnimationActive={false}
                />
              </Line>
            ))}
            <Tooltip content={<Tip history={history} wholeRoom={wholeRoom} />} isAnimationActive={false} />
          </ComposedChart>
        </ResponsiveContainer>
      </div>
      <Legend hasBreaks={series.breaks.length > 0} hasBars={series.data.some(({ half }) => half !== null)} />
    </figure>
  )
}

/** What recharts hands to the mark of one point. */
type MarkProps = { cx?: number; cy?: number; payload?: ChartPoint; value?: unknown; dimension: Dimension }

function Mark({ cx, cy, payload, value, dimension }: MarkProps) {
  const formatter = useFormatter()
  if (cx === undefined || cy === undefined || !payload || value === null || value === undefined) return null
  return (
    <g transform={`translate(${cx - MARK_PX / 2} ${cy - MARK_PX / 2})`}>
      <circle cx={MARK_PX / 2} cy={MARK_PX / 2} r={MARK_PX / 2 + 1} fill="var(--raised)" />
      <VerdictShape verdict={payload.point.verdict} size={MARK_PX} />
      <text x={MARK_PX + 6} y={-2} className={styles.pointFigure}>
        {formatter.number(payload.point.value, dimension)}
      </text>
    </g>
  )
}

type TipProps = { active?: boolean; payload?: readonly { payload?: ChartPoint }[]; history: History; wholeRoom: boolean }

function Tip({ active, payload, history, wholeRoom }: TipProps) {
  const t = useSay()
  const sentence = useSentence()
  const formatter = useFormatter()
  const point = payload?.[0]?.payload?.point
  if (!active || !point) return null
  return (
    <div className={styles.tip}>
      <strong>{point.label}</strong>
      <span>
        {t('compare.why.phase', { phase: point.phase })} ·{' '}
        {point.value === null || point.expandedUncertainty === null
          ? formatter.quantity(point.value, history.dimension)
          : formatter.plusMinus(point.value, point.expandedUncertainty, history.dimension)}
      </span>
      <VerdictMark verdict={point.verdict} />
      {point.overall === point.verdict ? null : (
        <span className={styles.overall}>
          {wholeRoom ? t('compare.history.overall_room', {}) : t('compare.history.overall_filter', {})}
          <VerdictMark verdict={point.overall} />
        </span>
      )}
      {point.broken.map((reason) => (
        <span key={reason.code}>{sentence(reason)}</span>
      ))}
    </div>
  )
}

function Legend({ hasBreaks, hasBars }: { hasBreaks: boolean; hasBars: boolean }) {
  const t = useSay()
  return (
    <figcaption className={styles.legend}>
      <span>
        <i className={styles.dash} aria-hidden="true" />
        {t('compare.history.limit', {})}
      </span>
      {hasBars ? (
        <span>
          <i className={styles.barMark} aria-hidden="true" />
          {t('compare.history.uncertainty_mark', {})}
        </span>
      ) : null}
      {hasBreaks ? (
        <span>
          <i className={styles.breakDash} aria-hidden="true" />
          {t('compare.history.break_mark', {})}
        </span>
      ) : null}
    </figcaption>
  )
}
