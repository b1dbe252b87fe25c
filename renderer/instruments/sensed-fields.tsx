import { useSay } from '../app/session.tsx'
import { FormEntered } from '../forms/form-entered.tsx'
import type { FormState } from '../forms/use-form.ts'
import { Button, IconButton } from '../ui/button.tsx'
import { Select } from '../ui/select.tsx'
import { type InstrumentForm, NEW_SENSED, type SensedForm } from './instrument-form.ts'
import styles from './instruments.module.css'
import { useQuantityChoices } from './quantity-choices.ts'
import { useUnitOf } from './use-unit-of.ts'

type Place = { form: FormState<InstrumentForm>; index: number }

/** What an instrument measures: a line per quantity with its range, step and accuracy. */
export function SensedFields({ form }: { form: FormState<InstrumentForm> }) {
  const t = useSay()
  const { senses } = form.form
  const nextLine = 1 + Math.max(0, ...senses.map((sensed) => sensed.line))
  return (
    <div>
      {senses.map(({ line }, index) => (
        <SensedLine key={line} form={form} index={index} />
      ))}
      <Button icon="add" onClick={() => form.set({ senses: [...senses, { ...NEW_SENSED, line: nextLine, quantity: 'temperature' }] })}>
        {t('instruments.measure_add', {})}
      </Button>
    </div>
  )
}

function SensedLine({ form, index }: Place) {
  const t = useSay()
  const choices = useQuantityChoices()
  const { senses } = form.form
  const sensed = senses[index] ?? NEW_SENSED
  const change = (patch: Partial<SensedForm>) =>
    form.set({ senses: senses.map((one, place) => (place === index ? { ...one, ...patch } : one)) })
  return (
    <div className={styles.sensed}>
      <Select
        label={t('instruments.quantity', {})}
        value={sensed.quantity}
        choices={choices}
        onChange={(quantity) => change({ quantity, low: null, high: null, resolution: null, absolute: null })}
        error={form.problem(`senses.${index}.quantity`)}
      />
      <Value form={form} index={index} label={t('instruments.low', {})} part="low" change={change} />
      <Value form={form} index={index} label={t('instruments.high', {})} part="high" change={change} />
      <Value form={form} index={index} label={t('instruments.resolution', {})} part="resolution" change={change} />
      <div className={styles.removeCell}>
        <IconButton
          icon="close"
          label={t('instruments.measure_remove', { quantity: sensed.quantity })}
          disabled={senses.length === 1}
          onClick={() => form.set({ senses: senses.filter((_, place) => place !== index) })}
        />
      </div>
      <AccuracyFields form={form} index={index} change={change} />
    </div>
  )
}

type Change = (patch: Partial<SensedForm>) => void

function AccuracyFields({ form, index, change }: Place & { change: Change }) {
  const t = useSay()
  const sensed = form.form.senses[index] ?? NEW_SENSED
  return (
    <div className={styles.accuracy}>
      <Select
        label={t('instruments.accuracy', {})}
        value={sensed.accuracyForm}
        choices={[
          { value: 'sum_of', label: t('instruments.accuracy.sum_of', {}) },
          { value: 'greater_of', label: t('instruments.accuracy.greater_of', {}) },
          { value: 'none', label: t('instruments.accuracy.none', {}) },
        ]}
        onChange={(accuracyForm) => change({ accuracyForm })}
      />
      {sensed.accuracyForm === 'none' ? null : (
        <>
          <FormEntered
            form={form}
            path={`senses.${index}.percentOfReading`}
            label={t('instruments.percent', {})}
            unit="%"
            value={sensed.percentOfReading}
            onChange={(percentOfReading) => change({ percentOfReading })}
          />
          <Value
            form={form}
            index={index}
            label={t('instruments.absolute', {})}
            part="absolute"
            change={change}
            field="accuracy.absolute"
          />
        </>
      )}
    </div>
  )
}

type ValueProps = Place & { label: string; part: 'low' | 'high' | 'resolution' | 'absolute'; change: Change; field?: string }

function Value({ form, index, label, part, change, field = part }: ValueProps) {
  const unitOf = useUnitOf()
  const sensed = form.form.senses[index] ?? NEW_SENSED
  const path = `senses.${index}.${field}`
  return (
    <FormEntered
      form={form}
      path={path}
      // Another quantity has other units: the field starts afresh with it.
      key={sensed.quantity}
      label={label}
      as={part === 'resolution' || part === 'absolute' ? 'difference' : 'value'}
      unit={sensed[part]?.unit ?? sensed.low?.unit ?? unitOf(sensed.quantity)}
      value={sensed[part]}
      onChange={(value) => change({ [part]: value })}
    />
  )
}
