import type { CertificationState, VerdictCounts } from '#core/model/results.ts'
import { useSay } from '../app/session.tsx'
import { Figure } from '../ui/figure.tsx'
import { VerdictBar, VerdictMark } from '../ui/verdict-mark.tsx'
import styles from './certifications.module.css'
import type { progressOf } from './room-lines.ts'

type VisitSummaryProps = {
  state: CertificationState
  progress: ReturnType<typeof progressOf>
  remaining: { readings: number; minutes: number } | null
}

function roomsByVerdict(state: CertificationState): VerdictCounts {
  const counts: VerdictCounts = { pass: 0, fail: 0, inconclusive: 0, not_tested: 0, not_valid: 0, not_applicable: 0 }
  for (const room of state.rooms) counts[room.verdict] += 1
  return counts
}

/** How far the visit has come, in figures: rooms, filters, failures, and what is left to measure. */
export function VisitSummary({ state, progress, remaining }: VisitSummaryProps) {
  const t = useSay()
  return (
    <section className={styles.summary}>
      <div className={styles.overall}>
        <VerdictMark verdict={state.verdict} look="chip" />
        <VerdictBar counts={roomsByVerdict(state)} label={t('certifications.progress.verdicts', {})} />
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
      {remaining ? (
        <Figure
          label={t('certifications.progress.left', {})}
          value={String(remaining.readings)}
          note={remaining.readings > 0 ? t('certifications.progress.hours', { minutes: remaining.minutes }) : undefined}
        />
      ) : null}
    </section>
  )
}
