import { useState } from 'react'
import type { Entity } from '#core/model/entities.ts'
import { SignatureMeaning } from '#core/model/results.ts'
import { api } from '../app/client.ts'
import { newCommand, usePerson, useSay } from '../app/session.tsx'
import { useRunStep } from '../app/use-run-step.ts'
import { Button } from '../ui/button.tsx'
import { Segmented } from '../ui/segmented.tsx'
import styles from './steps.module.css'

/** A signature under a run, with what it means. The first one freezes the results. */
export function SignRun({ run, onDone }: { run: Entity<'run'>; onDone: () => void }) {
  const t = useSay()
  const person = usePerson()
  const [meaning, setMeaning] = useState<SignatureMeaning>(person?.body.role === 'quality' ? 'approved' : 'performed')
  const step = useRunStep(onDone)
  return (
    <section className={styles.step} aria-label={t('certifications.sign.title', {})}>
      <p>
        {person ? t('certifications.sign.as', { name: person.body.name }) : null} {t('certifications.sign.frozen', {})}
      </p>
      <div className={styles.choice}>
        <span className={styles.label}>{t('certifications.sign.meaning', {})}</span>
        <Segmented
          large
          label={t('certifications.sign.meaning', {})}
          value={meaning}
          choices={SignatureMeaning.options.map((value) => ({ value, label: t(`certifications.sign.${value}`, {}) }))}
          onChange={setMeaning}
        />
      </div>
      {step.problem ? (
        <p role="alert" className={styles.problem}>
          {step.problem}
        </p>
      ) : null}
      <div className={styles.actions}>
        <Button
          large
          kind="primary"
          disabled={step.busy}
          onClick={() => step.run(() => api.runs.sign({ command: newCommand(), runId: run.id, revision: run.revision, meaning }))}
        >
          {t('certifications.sign.go', {})}
        </Button>
        <Button large kind="quiet" onClick={onDone}>
          {t('app.cancel', {})}
        </Button>
      </div>
    </section>
  )
}
