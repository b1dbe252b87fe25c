import type { FilterResult } from '#core/model/results.ts'
import { useSay } from '../../app/session.tsx'
import type { FilterPlan } from '../run-plan.ts'
import type { HandInstrument } from '../use-hand-instrument.ts'
import styles from './whole.module.css'

type HoodFactorLineProps = { filter: FilterPlan; result: FilterResult; instrument: HandInstrument | null }

/** The hood's factor in force for this face and flow, with the reason it was written down with. */
export function HoodFactorLine({ filter, result, instrument }: HoodFactorLineProps) {
  const t = useSay()
  const { face } = filter.terminal.body
  const of = { face }
  if (result.hoodFactor === null) return <p className={styles.line}>{t('ways.hood.no_reading', { of })}</p>
  const entry = instrument?.body.hoodFactors.find((candidate) => candidate.face === face && candidate.factor === result.hoodFactor)
  return (
    <p className={styles.line}>
      {entry
        ? t('ways.hood.factor', { factor: entry.factor, of, because: entry.reason })
        : result.hoodFactor === 1
          ? t('ways.hood.no_factor', { of })
          : t('ways.hood.several', { factor: result.hoodFactor })}
    </p>
  )
}
