import { useQuery } from '@tanstack/react-query'
import { orpc } from '../app/client.ts'
import { useFailureText, useSay, useSentence } from '../app/session.tsx'
import { Busy } from '../ui/busy.tsx'
import { Panel } from '../ui/panel.tsx'
import { VerdictMark } from '../ui/verdict-mark.tsx'
import styles from './compare.module.css'
import type { CompareChoice } from './compare-choice.ts'

/** "Would last year have passed under this year's criteria?", answered at once. */
export function OtherCriteria({ choice }: { choice: CompareChoice }) {
  const t = useSay()
  const sentence = useSentence()
  const failureText = useFailureText()
  const { now, earlier: then, roomId } = choice
  const query = useQuery(
    orpc.compare.underOtherCriteria.queryOptions({
      input: { certificationId: then?.id ?? '', criteriaFromId: now?.id ?? '', roomId },
      enabled: now !== null && then !== null,
    }),
  )
  const changed = query.data?.filter((room) => room.changedCriteria) ?? []
  const otherwise = changed.filter((room) => room.asJudged !== room.underOther)
  const answer =
    changed.length === 0
      ? t('compare.under.same', {})
      : otherwise.length === 0
        ? t('compare.under.yes', { rooms: changed.length })
        : t('compare.under.no', { count: otherwise.length, rooms: changed.length })
  return (
    <Panel title={t('compare.under.title', { before: then?.body.name ?? '', now: now?.body.name ?? '' })}>
      <div className={styles.under}>
        {query.isPending ? <Busy label={t('compare.under.busy', {})} /> : null}
        {query.error ? <p role="alert">{failureText(query.error)}</p> : null}
        {query.data ? <p className={styles.answer}>{answer}</p> : null}
        {otherwise.map((room) => (
          <div key={room.roomId} className={styles.underRoom}>
            <p className={styles.underVerdicts}>
              <strong>{room.label}</strong>
              <VerdictMark verdict={room.asJudged} />
              <span aria-hidden="true">{'→'}</span>
              <VerdictMark verdict={room.underOther} />
            </p>
            <p className={styles.soft}>{sentence(room.headline)}</p>
          </div>
        ))}
      </div>
    </Panel>
  )
}
