import { useState } from 'react'
import type { Entity } from '#core/model/entities.ts'
import type { Entered, PlanPoint } from '#core/model/values.ts'
import { terminalCorners } from '#core/rooms/geometry.ts'
import { useFormatter, useProject, useSay } from '#renderer/app/session.tsx'
import { Why } from '#renderer/app/why.tsx'
import { Button } from '#renderer/ui/button.tsx'
import { EnteredField } from '#renderer/ui/entered-field.tsx'
import { TextField } from '#renderer/ui/text-field.tsx'
import { copyOffsets } from '../plan/array-placement.ts'
import { boundsOf } from '../plan/view-transform.ts'
import { countError, wholeCount } from './array-form.tsx'
import { shownLength } from './length-entry.ts'
import styles from './panel.module.css'

type CopyFormProps = { terminals: readonly Entity<'terminal'>[]; onCopy: (offsets: readonly PlanPoint[]) => void; onCancel: () => void }

/** Copies of the selection in a row or grid: how many across and down, and how far apart. */
export function CopyForm({ terminals, onCopy, onCancel }: CopyFormProps) {
  const t = useSay()
  const formatter = useFormatter()
  const unit = useProject().body.display.length
  const box = boundsOf(terminals.flatMap((terminal) => terminalCorners(terminal.body)))
  const [columns, setColumns] = useState('2')
  const [rows, setRows] = useState('1')
  const [columnPitch, setColumnPitch] = useState<Entered | null>(() => box && shownLength(box.right - box.left, unit, formatter))
  const [rowPitch, setRowPitch] = useState<Entered | null>(() => box && shownLength(box.top - box.bottom, unit, formatter))
  const count = { rows: wholeCount(rows), columns: wholeCount(columns) }
  const offsets =
    count.rows && count.columns && columnPitch && rowPitch
      ? copyOffsets({ rows: count.rows, columns: count.columns, columnPitchM: columnPitch.si, rowPitchM: rowPitch.si })
      : []
  return (
    <Why title={t('map.copy.title', { n: terminals.length })}>
      <form
        className={styles.fields}
        onSubmit={(event) => {
          event.preventDefault()
          if (offsets.length > 0) onCopy(offsets)
        }}
      >
        <div className={styles.pair}>
          <TextField label={t('map.copy.columns', {})} value={columns} onChange={setColumns} autoFocus error={countError(columns, t)} />
          <TextField label={t('map.copy.rows', {})} value={rows} onChange={setRows} error={countError(rows, t)} />
          <EnteredField
            label={t('map.array.field', { of: { key: 'columnPitch' } })}
            unit={unit}
            value={columnPitch}
            onChange={(value) => setColumnPitch(value)}
          />
          <EnteredField
            label={t('map.array.field', { of: { key: 'rowPitch' } })}
            unit={unit}
            value={rowPitch}
            onChange={(value) => setRowPitch(value)}
          />
        </div>
        <p className={styles.hint}>{t('map.copy.about', {})}</p>
        <div className={styles.actions}>
          <Button type="submit" kind="primary" disabled={offsets.length === 0}>
            {t('map.copy.do', { n: offsets.length * terminals.length })}
          </Button>
          <Button kind="quiet" onClick={onCancel}>
            {t('app.cancel', {})}
          </Button>
        </div>
      </form>
    </Why>
  )
}
