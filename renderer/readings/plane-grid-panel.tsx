import { useState } from 'react'
import { api } from '../app/client.ts'
import { newCommand, useFailureText, useSay } from '../app/session.tsx'
import { Button } from '../ui/button.tsx'
import { PlaneGridFields } from './plane-grid-fields.tsx'
import type { FilterPlan } from './run-plan.ts'
import styles from './side-panel.module.css'
import type { OpenRun } from './use-run-desk.ts'

/** Rows and columns over the plane of a zone, while it has no readings. */
export function PlaneGridPanel({ open, filter, onClose }: { open: OpenRun; filter: FilterPlan; onClose: () => void }) {
  const t = useSay()
  const failureText = useFailureText()
  const { plan, desk } = open
  const boundary = filter.zone?.body.boundary ?? []
  const [grid, setGrid] = useState(plan.run.body.planeGrid)
  const [valid, setValid] = useState(true)
  const [busy, setBusy] = useState(false)
  const [problem, setProblem] = useState<string | null>(null)
  const free = (desk.view(filter.terminalId)?.filled ?? 0) === 0
  const save = async () => {
    setBusy(true)
    try {
      await api.runs.edit({ command: newCommand(), runId: plan.runId, revision: plan.run.revision, set: { planeGrid: grid } })
      open.reload()
      onClose()
    } catch (error) {
      setProblem(failureText(error))
      setBusy(false)
    }
  }
  return (
    <form
      className={styles.panel}
      onKeyDown={(event) => {
        if (event.key === 'Escape') onClose()
      }}
      onSubmit={(event) => {
        event.preventDefault()
        if (free && valid && !busy) void save()
      }}
    >
      <p className={styles.title}>{t('ways.grid.plane', {})}</p>
      {free ? (
        <PlaneGridFields
          boundary={boundary}
          facingDegrees={plan.run.body.facingDegrees}
          grid={grid}
          onChange={(next, good) => {
            setGrid(next)
            setValid(good)
          }}
        />
      ) : (
        <p className={styles.remark}>{t('readings.grid.has_readings', {})}</p>
      )}
      {problem ? (
        <p role="alert" className={styles.problem}>
          {problem}
        </p>
      ) : null}
      <div className={styles.actions}>
        <Button large kind="primary" type="submit" disabled={busy || !free || !valid}>
          {t('readings.grid.save', {})}
        </Button>
        <Button large kind="quiet" onClick={onClose}>
          {t('app.cancel', {})}
        </Button>
      </div>
    </form>
  )
}
