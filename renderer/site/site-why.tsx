import { Link } from 'wouter'
import type { Entity } from '#core/model/entities.ts'
import type { CertificationState } from '#core/model/results.ts'
import { useSay, useSentence } from '../app/session.tsx'
import { Why } from '../app/why.tsx'
import { VerdictMark } from '../ui/verdict-mark.tsx'
import { type RoomRow, verdictRank } from './room-rows.ts'
import styles from './site.module.css'

type SiteWhyProps = { certification: Entity<'certification'>; state: CertificationState; rows: readonly RoomRow[] }

/** While no room is selected: the rooms that decide the verdict of the certification, the worst first, each with its reason. */
export function SiteWhy({ certification, state, rows }: SiteWhyProps) {
  const t = useSay()
  const sentence = useSentence()
  const deciding = rows
    .filter(({ verdict, state: room }) => verdict !== null && (verdict !== 'pass' || room?.failedAsFound === true))
    .sort((a, b) => verdictRank(a.verdict) - verdictRank(b.verdict))
  return (
    <Why title={certification.body.name}>
      <VerdictMark verdict={state.verdict} look="chip" />
      {deciding.length === 0 ? <p>{t('site.why.all_pass', {})}</p> : null}
      <ul>
        {deciding.map(({ room, state: own, verdict }) => (
          <li key={room.id} className={styles.deciding}>
            <span className={styles.decidingHead}>
              <VerdictMark verdict={verdict ?? 'not_tested'} />
              <Link href={`/room/${room.id}`}>{room.body.number}</Link>
            </span>
            {own ? <span className={styles.says}>{sentence(own.headline)}</span> : null}
          </li>
        ))}
      </ul>
      <p className={styles.faint}>{t('site.why.select', {})}</p>
    </Why>
  )
}
