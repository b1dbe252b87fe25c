import { useState } from 'react'
import type { Conditions, Run } from '#core/model/runs.ts'
import { useSay } from '../../app/session.tsx'
import { Checkbox } from '../../ui/checkbox.tsx'
import { NO_CONDITIONS } from './air-of-place.ts'
import { ConditionsFields } from './conditions-fields.tsx'

export type AirOfRun = Pick<Run, 'conditions' | 'instrumentConditions'>

type ConditionsFormProps = { value: AirOfRun; altitudeM: number | null; onChange: (value: AirOfRun, valid: boolean) => void }

/** The air at the filter and, where it is another one, at the instrument. */
export function ConditionsForm({ value, altitudeM, onChange }: ConditionsFormProps) {
  const t = useSay()
  const [valid, setValid] = useState({ filter: true, instrument: true })
  const { conditions, instrumentConditions } = value
  const change = (part: Partial<AirOfRun>, now: Partial<typeof valid>) => {
    const next = { ...valid, ...now }
    setValid(next)
    onChange({ ...value, ...part }, next.filter && next.instrument)
  }
  return (
    <>
      <ConditionsFields
        legend={t('readings.air.at_filter', {})}
        value={conditions}
        altitudeM={altitudeM}
        onChange={(conditions: Conditions, filter) => change({ conditions }, { filter })}
      />
      <Checkbox
        label={t('readings.air.instrument_elsewhere', {})}
        checked={instrumentConditions !== null}
        onChange={(elsewhere) => change({ instrumentConditions: elsewhere ? NO_CONDITIONS : null }, { instrument: true })}
      />
      {instrumentConditions ? (
        <ConditionsFields
          legend={t('readings.air.at_instrument', {})}
          value={instrumentConditions}
          altitudeM={altitudeM}
          onChange={(instrumentConditions, instrument) => change({ instrumentConditions }, { instrument })}
        />
      ) : null}
    </>
  )
}

/** Whether two records of the air say the same. */
export function sameAir(one: AirOfRun, other: AirOfRun): boolean {
  return JSON.stringify([one.conditions, one.instrumentConditions]) === JSON.stringify([other.conditions, other.instrumentConditions])
}
