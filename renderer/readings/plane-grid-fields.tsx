import { useState } from 'react'
import { layOutPlane, planeGridOf } from '#core/methods/airflow/plane-layout.ts'
import type { Run } from '#core/model/runs.ts'
import type { PlanPoint } from '#core/model/values.ts'
import { useSay } from '../app/session.tsx'
import { TextField } from '../ui/text-field.tsx'
import styles from './side-panel.module.css'

const MOST = 60
const isCount = (text: string) => /^\d{1,2}$/.test(text) && Number(text) >= 1 && Number(text) <= MOST

type PlaneGridFieldsProps = {
  boundary: readonly PlanPoint[]
  facingDegrees: Run['facingDegrees']
  /** null takes the proposed one */
  grid: Run['planeGrid']
  onChange: (grid: Run['planeGrid'], valid: boolean) => void
}

/** Rows and columns over the plane of a zone, and how many of the cells lie inside it. */
export function PlaneGridFields({ boundary, facingDegrees, grid, onChange }: PlaneGridFieldsProps) {
  const t = useSay()
  const proposed = planeGridOf(boundary, null)
  const now = grid ?? proposed
  const [rows, setRows] = useState(String(now.rows))
  const [columns, setColumns] = useState(String(now.columns))
  const countOf = (rowsText: string, columnsText: string) =>
    isCount(rowsText) && isCount(columnsText)
      ? layOutPlane({
          terminals: [],
          gridFor: new Map(),
          facingDegrees,
          plane: { boundary: [...boundary], grid: { rows: Number(rowsText), columns: Number(columnsText) } },
        }).length
      : null
  const points = countOf(rows, columns)
  const change = (rowsText: string, columnsText: string) => {
    setRows(rowsText)
    setColumns(columnsText)
    const next = { rows: Number(rowsText), columns: Number(columnsText) }
    const same = next.rows === proposed.rows && next.columns === proposed.columns
    onChange(same ? null : next, (countOf(rowsText, columnsText) ?? 0) > 0)
  }
  const errorOf = (text: string) => (isCount(text) ? null : t('ways.start.grid_range', {}))
  return (
    <div className={styles.list}>
      <div className={styles.pair}>
        <TextField large label={t('ways.start.rows', {})} value={rows} onChange={(text) => change(text, columns)} error={errorOf(rows)} />
        <TextField
          large
          label={t('ways.start.columns', {})}
          value={columns}
          onChange={(text) => change(rows, text)}
          error={errorOf(columns)}
        />
      </div>
      {points === 0 ? (
        <p className={styles.problem}>{t('ways.start.grid_empty', {})}</p>
      ) : points !== null ? (
        <p>{t('ways.grid.plane_count', { points, cells: Number(rows) * Number(columns) })}</p>
      ) : null}
      <p>{t('ways.start.grid_proposed', proposed)}</p>
    </div>
  )
}
