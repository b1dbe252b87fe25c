import { useState } from 'react'
import { useSay } from '../../app/session.tsx'
import { PanelForm } from '../panel-form.tsx'
import type { OpenRun } from '../use-run-desk.ts'
import { useRunEdit } from '../use-run-edit.ts'
import { type AirOfRun, ConditionsForm, sameAir } from './conditions-form.tsx'

type ConditionsPanelProps = { open: OpenRun; altitudeM: number | null; onClose: () => void }

/** Records the air of a run beside the typing; figures as standard and actual follow from it. */
export function ConditionsPanel({ open, altitudeM, onClose }: ConditionsPanelProps) {
  const t = useSay()
  const stored = open.plan.run.body
  const [air, setAir] = useState<AirOfRun>({ conditions: stored.conditions, instrumentConditions: stored.instrumentConditions })
  const [valid, setValid] = useState(true)
  const { step, edit } = useRunEdit(open, onClose)
  return (
    <PanelForm
      title={t('readings.air.title', {})}
      save={t('readings.air.save', {})}
      able={valid && !sameAir(air, stored)}
      step={step}
      onSave={() => edit(air)}
      onClose={onClose}
    >
      <ConditionsForm
        value={air}
        altitudeM={altitudeM}
        onChange={(next, good) => {
          setAir(next)
          setValid(good)
        }}
      />
    </PanelForm>
  )
}
