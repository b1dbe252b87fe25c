import { countVerdicts } from '#core/criteria/roll-up.ts'
import type { CertificationState } from '#core/model/results.ts'
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

/** How far the visit has come, in figures: rooms, filters, failures, and what is left to measure. */
export function VisitSummary({ state, progress, remaining }: VisitSummaryProps) {
  const t = useSay()
  return (
    <section className={styles.summary}>
      <div className={styles.overall}>
        <VerdictMark verdict={state.verdict} look="chip" />
        <VerdictBar counts={countVerdicts(state.rooms.map((room) => room.verdict))} label={t('certifications.progress.verdicts', {})} />
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
