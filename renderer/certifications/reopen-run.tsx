import { useState } from 'react'
import type { Entity } from '#core/model/entities.ts'
import { api } from '../app/client.ts'
import { newCommand, useSay } from '../app/session.tsx'
import { useRunStep } from '../app/use-run-step.ts'
import { Button } from '../ui/button.tsx'
import { TextField } from '../ui/text-field.tsx'
import styles from './steps.module.css'

/** Opens a complete run again; the reason goes into the trail. */
export function ReopenRun({ run, onDone }: { run: Entity<'run'>; onDone: () => void }) {
  const t = useSay()
  const [why, setWhy] = useState('')
  const step = useRunStep(onDone)
  return (
    <form
      className={styles.step}
      aria-label={t('certifications.reopen.title', {})}
      onSubmit={(event) => {
        event.preventDefault()
        step.run(() => api.runs.reopen({ command: newCommand(why.trim()), runId: run.id, revision: run.revision }))
      }}
    >
      <TextField
        label={t('certifications.reopen.why', {})}
        value={why}
        onChange={setWhy}
        autoFocus
        maxLength={1000}
        error={step.problem}
        hint={t('certifications.reopen.needed', {})}
      />
      <div className={styles.actions}>
        <Button large kind="primary" type="submit" disabled={step.busy || why.trim() === ''}>
          {t('certifications.reopen.go', {})}
        </Button>
        <Button large kind="quiet" onClick={onDone}>
          {t('app.cancel', {})}
        </Button>
      </div>
    </form>
  )
}
