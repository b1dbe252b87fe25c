import { useState } from 'react'
import { gridOf } from '#core/methods/airflow/layout.ts'
import { proposeGrid } from '#core/planning/grid.ts'
import { api } from '../app/client.ts'
import { newCommand, useSay } from '../app/session.tsx'
import { useRunStep } from '../app/use-run-step.ts'
import { Checkbox } from '../ui/checkbox.tsx'
import { TextField } from '../ui/text-field.tsx'
import { PanelForm } from './panel-form.tsx'
import type { FilterPlan } from './run-plan.ts'
import styles from './side-panel.module.css'
import type { OpenRun } from './use-run-desk.ts'

const MOST = 40

/** Rows and columns of measuring points of a filter, while it has no readings. */
export function GridPanel({ open, filter, onClose }: { open: OpenRun; filter: FilterPlan; onClose: () => void }) {
  const t = useSay()
  const { desk, plan } = open
  const terminal = filter.terminal.body
  const proposed = proposeGrid({ widthM: terminal.grossWidth.si, depthM: terminal.grossDepth.si })
  const [now] = useState(() => gridNow(filter))
  const [rows, setRows] = useState(String(now.rows))
  const [columns, setColumns] = useState(String(now.columns))
  const [all, setAll] = useState(false)
  const step = useRunStep(onClose)
  const free = (candidate: FilterPlan) => (desk.view(candidate.terminalId)?.filled ?? 0) === 0
  const others = plan.filters.filter(
    (other) =>
      other !== filter &&
      free(other) &&
      other.terminal.body.grossWidth.si === terminal.grossWidth.si &&
      other.terminal.body.grossDepth.si === terminal.grossDepth.si,
  )
  const good = (text: string) => /^\d{1,2}$/.test(text) && Number(text) >= 1 && Number(text) <= MOST
  const errorOf = (text: string) => (good(text) ? null : t('readings.grid.range', {}))

  const save = () =>
    open.take(() =>
      api.runs.setGrid({
        command: newCommand(),
        runId: plan.runId,
        revision: plan.run.revision,
        terminalIds: [filter, ...(all ? others : [])].map((one) => one.terminalId),
        rows: Number(rows),
        columns: Number(columns),
      }),
    )
  return (
    <PanelForm
      title={t('readings.grid.title', { tag: terminal.tag })}
      save={t('readings.grid.save', {})}
      able={free(filter) && good(rows) && good(columns)}
      step={step}
      onSave={() => step.run(save)}
      onClose={onClose}
    >
      {free(filter) ? (
        <>
          <div className={styles.pair}>
            <TextField large label={t('readings.grid.rows', {})} value={rows} onChange={setRows} error={errorOf(rows)} autoFocus />
            <TextField large label={t('readings.grid.columns', {})} value={columns} onChange={setColumns} error={errorOf(columns)} />
          </div>
          {good(rows) && good(columns) ? <p>{t('readings.grid.points', { points: Number(rows) * Number(columns) })}</p> : null}
          <p>{t('readings.grid.proposed', proposed)}</p>
          <p>{t('readings.grid.orientation', {})}</p>
          {others.length > 0 ? <Checkbox label={t('readings.grid.all', { count: others.length })} checked={all} onChange={setAll} /> : null}
        </>
      ) : (
        <p className={styles.remark}>{t('readings.grid.has_readings', {})}</p>
      )}
    </PanelForm>
  )
}

/** The grid a filter has in this run, by rows along its depth: the points themselves are laid out as the technician faces. */
function gridNow(filter: FilterPlan): { rows: number; columns: number } {
  const own = gridOf(filter.terminal.body)
  const { rows, columns } = filter.size
  const turned = rows !== columns && (rows === own.columns || columns === own.rows) && !(rows === own.rows && columns === own.columns)
  return turned ? { rows: columns, columns: rows } : { rows, columns }
}
