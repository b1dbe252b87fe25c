import type { Quantity } from '#core/model/values.ts'
import { useSay } from '../app/session.tsx'
import { FormEntered } from '../forms/form-entered.tsx'
import type { FormState } from '../forms/use-form.ts'
import { Button, IconButton } from '../ui/button.tsx'
import { Select } from '../ui/select.tsx'
import { TextField } from '../ui/text-field.tsx'
import type { CalibrationForm } from './calibration-form.ts'
import { type DriftForm, type StatedForm, USUAL_COVERAGE } from './evidence-form.ts'
import styles from './instruments.module.css'
import { useQuantityChoices } from './quantity-choices.ts'
import type { UnitOf } from './use-unit-of.ts'

type Form = FormState<CalibrationForm>

export function nextLine(lines: readonly { line: number }[]): number {
  return 1 + Math.max(-1, ...lines.map(({ line }) => line))
}

/** An uncertainty stated for the whole range, a line per quantity, and how far the instrument may move until it is due. */
export function StatedFields({ form, unitOf }: { form: Form; unitOf: UnitOf }) {
  const t = useSay()
  const { uncertainty, drift } = form.form
  const change = (index: number, patch: Partial<StatedForm>) =>
    form.set({ uncertainty: uncertainty.map((one, place) => (place === index ? { ...one, ...patch } : one)) })
  const changeDrift = (index: number, patch: Partial<DriftForm>) =>
    form.set({ drift: drift.map((one, place) => (place === index ? { ...one, ...patch } : one)) })
  const remove = (quantity: Quantity, onRemove: () => void) => (
    <div className={styles.removeCell}>
      <IconButton icon="close" label={t('instruments.stated.remove', { quantity })} onClick={onRemove} />
    </div>
  )
  return (
    <>
      <h3 className={styles.part}>{t('instruments.stated', {})}</h3>
      {uncertainty.map((stated, index) => (
        <div key={stated.line} className={styles.stated}>
          <QuantitySelect
            form={form}
            path={`uncertainty.${index}.quantity`}
            value={stated.quantity}
            onChange={(quantity) => change(index, { quantity, absolute: null })}
          />
          <FormEntered
            form={form}
            path={`uncertainty.${index}.percentOfReading`}
            label={t('instruments.stated.percent', {})}
            unit="%"
            value={stated.percentOfReading}
            onChange={(percentOfReading) => change(index, { percentOfReading })}
          />
          <FormEntered
            key={stated.quantity}
            form={form}
            path={`uncertainty.${index}.expandedAbsolute`}
            label={t('instruments.stated.absolute', {})}
            unit={stated.absolute?.unit ?? unitOf(stated.quantity)}
            as="difference"
            value={stated.absolute}
            onChange={(absolute) => change(index, { absolute })}
          />
          <TextField
            label={t('instruments.points.coverage', {})}
            value={stated.coverageFactor}
            onChange={(coverageFactor) => change(index, { coverageFactor })}
            error={form.problem(`uncertainty.${index}.coverageFactor`)}
          />
          {remove(stated.quantity, () => form.set({ uncertainty: uncertainty.filter((_, place) => place !== index) }))}
        </div>
      ))}
      <Button
        icon="add"
        onClick={() => {
          const line = nextLine(uncertainty)
          const fresh: StatedForm = { line, quantity: 'velocity', percentOfReading: null, absolute: null, coverageFactor: USUAL_COVERAGE }
          form.set({ uncertainty: [...uncertainty, fresh] })
        }}
      >
        {t('instruments.stated.add', {})}
      </Button>
      <h3 className={styles.part}>{t('instruments.drift', {})}</h3>
      {drift.map((one, index) => (
        <div key={one.line} className={styles.stated}>
          <QuantitySelect
            form={form}
            path={`drift.${index}.quantity`}
            value={one.quantity}
            onChange={(quantity) => changeDrift(index, { quantity, halfWidth: null })}
          />
          <FormEntered
            key={one.quantity}
            form={form}
            path={`drift.${index}.halfWidth`}
            label={t('instruments.drift.half_width', {})}
            unit={one.halfWidth?.unit ?? unitOf(one.quantity)}
            as="difference"
            value={one.halfWidth}
            onChange={(halfWidth) => changeDrift(index, { halfWidth })}
          />
          {remove(one.quantity, () => form.set({ drift: drift.filter((_, place) => place !== index) }))}
        </div>
      ))}
      <Button icon="add" onClick={() => form.set({ drift: [...drift, { line: nextLine(drift), quantity: 'velocity', halfWidth: null }] })}>
        {t('instruments.drift.add', {})}
      </Button>
    </>
  )
}

type QuantitySelectProps = {
  form: Form
  path: string
  value: Quantity
  onChange: (quantity: Quantity) => void
  label?: string
  hideLabel?: boolean
}

export function QuantitySelect({ form, path, label, ...field }: QuantitySelectProps) {
  const t = useSay()
  const choices = useQuantityChoices()
  return <Select label={label ?? t('instruments.quantity', {})} choices={choices} error={form.problem(path)} {...field} />
}
