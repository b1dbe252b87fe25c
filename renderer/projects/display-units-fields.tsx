import { useState } from 'react'
import type { DisplayUnits } from '#core/units/formatter.ts'
import { unitLabel } from '#core/units/units.ts'
import { useSay } from '../app/session.tsx'
import { Segmented } from '../ui/segmented.tsx'
import { Select } from '../ui/select.tsx'
import styles from './new-project.module.css'

export const METRIC: DisplayUnits = { velocity: 'm/s', flow: 'm3/h', length: 'm', pressure: 'Pa', temperature: 'degC' }
export const IMPERIAL: DisplayUnits = { velocity: 'ft/min', flow: 'cfm', length: 'ft', pressure: 'inH2O', temperature: 'degF' }

type System = 'metric' | 'imperial' | 'own'

function systemOf(display: DisplayUnits): System {
  const same = (other: DisplayUnits) => JSON.stringify(Object.entries(other).sort()) === JSON.stringify(Object.entries(display).sort())
  return same(METRIC) ? 'metric' : same(IMPERIAL) ? 'imperial' : 'own'
}

type Props = { value: DisplayUnits; onChange: (value: DisplayUnits) => void }

/** Units that the project shows: two common sets, or each on its own. */
export function DisplayUnitsFields({ value, onChange }: Props) {
  const t = useSay()
  const [own, setOwn] = useState(systemOf(value) === 'own')
  const system: System = own ? 'own' : systemOf(value)
  return (
    <fieldset className={styles.units}>
      <legend className={styles.unitsLegend}>{t('projects.field.units', {})}</legend>
      <Segmented
        label={t('projects.field.units', {})}
        value={system}
        onChange={(next) => {
          setOwn(next === 'own')
          if (next === 'metric') onChange(METRIC)
          if (next === 'imperial') onChange(IMPERIAL)
        }}
        choices={[
          { value: 'metric', label: t('projects.units.metric', {}) },
          { value: 'imperial', label: t('projects.units.imperial', {}) },
          { value: 'own', label: t('projects.units.own', {}) },
        ]}
        large
      />
      {system === 'own' ? (
        <div className={styles.ownUnits}>
          <Select
            label={t('projects.field.velocity', {})}
            value={value.velocity}
            choices={choices(['m/s', 'ft/min'])}
            onChange={(velocity) => onChange({ ...value, velocity })}
          />
          <Select
            label={t('projects.field.flow', {})}
            value={value.flow}
            choices={choices(['m3/h', 'L/s', 'm3/s', 'cfm'])}
            onChange={(flow) => onChange({ ...value, flow })}
          />
          <Select
            label={t('projects.field.length', {})}
            value={value.length}
            choices={choices(['m', 'ft'])}
            onChange={(length) => onChange({ ...value, length })}
          />
          <Select
            label={t('projects.field.pressure', {})}
            value={value.pressure}
            choices={choices(['Pa', 'inH2O'])}
            onChange={(pressure) => onChange({ ...value, pressure })}
          />
          <Select
            label={t('projects.field.temperature', {})}
            value={value.temperature}
            choices={choices(['degC', 'degF'])}
            onChange={(temperature) => onChange({ ...value, temperature })}
          />
        </div>
      ) : null}
      <span className={styles.hint}>{t('projects.field.units_hint', {})}</span>
    </fieldset>
  )
}

function choices<U extends DisplayUnits[keyof DisplayUnits]>(units: readonly U[]): { value: U; label: string }[] {
  return units.map((value) => ({ value, label: unitLabel(value) }))
}
