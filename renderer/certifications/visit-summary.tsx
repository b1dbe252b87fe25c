import { useQuery } from '@tanstack/react-query'
import type { CertificationState } from '#core/model/results.ts'
import type { Uuid } from '#core/model/values.ts'
import { orpc } from '../app/client.ts'
import { useSay } from '../app/session.tsx'
import { Figure } from '../ui/figure.tsx'
import { VerdictBar, VerdictMark } from '../ui/verdict-mark.tsx'
import styles from './certifications.module.css'
import { progressOf } from './room-lines.ts'

/** How far the visit has come, in figures: rooms, filters, failures, and what is left to measure. */
export function VisitSummary({ certificationId, state }: { certificationId: Uuid; state: CertificationState }) {
  const t = useSay()
  const remaining = useQuery(orpc.certifications.remaining.queryOptions({ input: { certificationId } }))
  const progress = progressOf(state)
  return (
    <section className={styles.summary}>
      <div className={styles.overall}>
        <VerdictMark verdict={state.verdict} look="chip" />
        <VerdictBar counts={state.counts} label={t('certifications.progress.verdicts', {})} />
      </div>
      <Figure
        label={t('certifications.progress.rooms', {})}
        value={t('certifications.progress.of', { done: progress.done, all: progress.rooms })}
      />
      <Figure
        label={t('certifications.progress.filters', {})}
        value={t('certifications.progress.of', { done: progress.measured, all: progress.filters })}
      />
      <Figure label={t('certifications.progress.failing', {})} value={String(progress.failing)} />
      {remaining.data ? (
        <Figure
          label={t('certifications.progress.left', {})}
          value={t('certifications.progress.readings', { readings: remaining.data.readings })}
          note={t('certifications.progress.hours', { minutes: remaining.data.minutes })}
          size="large"
        />
      ) : null}
    </section>
  )
}
