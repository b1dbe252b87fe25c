import { useQuery } from '@tanstack/react-query'
import { useId } from 'react'
import type { Uuid } from '#core/model/values.ts'
import { orpc } from '../app/client.ts'
import { useFailureText, useSay, useSentence } from '../app/session.tsx'
import { Busy } from '../ui/busy.tsx'
import { Icon } from '../ui/icon.tsx'
import { VerdictMark } from '../ui/verdict-mark.tsx'
import { WholeTags } from '../ui/whole-tags.tsx'
import styles from './compare.module.css'
import type { CompareChoice } from './compare-choice.ts'

/** "Would last year have passed under this year's criteria?", answered at once. */
export function OtherCriteria({ choice, onShow }: { choice: CompareChoice; onShow: (roomId: Uuid) => void }) {
  const t = useSay()
  const headingId = useId()
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
    otherwise.length === 0
      ? t('compare.under.yes', { rooms: changed.length })
      : t('compare.under.no', { count: otherwise.length, rooms: changed.length })
  if (query.data && changed.length === 0) return null
  return (
    <section className={styles.under} aria-labelledby={headingId}>
      <h2 id={headingId} className={styles.underTitle}>
        {t('compare.under.title', { before: then?.body.name ?? '', now: now?.body.name ?? '' })}
      </h2>
      {query.isPending ? <Busy label={t('compare.under.busy', {})} /> : null}
      {query.error ? <p role="alert">{failureText(query.error)}</p> : null}
      {query.data ? <p className={styles.answer}>{answer}</p> : null}
      <ul className={styles.underRooms}>
        {otherwise.map((room) => (
          <li key={room.roomId}>
            <button
              type="button"
              className={styles.underRoom}
              title={t('compare.under.show', { room: room.label })}
              onClick={() => onShow(room.roomId)}
            >
              <strong>{room.label}</strong>
              <VerdictMark verdict={room.asJudged} />
              <Icon name="right" size={14} />
              <VerdictMark verdict={room.underOther} />
              <span className={styles.soft}>
                <WholeTags text={sentence(room.headline)} />
              </span>
            </button>
          </li>
        ))}
      </ul>
    </section>
  )
}
