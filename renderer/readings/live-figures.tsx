import { memo } from 'react'
import { limitsHeld } from '#core/criteria/limits-held.ts'
import type { Uncertainty } from '#core/model/results.ts'
import type { Basis, Unit } from '#core/model/values.ts'
import { useFormatter, useSay } from '../app/session.tsx'
import { Figure } from '../ui/figure.tsx'
import { VerdictMark } from '../ui/verdict-mark.tsx'
import styles from './live-figures.module.css'
import type { Way } from './run-plan.ts'
import type { LiveFilter } from './use-live-filter.ts'

type LiveFiguresProps = { live: LiveFilter; way: Way; unit: Unit; orderOf: (point: number) => number }

/** Mean, spread, largest deviation, flow and verdict of what is being measured, as far as its way gives them. */
export const LiveFigures = memo(function LiveFigures({ live, way, unit, orderOf }: LiveFiguresProps) {
  const t = useSay()
  const f = useFormatter()
  const { result, zone, settled } = live
  // What a whole terminal says stands in its stage, below its number.
  if (way === 'hood' || way === 'flow_element') return null
  const verdict = result?.verdict ?? zone?.verdict
  if (!verdict) return <p className={styles.none}>{t('readings.figure.no_verdict', {})}</p>
  const basis = result?.basis ?? zone?.basis ?? 'as_indicated'
  const criteria = result?.criteria ?? zone?.criteria ?? []
  const percent = result?.percentOfDesign ?? zone?.percentOfDesign ?? null
  const ofDesign = percent === null ? null : t('readings.figure.design', { percent })
  return (
    <section aria-label={t('ways.figures', {})} className={styles.figures}>
      <div className={styles.verdict}>
        <VerdictMark verdict={verdict} look="chip" />
        <Standing settled={settled} />
      </div>
      <Figure
        className={styles.mean}
        label={t('readings.figure.mean', {})}
        value={f.number(result?.meanVelocityMps ?? zone?.meanVelocityMps ?? null, 'velocity', {
          unit,
          heldAgainst: limitsHeld(criteria, 'face_velocity'),
        })}
        unit={f.unit('velocity', unit)}
        note={
          <Notes
            basis={basis}
            uncertainty={result?.uncertainty?.meanVelocity ?? zone?.uncertainty ?? null}
            dimension="velocity"
            more={ofDesign}
          />
        }
      />
      <Spread
        rsd={result?.relativeStandardDeviationPercent ?? zone?.relativeStandardDeviationPercent ?? null}
        deviation={result?.largestDeviationPercent ?? zone?.largestDeviationPercent ?? null}
        at={result?.largestDeviationPoint ?? null}
        orderOf={orderOf}
      />
      {zone && zone.pointsWithinPercent !== null ? (
        <Figure
          size="large"
          label={t('ways.figure.within', {})}
          value={f.number(zone.pointsWithinPercent, 'percent', { digits: 0 })}
          unit={f.unit('percent')}
        />
      ) : null}
      {result ? (
        <Figure
          size="large"
          label={t('readings.figure.flow', {})}
          value={f.number(result.flowM3ps, 'flow', { heldAgainst: limitsHeld(criteria, 'flow') })}
          unit={f.unit('flow')}
          note={<Notes basis={basis} uncertainty={result.uncertainty?.flow ?? null} dimension="flow" more={null} />}
        />
      ) : null}
    </section>
  )
})

/** Whether the project has worked the figures out from what it holds, or this screen from what is typed. */
export function Standing({ settled }: { settled: boolean }) {
  const t = useSay()
  return (
    <span
      className={styles.standing}
      data-settled={settled ? '' : undefined}
      title={settled ? undefined : t('readings.figure.provisional_hint', {})}
    >
      {settled ? t('readings.figure.settled', {}) : t('readings.figure.provisional', {})}
    </span>
  )
}

type NotesProps = { basis: Basis; uncertainty: Uncertainty | null; dimension: 'velocity' | 'flow'; more: string | null }

/** Which air the figure speaks of, how sure it is, and what else is to be said of it. */
export function Notes({ basis, uncertainty, dimension, more }: NotesProps) {
  const t = useSay()
  return (
    <>
      <span className={styles.basis}>{t('ways.basis', { of: { basis } })}</span>
      {uncertainty ? <span className={styles.basis}>{t('budget.beside', { ...uncertainty, dimension })}</span> : null}
      {more ? <span className={styles.basis}>{more}</span> : null}
    </>
  )
}

type SpreadProps = { rsd: number | null; deviation: number | null; at: number | null; orderOf: (point: number) => number }

function Spread({ rsd, deviation, at, orderOf }: SpreadProps) {
  const t = useSay()
  const f = useFormatter()
  return (
    <>
      <Figure size="large" label={t('readings.figure.spread', {})} value={f.number(rsd, 'percent')} unit={f.unit('percent')} />
      <Figure
        size="large"
        label={t('readings.figure.deviation', {})}
        value={f.number(deviation, 'percent')}
        unit={f.unit('percent')}
        note={at === null ? undefined : t('readings.figure.at_point', { order: orderOf(at) })}
      />
    </>
  )
}
