import { memo } from 'react'
import type { FilterResult } from '#core/model/results.ts'
import type { Unit } from '#core/model/values.ts'
import { useFormatter, useSay } from '../app/session.tsx'
import { Figure } from '../ui/figure.tsx'
import { VerdictMark } from '../ui/verdict-mark.tsx'
import styles from './live-figures.module.css'
import type { LiveFilter } from './use-live-filter.ts'

type LiveFiguresProps = { live: LiveFilter; unit: Unit; orderOf: (point: number) => number }

/** Mean, spread, largest deviation, flow and verdict of the filter that is being measured. */
export const LiveFigures = memo(function LiveFigures({ live, unit, orderOf }: LiveFiguresProps) {
  const t = useSay()
  const f = useFormatter()
  const { result, settled } = live
  if (!result) return <p className={styles.none}>{t('readings.figure.no_verdict', {})}</p>
  const velocity = { unit }
  return (
    <section className={styles.figures} data-settled={settled ? '' : undefined}>
      <div className={styles.verdict}>
        <VerdictMark verdict={result.verdict} look="chip" />
        <span className={styles.standing} title={settled ? undefined : t('readings.figure.provisional_hint', {})}>
          {settled ? t('readings.figure.settled', {}) : t('readings.figure.provisional', {})}
        </span>
      </div>
      <Figure
        className={styles.mean}
        label={t('readings.figure.mean', {})}
        value={f.number(result.meanVelocityMps, 'velocity', velocity)}
        unit={f.unit('velocity', unit)}
        note={result.percentOfDesign === null ? undefined : t('readings.figure.design', { percent: result.percentOfDesign })}
      />
      <Spread result={result} orderOf={orderOf} />
      <Figure size="large" label={t('readings.figure.flow', {})} value={f.number(result.flowM3ps, 'flow')} unit={f.unit('flow')} />
    </section>
  )
})

function Spread({ result, orderOf }: { result: FilterResult; orderOf: (point: number) => number }) {
  const t = useSay()
  const f = useFormatter()
  const at = result.largestDeviationPoint
  return (
    <>
      <Figure
        size="large"
        label={t('readings.figure.spread', {})}
        value={f.number(result.relativeStandardDeviationPercent, 'percent')}
        unit={f.unit('percent')}
      />
      <Figure
        size="large"
        label={t('readings.figure.deviation', {})}
        value={f.number(result.largestDeviationPercent, 'percent')}
        unit={f.unit('percent')}
        note={at === null ? undefined : t('readings.figure.at_point', { order: orderOf(at) })}
      />
    </>
  )
}
