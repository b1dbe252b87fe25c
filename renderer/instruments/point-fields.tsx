import { useSay } from '../app/session.tsx'
import { FormEntered } from '../forms/form-entered.tsx'
import type { FormState } from '../forms/use-form.ts'
import { Button, IconButton } from '../ui/button.tsx'
import { TextField } from '../ui/text-field.tsx'
import type { CalibrationForm } from './calibration-form.ts'
import { CorrectionChart } from './correction-chart.tsx'
import { nextLine, QuantitySelect } from './evidence-fields.tsx'
import { correctionsOf, type PointForm, USUAL_COVERAGE } from './evidence-form.ts'
import styles from './instruments.module.css'
import type { UnitOf } from './use-unit-of.ts'

type PointFieldsProps = { form: FormState<CalibrationForm>; corrects: boolean; unitOf: UnitOf }

/** The points of a certificate, with the corrections they make drawn above them, and which of its points are meant. */
export function PointFields({ form, corrects, unitOf }: PointFieldsProps) {
  const t = useSay()
  const { points, found } = form.form
  const quantities = [...new Set(points.map(({ quantity }) => quantity))]
  const last = points.at(-1)
  const add = () => {
    const fresh: PointForm = {
      line: nextLine(points),
      quantity: last?.quantity ?? 'velocity',
      reading: null,
      trueValue: null,
      expandedUncertainty: null,
      coverageFactor: last?.coverageFactor ?? USUAL_COVERAGE,
    }
    form.set({ points: [...points, fresh] })
  }
  return (
    <>
      <h3 className={styles.part}>{t('instruments.points', {})}</h3>
      <p className={styles.hint}>{t('instruments.points.about', {})}</p>
      <p className={styles.meaning}>{t('instruments.points.meaning', { of: { found, corrects } })}</p>
      {quantities.map((quantity) => {
        const unit = points.find((point) => point.quantity === quantity)?.reading?.unit ?? unitOf(quantity)
        return <CorrectionChart key={quantity} quantity={quantity} unit={unit} marks={correctionsOf(points, quantity)} />
      })}
      {points.map((point, index) => (
        <PointLine key={point.line} form={form} index={index} point={point} unitOf={unitOf} />
      ))}
      <Button icon="add" onClick={add}>
        {t('instruments.points.add', {})}
      </Button>
    </>
  )
}

type PointLineProps = { form: FormState<CalibrationForm>; index: number; point: PointForm; unitOf: UnitOf }

function PointLine({ form, index, point, unitOf }: PointLineProps) {
  const t = useSay()
  const { points } = form.form
  const change = (patch: Partial<PointForm>) =>
    form.set({ points: points.map((one, place) => (place === index ? { ...one, ...patch } : one)) })
  const unit = point.reading?.unit ?? points[index - 1]?.reading?.unit ?? unitOf(point.quantity)
  // The first line heads the columns; the others say their labels to assistive technology alone, with their number.
  const isFirst = index === 0
  const named = (what: string) => (isFirst ? what : t('instruments.points.of', { what, number: index + 1 }))
  const value = (part: 'reading' | 'trueValue' | 'expandedUncertainty', label: string) => (
    <FormEntered
      // Another quantity has other units: the field starts afresh with it.
      key={`${part} ${point.quantity}`}
      form={form}
      path={`points.${index}.${part}`}
      as={part === 'expandedUncertainty' ? 'difference' : 'value'}
      label={named(label)}
      hideLabel={!isFirst}
      unit={point[part]?.unit ?? unit}
      value={point[part]}
      onChange={(next) => change({ [part]: next })}
    />
  )
  return (
    <div className={styles.point}>
      <QuantitySelect
        form={form}
        path={`points.${index}.quantity`}
        label={named(t('instruments.quantity', {}))}
        hideLabel={!isFirst}
        value={point.quantity}
        onChange={(quantity) => change({ quantity, reading: null, trueValue: null, expandedUncertainty: null })}
      />
      {value('reading', t('instruments.points.reading', {}))}
      {value('trueValue', t('instruments.points.true_value', {}))}
      {value('expandedUncertainty', t('instruments.points.uncertainty', {}))}
      <TextField
        label={named(t('instruments.points.coverage', {}))}
        hideLabel={!isFirst}
        value={point.coverageFactor}
        onChange={(coverageFactor) => change({ coverageFactor })}
        error={form.problem(`points.${index}.coverageFactor`)}
      />
      <div className={isFirst ? styles.removeCell : undefined}>
        <IconButton
          icon="close"
          label={t('instruments.points.remove', { number: index + 1 })}
          onClick={() => form.set({ points: points.filter((_, place) => place !== index) })}
        />
      </div>
    </div>
  )
}
