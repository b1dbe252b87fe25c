import { useState } from 'react'
import type { Conditions } from '#core/model/runs.ts'
import type { Unit } from '#core/model/values.ts'
import { useProject, useSay, useSentence } from '../../app/session.tsx'
import { EnteredField } from '../../ui/entered-field.tsx'
import styles from './air.module.css'
import { airOfPlace } from './air-of-place.ts'

type ConditionsFieldsProps = {
  legend: string
  value: Conditions
  altitudeM: number | null
  /** valid is false while one of the fields holds text that is not understood */
  onChange: (value: Conditions, valid: boolean) => void
}

const PARTS = ['temperature', 'relativeHumidity', 'pressure'] as const

/** Temperature, humidity and station pressure of the air at one place, and the density that follows. */
export function ConditionsFields({ legend, value, altitudeM, onChange }: ConditionsFieldsProps) {
  const t = useSay()
  const sentence = useSentence()
  const { display } = useProject().body
  const [invalid, setInvalid] = useState<ReadonlySet<string>>(new Set())
  const units: Record<(typeof PARTS)[number], Unit> = {
    temperature: display.temperature,
    relativeHumidity: '%',
    pressure: display.pressure === 'inH2O' ? 'inHg' : 'hPa',
  }
  const air = airOfPlace(value, altitudeM)
  return (
    <fieldset className={styles.fields}>
      <legend>{legend}</legend>
      <div className={styles.row}>
        {PARTS.map((part) => (
          <EnteredField
            key={part}
            large
            label={t(`readings.air.${part}`, {})}
            unit={units[part]}
            value={value[part]}
            onChange={(entered, valid) => {
              const next = new Set(invalid)
              if (valid) next.delete(part)
              else next.add(part)
              setInvalid(next)
              onChange({ ...value, [part]: entered }, next.size === 0)
            }}
          />
        ))}
      </div>
      <p className={styles.density} aria-live="polite">
        {air.densityKgpm3 !== null
          ? t('readings.air.density', {
              densityKgpm3: air.densityKgpm3,
              from: air.pressureFrom ?? 'measured',
              pressurePa: air.pressurePa ?? 0,
            })
          : air.missing === 'pressure'
            ? t('readings.air.no_pressure', {})
            : t(altitudeM === null ? 'readings.air.none' : 'readings.air.none_at_altitude', {})}
      </p>
      {air.remarks.map((remark) => (
        <p key={remark.code} className={styles.remark}>
          {sentence(remark)}
        </p>
      ))}
    </fieldset>
  )
}
