import { useState } from 'react'
import { useSay } from '../app/session.tsx'
import { PanelForm } from './panel-form.tsx'
import { PlaneGridFields } from './plane-grid-fields.tsx'
import type { FilterPlan } from './run-plan.ts'
import styles from './side-panel.module.css'
import type { OpenRun } from './use-run-desk.ts'
import { useRunEdit } from './use-run-edit.ts'

/** Rows and columns over the plane of a zone, while it has no readings. */
export function PlaneGridPanel({ open, filter, onClose }: { open: OpenRun; filter: FilterPlan; onClose: () => void }) {
  const t = useSay()
  const { plan, desk } = open
  const boundary = filter.zone?.body.boundary ?? []
  const [grid, setGrid] = useState(plan.run.body.planeGrid)
  const [valid, setValid] = useState(true)
  const { step, edit } = useRunEdit(open, onClose)
  const free = (desk.view(filter.terminalId)?.filled ?? 0) === 0
  return (
    <PanelForm
      title={t('ways.grid.plane', {})}
      save={t('readings.grid.save', {})}
      able={free && valid}
      step={step}
      onSave={() => edit({ planeGrid: grid })}
      onClose={onClose}
    >
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
        <p className={styles.remark}>{t('readings.grid.plane_has_readings', {})}</p>
      )}
    </PanelForm>
  )
}
