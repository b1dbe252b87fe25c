import type { ReactNode } from 'react'
import { Link } from 'wouter'
import type { EntityBody } from '#core/model/entities.ts'
import type { Sentence } from '#core/model/results.ts'
import type { Unit, Uuid } from '#core/model/values.ts'
import { unitLabel } from '#core/units/units.ts'
import { useSay, useSentence } from '../app/session.tsx'
import { Button } from '../ui/button.tsx'
import { Icon } from '../ui/icon.tsx'
import styles from './entry-line.module.css'
import { useRested } from './use-rested.ts'

export type EntryLineProps = {
  tag: string
  order: number
  points: number
  sample: number
  samples: number
  draft: string
  unit: Unit
  /** what stands at the place already */
  stored: string | null
  problem: Sentence | null
  /** asks what is odd about the number being typed, once the fingers rest */
  questionDraft: (draft: string) => Sentence | null
  /** the number entered last and what is odd about it */
  last: { where: string; text: string; question: Sentence | null } | null
  next: string
  /** what follows from the number at once: the velocity of a pressure */
  follows?: ReactNode
}

/** Takes no room and has a line's height, so that nothing moves when the first digit comes. */
const NOTHING = '\u200B'

/** What is being typed, what was typed last, what is odd about either, and what comes next. Nothing here has to be answered. */
export function EntryLine(props: EntryLineProps) {
  const { tag, order, points, sample, samples, draft, unit, stored, problem, questionDraft, last, next, follows } = props
  const t = useSay()
  const sentence = useSentence()
  const rested = useRested(draft, 700)
  const ofDraft = rested !== '' && rested === draft && !problem ? questionDraft(rested) : null
  const question = ofDraft ?? (draft === '' ? (last?.question ?? null) : null)
  const lastText = last ? t('readings.last_typed', { where: last.where, value: last.text }) : ''
  const askedOf = !ofDraft && last && last.where !== '' ? t('readings.last_asked', { where: last.where }) : null
  return (
    <section className={styles.entry}>
      <div className={styles.place}>
        <span className={styles.where}>{points === 1 ? tag : t('readings.now', { tag, order, points })}</span>
        {samples > 1 ? <span>{t('readings.sample_of', { sample, samples })}</span> : null}
      </div>
      <output className={styles.draft} data-empty={draft === '' ? '' : undefined} data-problem={problem ? '' : undefined}>
        <span className={styles.typed}>{(draft === '' ? (stored ?? '') : draft).replace('-', '−') || NOTHING}</span>
        <span className={styles.unit}>{unitLabel(unit)}</span>
      </output>
      <div className={styles.said}>
        {problem ? (
          <p className={styles.problem}>
            <Icon name="warn" size={16} />
            {sentence(problem)}
          </p>
        ) : question ? (
          <p className={styles.question}>
            <Icon name="help" size={16} />
            <span>
              {askedOf ? <span>{askedOf} </span> : null}
              <span>{sentence(question)}</span>
            </span>
          </p>
        ) : (
          <p className={styles.hint}>
            {draft !== ''
              ? t('readings.state.typing', {})
              : stored
                ? t('readings.was', { value: stored })
                : lastText || t('readings.type_here', {})}
          </p>
        )}
        {follows ? <p className={styles.follows}>{follows}</p> : null}
        <p className={styles.next}>{next}</p>
      </div>
      <p className="visually-hidden" role="status">
        {t('readings.announce', { tag, order, last: question ? `${lastText} ${sentence(question)}` : lastText })}
      </p>
    </section>
  )
}

type NothingAheadProps = { missing: number; state: EntityBody<'run'>['state']; certificationId: Uuid | null; onGo: () => void }

/** Stands in place of the entry when no point waits ahead, or the run takes no readings any more. */
export function NothingAhead({ missing, state, certificationId, onGo }: NothingAheadProps) {
  const t = useSay()
  const isOpen = state === 'open'
  return (
    <section className={styles.entry} role="status">
      {isOpen || missing === 0 ? (
        <p className={styles.where}>{missing === 0 ? t('readings.all_passed', {}) : t('readings.some_passed', { missing })}</p>
      ) : null}
      {!isOpen ? (
        <p className={styles.hint}>{state === 'signed' ? t('error.run_signed', {}) : t('readings.run_not_open', {})}</p>
      ) : missing === 0 ? (
        <p className={styles.hint}>{t('readings.all_passed_hint', {})}</p>
      ) : (
        <Button large kind="primary" onClick={onGo}>
          {t('readings.go_to_missing', {})}
        </Button>
      )}
      {isOpen && certificationId ? (
        <Link href={`/certification/${certificationId}`} className={styles.onward}>
          {t('readings.to_complete', {})}
        </Link>
      ) : null}
    </section>
  )
}
