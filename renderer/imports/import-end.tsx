import type { ReactNode } from 'react'
import { Link } from 'wouter'
import type { ImportInto } from '#core/api/imports.ts'
import { useSay, useSentence } from '../app/session.tsx'
import { useUndo } from '../app/undo.ts'
import { Busy } from '../ui/busy.tsx'
import { Button } from '../ui/button.tsx'
import { Icon } from '../ui/icon.tsx'
import styles from './import.module.css'
import type { Followed } from './use-import.ts'

type ImportEndProps = { into: ImportInto; keep: Followed; onBack: () => void }

/** An import under way, and what became of it. */
export function ImportEnd({ into, keep, onBack }: ImportEndProps) {
  const t = useSay()
  const { outcome, running } = keep
  if (running) {
    return (
      <div className={styles.fileLine}>
        <Busy label={t('import.writing', {})} progress={keep.progress} />
        <Button large onClick={keep.cancel}>
          {t('import.stop', {})}
        </Button>
      </div>
    )
  }
  return (
    <div className={styles.desk}>
      <Said keep={keep} />
      <div className={styles.fileLine}>
        <Button large onClick={onBack}>
          {outcome?.imported ? t('import.other_file', {}) : t('import.back_to_mapping', {})}
        </Button>
        {outcome?.imported ? <TakeBack into={into} onBack={onBack} /> : null}
        {outcome?.imported ? <WayOut into={into} /> : null}
      </div>
    </div>
  )
}

function Said({ keep }: { keep: Followed }): ReactNode {
  const t = useSay()
  const sentence = useSentence()
  const { outcome, failed } = keep
  if (outcome?.imported) {
    return (
      <p role="status" className={styles.done}>
        <Icon name="check" /> <span>{t('import.done', { readings: outcome.readings, runs: outcome.runs.length })}</span>
      </p>
    )
  }
  const why = failed ?? outcome?.refused
  return why ? (
    <p role="alert" className={styles.problem}>
      <Icon name="warn" /> <span>{sentence(why)}</span>
    </p>
  ) : (
    <p role="status">{t('import.cancelled', {})}</p>
  )
}

/** The import is the newest step there, and can go again as long as it is. */
function TakeBack({ into, onBack }: { into: ImportInto; onBack: () => void }) {
  const t = useSay()
  const { undo, undoes } = useUndo(into.kind === 'run' ? into.runId : 'project')
  return (
    <Button
      large
      icon="undo"
      disabled={undoes !== 'reading.import'}
      onClick={() => {
        undo()
        onBack()
      }}
    >
      {t('import.undo', {})}
    </Button>
  )
}

function WayOut({ into }: { into: ImportInto }) {
  const t = useSay()
  return into.kind === 'run' ? (
    <Link href={`/run/${into.runId}`}>{t('import.to_run', {})}</Link>
  ) : (
    <Link href={`/certification/${into.certificationId}`}>{t('import.to_certification', {})}</Link>
  )
}
