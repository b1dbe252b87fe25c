import { useState } from 'react'
import { fittingFormats, TimeReader } from '#core/imports/times.ts'
import { useSay, useSession } from '../app/session.tsx'
import { Select } from '../ui/select.tsx'
import { TextField } from '../ui/text-field.tsx'
import styles from './import.module.css'

/** Stands for the empty format and for one that is typed: a choice needs a value of its own. */
const [ISO, TYPED] = ['iso', 'typed'] as const

type TimeFormatProps = {
  /** as luxon writes it; null: day and month cannot be told apart */
  format: string | null
  /** times of the rows in sight */
  times: readonly string[]
  onFormat: (format: string) => void
}

/** How a file writes its times: the ways in which those in sight can be read, each with what the first of them would be, or one that is typed. */
export function TimeFormat({ format, times, onFormat }: TimeFormatProps) {
  const t = useSay()
  const { project } = useSession()
  const fitting = fittingFormats(times)
  const [typing, setTyping] = useState(false)
  const offered = [...new Set([...fitting, ...(format === null ? [] : [format])])]
  const first = times.find((time) => time.trim() !== '')?.trim() ?? ''
  const readAs = (one: string) => {
    const atMs = new TimeReader(one, project?.body.timeZone ?? 'UTC').read(first)
    return atMs === null ? {} : { detail: t('import.time_format_read', { at: new Date(atMs).toISOString() }) }
  }
  return (
    <div className={styles.times}>
      <Select
        label={t('import.time_format', {})}
        value={typing ? TYPED : format === '' ? ISO : format}
        placeholder={t('import.time_format_pick', {})}
        error={format === null && !typing ? t('import.time_format_choose', {}) : null}
        choices={[
          ...offered.map((one) => ({
            value: one === '' ? ISO : one,
            label: one === '' ? t('import.time_format_iso', {}) : t('import.time_format_named', { format: one }),
            ...readAs(one),
          })),
          { value: TYPED, label: t('import.time_format_other', {}) },
        ]}
        onChange={(chosen) => {
          setTyping(chosen === TYPED)
          if (chosen !== TYPED) onFormat(chosen === ISO ? '' : chosen)
        }}
      />
      {typing ? (
        <TextField
          label={t('import.time_format_typed', {})}
          hint={t('import.time_format_hint', {})}
          value={format ?? ''}
          maxLength={60}
          autoFocus
          onChange={onFormat}
        />
      ) : null}
    </div>
  )
}
