import { useState } from 'react'
import { api } from '../app/client.ts'
import { newCommand, useSay } from '../app/session.tsx'
import { Button } from '../ui/button.tsx'
import { useToast } from '../ui/toast.tsx'
import styles from './side-panel.module.css'
import type { OpenRun } from './use-run-desk.ts'

/** Says that the room was edited after the run began, and offers to take that over. The figures stand until somebody does. */
export function StaleLine({ open }: { open: OpenRun }) {
  const t = useSay()
  const toast = useToast()
  const [busy, setBusy] = useState(false)
  const { plan } = open
  if (plan.outdated === 0 || plan.run.body.state !== 'open') return null
  const refresh = async () => {
    setBusy(true)
    try {
      await open.take(() => api.runs.refresh({ command: newCommand(), runId: plan.runId, revision: plan.run.revision }))
    } catch (error) {
      toast.problem(error)
    } finally {
      setBusy(false)
    }
  }
  return (
    <div className={styles.list}>
      <p>{t('readings.stale', { count: plan.outdated })}</p>
      <Button large disabled={busy} onClick={() => void refresh()}>
        {t('readings.refresh', {})}
      </Button>
    </div>
  )
}
