import type { ImportOutcome } from '#core/api/imports.ts'
import { useSay, useSentence, useSession } from '../app/session.tsx'
import type { RunPlan } from '../readings/run-plan.ts'
import { useFlagWord } from '../readings/words-of-states.ts'
import { Busy } from '../ui/busy.tsx'
import { Button } from '../ui/button.tsx'
import { Checkbox } from '../ui/checkbox.tsx'
import { Icon } from '../ui/icon.tsx'
import { Panel } from '../ui/panel.tsx'
import { FacePreview } from './face-preview.tsx'
import styles from './import.module.css'
import { LongList } from './long-list.tsx'
import type { Followed } from './use-import.ts'

type FileFateProps = {
  seen: Followed
  plan: RunPlan | null
  again: boolean
  onAgain: (again: boolean) => void
  waitsForInstrument: boolean
  canKeep: boolean
  onKeep: () => void
}

/** What would become of the file, with the way to keep it, its problems, and its values on the faces. */
export function FileFate({ seen, plan, again, onAgain, waitsForInstrument, canKeep, onKeep }: FileFateProps) {
  const t = useSay()
  const sentence = useSentence()
  const { outcome } = seen
  if (waitsForInstrument)
    return (
      <p className={styles.problem}>
        <Icon name="info" /> <span>{t('import.instrument.needed', {})}</span>
      </p>
    )
  const known = outcome !== null && outcome.earlier.length > 0
  const ready = outcome !== null && !seen.running && outcome.problemRows === 0 && outcome.readings > 0 && (!known || again)
  return (
    <div className={styles.fate}>
      {seen.running ? (
        <div className={styles.fileLine}>
          <Busy label={t('import.checking', {})} progress={seen.progress} />
          <Button onClick={seen.cancel}>{t('import.stop', {})}</Button>
        </div>
      ) : null}
      {seen.cancelled ? (
        <div className={styles.fileLine}>
          <p>{t('import.check_stopped', {})}</p>
          <Button onClick={seen.start}>{t('import.check_again', {})}</Button>
        </div>
      ) : null}
      {seen.failed ? (
        <p role="alert" className={styles.problem}>
          <Icon name="warn" /> <span>{sentence(seen.failed)}</span>
        </p>
      ) : null}
      {outcome ? (
        <>
          <div className={styles.verdict} data-problems={outcome.problemRows > 0 ? '' : undefined}>
            <Verdict outcome={outcome} />
            <div className={styles.keep}>
              {known && outcome.problemRows === 0 ? <Checkbox label={t('import.again', {})} checked={again} onChange={onAgain} /> : null}
              <Button kind="primary" large icon="save" disabled={!ready || !canKeep} onClick={onKeep}>
                {t('import.do', { readings: outcome.readings })}
              </Button>
            </div>
          </div>
          <Problems outcome={outcome} />
          {plan ? <FacePreview outcome={outcome} plan={plan} /> : null}
        </>
      ) : null}
    </div>
  )
}

function Verdict({ outcome }: { outcome: ImportOutcome }) {
  const t = useSay()
  const sentence = useSentence()
  const flagWord = useFlagWord()
  const { people } = useSession()
  const nameOf = (id: string) => people.find((person) => person.id === id)?.body.name ?? ''
  const { rows, readings, problemRows } = outcome
  return (
    <div role="status" className={styles.said}>
      <p>
        <Icon name={problemRows > 0 ? 'warn' : 'check'} />
        <span>{t('import.verdict', { rows, readings, problemRows })}</span>
      </p>
      {outcome.notes.map((note) => (
        <p key={note.code}>{sentence(note)}</p>
      ))}
      {outcome.flags.map(({ flag, readings: flagged }) => (
        <p key={flag}>{t('import.flagged', { readings: flagged, flag: flagWord(flag) })}</p>
      ))}
      {outcome.keptWhole ? null : <p>{t('import.hash_only', {})}</p>}
      {outcome.earlier.map(({ name, at, personId }) => (
        <p key={at}>{t('import.earlier', { name, at, person: nameOf(personId) })}</p>
      ))}
    </div>
  )
}

function Problems({ outcome }: { outcome: ImportOutcome }) {
  const t = useSay()
  const sentence = useSentence()
  const { problems, problemRows } = outcome
  if (problems.length === 0) return null
  return (
    <Panel title={t('import.problems_title', { shown: problems.length, all: problemRows })} flush>
      <LongList
        label={t('import.problems_title', { shown: problems.length, all: problemRows })}
        items={problems}
        itemKey={({ row }) => row}
        line={({ row, column, text, sentence: why }) => (
          <>
            <span className={styles.place}>{t('import.problem_at', { row, column })}</span>
            <code className={styles.cell}>{text}</code>
            <span>{sentence(why)}</span>
          </>
        )}
      />
    </Panel>
  )
}

/** The readings that the rows would become, in their order. */
export function FoundReadings({ outcome }: { outcome: ImportOutcome }) {
  const t = useSay()
  const flagWord = useFlagWord()
  const { preview, readings } = outcome
  if (preview.length === 0) return null
  const title = t('import.rows_title', { shown: preview.length, all: readings })
  return (
    <Panel title={title} flush>
      <LongList
        label={title}
        items={preview}
        itemKey={({ row }) => row}
        line={({ row, tag, order, sample, typed, unit, at, flags }) => (
          <>
            <span className={styles.place}>{t('import.reading_row', { row, tag: tag ?? '', point: order, sample })}</span>
            <span className={styles.cell}>{t('import.reading_value', { typed, unit })}</span>
            <span>{t('import.reading_at', { at })}</span>
            <span className={styles.quiet}>{flags.map(flagWord).join(', ')}</span>
          </>
        )}
      />
    </Panel>
  )
}
