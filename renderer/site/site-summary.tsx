import { Link } from 'wouter'
import { Verdict } from '#core/model/criteria.ts'
import type { Entity } from '#core/model/entities.ts'
import type { CertificationState } from '#core/model/results.ts'
import { useSay } from '../app/session.tsx'
import { Figure } from '../ui/figure.tsx'
import { useVerdictWord, VerdictBar, VerdictMark, VerdictShape } from '../ui/verdict-mark.tsx'
import { type RoomRow, siteTotals, verdictRank } from './room-rows.ts'
import styles from './site.module.css'

type SiteSummaryProps = { certification: Entity<'certification'>; state: CertificationState | null; rows: readonly RoomRow[] }

/** The certification shown in one line: its verdict, how many rooms stand where, how far the measuring is. */
export function SiteSummary({ certification, state, rows }: SiteSummaryProps) {
  const t = useSay()
  const word = useVerdictWord()
  const totals = siteTotals(rows)
  const present = Verdict.options.filter((verdict) => totals.counts[verdict] > 0).sort((a, b) => verdictRank(a) - verdictRank(b))
  return (
    <section className={styles.summary} aria-label={certification.body.name}>
      <div className={styles.summaryName}>
        <Link href={`/certification/${certification.id}`} className={styles.certificationLink}>
          {certification.body.name}
        </Link>
        <span className={styles.faint}>
          {t('site.dates', { startsOn: certification.body.startsOn, endsOn: certification.body.endsOn })} ·{' '}
          {t('site.in_scope', { rooms: totals.inScope })}
        </span>
        <VerdictMark verdict={state?.verdict ?? 'not_tested'} look="chip" className={styles.chip} />
      </div>
      <div className={styles.summaryBar}>
        <ul className={styles.counts}>
          {present.map((verdict) => (
            <li key={verdict} className={styles.count}>
              <VerdictShape verdict={verdict} />
              <span className={styles.countNumber}>{totals.counts[verdict]}</span>
              {word(verdict)}
            </li>
          ))}
        </ul>
        <VerdictBar counts={totals.counts} label={t('site.rooms_by_verdict', {})} />
      </div>
      <Figure
        className={styles.progress}
        label={t('site.filters', {})}
        value={String(totals.measured)}
        unit={t('site.of_filters', { planned: totals.planned })}
      />
    </section>
  )
}
