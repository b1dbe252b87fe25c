import { useState } from 'react'
import type { Run } from '#core/model/entities.ts'
import { api } from '../../app/client.ts'
import { newCommand, useSay } from '../../app/session.tsx'
import { Button } from '../../ui/button.tsx'
import { useToast } from '../../ui/toast.tsx'
import sideStyles from '../side-panel.module.css'
import type { OpenRun } from '../use-run-desk.ts'
import { type AirOfRun, ConditionsForm, sameAir } from './conditions-form.tsx'

type ConditionsPanelProps = { open: OpenRun; altitudeM: number | null; onClose: () => void }

/** Records the air of a run beside the typing; figures as standard and actual follow from it. */
export function ConditionsPanel({ open, altitudeM, onClose }: ConditionsPanelProps) {
  const t = useSay()
  const toast = useToast()
  const { plan } = open
  const stored: Run = plan.run.body
  const [air, setAir] = useState<AirOfRun>({ conditions: stored.conditions, instrumentConditions: stored.instrumentConditions })
  const [valid, setValid] = useState(true)
  const [busy, setBusy] = useState(false)
  const save = async () => {
    setBusy(true)
    try {
      await api.runs.edit({ command: newCommand(), runId: plan.runId, revision: plan.run.revision, set: air })
      open.reload()
      onClose()
    } catch (error) {
      toast.problem(error)
    } finally {
      setBusy(false)
    }
  }
  return (
    <form
      className={sideStyles.panel}
      aria-label={t('readings.air.title', {})}
      onKeyDown={(event) => {
        if (event.key === 'Escape') onClose()
      }}
      onSubmit={(event) => {
        event.preventDefault()
        if (valid && !busy) void save()
      }}
    >
      <p className={sideStyles.title}>{t('readings.air.title', {})}</p>
      <ConditionsForm
        value={air}
        altitudeM={altitudeM}
        onChange={(next, good) => {
          setAir(next)
          setValid(good)
        }}
      />
      <div className={sideStyles.actions}>
        <Button large kind="primary" type="submit" disabled={!valid || busy || sameAir(air, stored)}>
          {t('readings.air.save', {})}
        </Button>
        <Button large kind="quiet" onClick={onClose}>
          {t('app.cancel', {})}
        </Button>
      </div>
    </form>
  )
}
