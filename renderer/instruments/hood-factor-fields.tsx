import { factorGaps } from '#core/methods/hood/hood-flow.ts'
import { TerminalFace } from '#core/model/terminals.ts'
import { useProject, useSay } from '../app/session.tsx'
import { FormEntered } from '../forms/form-entered.tsx'
import type { FormState } from '../forms/use-form.ts'
import { Button, IconButton } from '../ui/button.tsx'
import { Select } from '../ui/select.tsx'
import { TextField } from '../ui/text-field.tsx'
import { type HoodFactorForm, newHoodFactor } from './hood-factor-form.ts'
import type { InstrumentForm } from './instrument-form.ts'
import styles from './instruments.module.css'

/** A capture hood's own correction, per face it is held over and range of flow. */
export function HoodFactorFields({ form }: { form: FormState<InstrumentForm> }) {
  const t = useSay()
  const { hoodFactors } = form.form
  const gaps = factorGaps(hoodFactors.flatMap(({ face, low, high }) => (low && high ? [{ face, lowM3ps: low.si, highM3ps: high.si }] : [])))
  const nextLine = 1 + Math.max(-1, ...hoodFactors.map(({ line }) => line))
  return (
    <div>
      <p className={styles.hint}>{t('instruments.hood.about', {})}</p>
      {hoodFactors.map(({ line }, index) => (
        <HoodFactorLine key={line} form={form} index={index} />
      ))}
      {gaps.map(({ face, fromM3ps, toM3ps }) => (
        <p key={`${face} ${fromM3ps}`} className={styles.hint}>
          {t('ways.hood.gap', { of: { face }, fromM3ps, toM3ps })}
        </p>
      ))}
      <Button icon="add" onClick={() => form.set({ hoodFactors: [...hoodFactors, newHoodFactor(nextLine)] })}>
        {t('instruments.hood.add', {})}
      </Button>
    </div>
  )
}

function HoodFactorLine({ form, index }: { form: FormState<InstrumentForm>; index: number }) {
  const t = useSay()
  const { display } = useProject().body
  const { hoodFactors } = form.form
  const factor = hoodFactors[index]
  if (!factor) return null
  const change = (patch: Partial<HoodFactorForm>) =>
    form.set({ hoodFactors: hoodFactors.map((one, place) => (place === index ? { ...one, ...patch } : one)) })
  const path = (part: string) => `hoodFactors.${index}.${part}`
  const flow = (part: 'low' | 'high', label: string) => (
    <FormEntered
      form={form}
      path={path(part)}
      label={label}
      unit={factor[part]?.unit ?? factor.low?.unit ?? display.flow}
      value={factor[part]}
      onChange={(value) => change({ [part]: value })}
    />
  )
  return (
    <div className={styles.hoodFactor}>
      <Select
        label={t('instruments.hood.face', {})}
        value={factor.face}
        choices={TerminalFace.options.map((face) => ({ value: face, label: t('map.face.kind', { of: { face } }) }))}
        onChange={(face) => change({ face })}
      />
      {flow('low', t('instruments.low', {}))}
      {flow('high', t('instruments.high', {}))}
      <TextField
        label={t('instruments.hood.factor', {})}
        value={factor.factor}
        onChange={(next) => change({ factor: next })}
        error={form.problem(path('factor'))}
      />
      <FormEntered
        form={form}
        path={path('uncertaintyPercent')}
        label={t('instruments.hood.uncertainty', {})}
        unit="%"
        value={factor.uncertainty}
        onChange={(uncertainty) => change({ uncertainty })}
      />
      <div className={styles.removeCell}>
        <IconButton
          icon="close"
          label={t('instruments.hood.remove', { number: index + 1 })}
          onClick={() => form.set({ hoodFactors: hoodFactors.filter((_, place) => place !== index) })}
        />
      </div>
      <TextField
        className={styles.wholeLine}
        label={t('instruments.hood.reason', {})}
        value={factor.reason}
        maxLength={1000}
        onChange={(reason) => change({ reason })}
        error={form.problem(path('reason'))}
      />
    </div>
  )
}
