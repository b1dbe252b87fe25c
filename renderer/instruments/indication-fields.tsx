import { useProject, useSay } from '../app/session.tsx'
import { FormEntered } from '../forms/form-entered.tsx'
import forms from '../forms/forms.module.css'
import type { FormState } from '../forms/use-form.ts'
import { Button } from '../ui/button.tsx'
import { Checkbox } from '../ui/checkbox.tsx'
import { Select } from '../ui/select.tsx'
import {
  indicationOf,
  shownOfAir,
  showsPressureOfAir,
  standardDensityKgpm3,
  USUAL_STANDARD_PRESSURE,
  USUAL_STANDARD_TEMPERATURES,
  withIndication,
} from './indication-form.ts'
import type { InstrumentForm } from './instrument-form.ts'
import styles from './instruments.module.css'

/** Which air the display speaks of, the standard condition behind it, and whether the certificate's points correct readings. */
export function IndicationFields({ form }: { form: FormState<InstrumentForm> }) {
  const t = useSay()
  const choice = indicationOf(form.form)
  const shown = shownOfAir(form.form)
  const hasCondition = form.form.standardTemperature !== null || form.form.standardPressure !== null
  const needsCondition = shown === null ? showsPressureOfAir(form.form) : form.form.basis === 'standard'
  return (
    <div className={forms.grid}>
      {shown === null ? (
        <p className={`${forms.whole} ${styles.hint}`}>
          {showsPressureOfAir(form.form) ? t('instruments.speaks_of.pressure', {}) : t('instruments.speaks_of.no_air', {})}
        </p>
      ) : (
        <Select
          className={forms.whole}
          label={t('instruments.speaks_of', { of: { shown } })}
          value={choice}
          choices={(['standard', 'standard_by_pressure', 'actual', 'as_indicated'] as const).map((value) => ({
            value,
            label: t('instruments.speaks_of.choice', { of: { choice: value, shown } }),
          }))}
          hint={t('instruments.speaks_of.hint', { of: { choice, shown } })}
          onChange={(next) => form.set(withIndication(next))}
        />
      )}
      {needsCondition || hasCondition ? <StandardCondition form={form} /> : null}
      <div className={forms.whole}>
        <Checkbox
          label={t('instruments.corrects', {})}
          checked={form.form.correctsByPoints}
          onChange={(correctsByPoints) => form.set({ correctsByPoints })}
        />
        <p className={styles.hint}>{t('instruments.corrects_hint', {})}</p>
      </div>
    </div>
  )
}

function StandardCondition({ form }: { form: FormState<InstrumentForm> }) {
  const t = useSay()
  const { display } = useProject().body
  const { standardTemperature, standardPressure } = form.form
  return (
    <>
      <div className={forms.whole}>
        <p className={styles.question}>{t('instruments.standard.usual', {})}</p>
        <div className={forms.checks}>
          {USUAL_STANDARD_TEMPERATURES.map((temperature) => (
            <Button
              key={temperature.typed}
              onClick={() => {
                form.unreadable('standardCondition.temperature', false)
                form.unreadable('standardCondition.pressure', false)
                form.set({ standardTemperature: temperature, standardPressure: USUAL_STANDARD_PRESSURE })
              }}
            >
              {t('instruments.standard.proposal', { temperatureC: temperature.si, pressurePa: USUAL_STANDARD_PRESSURE.si })}
            </Button>
          ))}
        </div>
        <p className={styles.hint}>{t('instruments.standard.hint', {})}</p>
      </div>
      <FormEntered
        form={form}
        path="standardCondition.temperature"
        label={t('instruments.standard.temperature', {})}
        unit={standardTemperature?.unit ?? display.temperature}
        value={standardTemperature}
        onChange={(value) => form.set({ standardTemperature: value })}
      />
      <FormEntered
        form={form}
        path="standardCondition.pressure"
        label={t('instruments.standard.pressure', {})}
        unit={standardPressure?.unit ?? 'kPa'}
        value={standardPressure}
        onChange={(value) => form.set({ standardPressure: value })}
      />
      <div>
        <p className={styles.question}>{t('instruments.standard.density', {})}</p>
        <p className={styles.density}>{t('instruments.standard.density_value', { kgpm3: standardDensityKgpm3(form.form) })}</p>
      </div>
    </>
  )
}
