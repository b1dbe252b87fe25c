import type { Limit } from '#core/model/criteria.ts'
import { DIMENSION_OF_CRITERION, FORMS_OF, SCOPES_OF } from '#core/model/criteria-rules.ts'
import type { Unit } from '#core/model/values.ts'
import { useProject, useSay } from '../app/session.tsx'
import forms from '../forms/forms.module.css'
import type { FormState } from '../forms/use-form.ts'
import { Button } from '../ui/button.tsx'
import { EnteredField } from '../ui/entered-field.tsx'
import { Select } from '../ui/select.tsx'
import { TextField } from '../ui/text-field.tsx'
import styles from './criteria.module.css'
import { type CriterionDraft, keyOfTitle, unitOfLimits, withQuantity } from './criterion-form.ts'
import { useCriterionChoices } from './criterion-words.ts'
import type { SetForm } from './set-form.ts'

type FieldsProps = {
  form: FormState<SetForm>
  draft: CriterionDraft
  index: number
  /** null removes the criterion */
  onChange: (next: CriterionDraft | null) => void
}

/** Every field of one criterion. */
export function CriterionFields(props: FieldsProps) {
  const { form, draft, index, onChange } = props
  const t = useSay()
  const choices = useCriterionChoices()
  const { display } = useProject().body
  const problem = (field: string) => form.problem(`criteria.${index}.${field}`)
  const set = (patch: Partial<CriterionDraft>) => onChange({ ...draft, ...patch })
  return (
    <div className={styles.fields}>
      <div className={forms.grid}>
        <TextField
          className={forms.whole}
          label={t('criteria.heading', {})}
          value={draft.title}
          maxLength={120}
          autoFocus={draft.title === ''}
          onChange={(title) => set({ title })}
          error={problem('title')}
        />
        <Select
          label={t('criteria.quantity', {})}
          value={draft.quantity}
          choices={choices.quantities}
          onChange={(quantity) => onChange(withQuantity(draft, quantity))}
          error={problem('quantity')}
        />
        <Select
          className={forms.double}
          label={t('criteria.form', {})}
          value={draft.formKind}
          choices={choices.forms.filter((choice) => FORMS_OF[draft.quantity].includes(choice.value))}
          onChange={(formKind) => set({ formKind })}
          error={problem('formKind')}
        />
        <LimitFields {...props} />
        <Select
          label={t('criteria.scope', {})}
          value={draft.scope}
          choices={choices.scopes.filter(({ value }) => value === draft.scope || SCOPES_OF[draft.quantity].includes(value))}
          onChange={(scope) => set({ scope })}
          error={problem('scope')}
        />
        <Select label={t('criteria.plane', {})} value={draft.plane} choices={choices.planes} onChange={(plane) => set({ plane })} />
        <Select
          className={forms.double}
          label={t('criteria.basis', {})}
          value={draft.basis}
          choices={choices.bases}
          hint={t('criteria.basis_hint', {})}
          onChange={(basis) => set({ basis })}
        />
        <TextField
          className={forms.whole}
          label={t('criteria.source', {})}
          hint={t('criteria.source_hint', {})}
          value={draft.source}
          maxLength={4000}
          onChange={(source) => set({ source })}
        />
        <p className={`${forms.whole} ${styles.soft}`}>{t('criteria.alerts', {})}</p>
        <Value {...props} part="alertLow" label={t('criteria.alert_low', {})} unit={unitOfLimits(draft, display)} />
        <Value {...props} part="alertHigh" label={t('criteria.alert_high', {})} unit={unitOfLimits(draft, display)} />
        <TextField
          label={t('criteria.key', {})}
          hint={t('criteria.key_hint', {})}
          value={draft.key}
          placeholder={keyOfTitle(draft.title)}
          maxLength={60}
          onChange={(key) => set({ key })}
          error={problem('key')}
        />
        <div className={forms.whole}>
          <Button kind="quiet" icon="close" onClick={() => onChange(null)}>
            {t('criteria.remove', {})}
          </Button>
        </div>
      </div>
    </div>
  )
}

function LimitFields(props: FieldsProps) {
  const { draft, onChange } = props
  const t = useSay()
  switch (draft.formKind) {
    case 'at_least':
      return <LimitField {...props} side="low" label={t('criteria.limit', {})} />
    case 'at_most':
      return <LimitField {...props} side="high" label={t('criteria.limit', {})} />
    case 'between':
      return (
        <>
          <LimitField {...props} side="low" label={t('criteria.limit_low', {})} />
          <LimitField {...props} side="high" label={t('criteria.limit_high', {})} />
        </>
      )
    case 'each_within_percent_of_mean':
      return (
        <>
          <Value {...props} part="percent" label={t('criteria.percent', {})} unit="%" />
          <Select
            label={t('criteria.percent_of', {})}
            value={draft.of}
            choices={[
              { value: 'zone', label: t('criteria.scope.zone', {}) },
              { value: 'filter', label: t('criteria.scope.filter', {}) },
            ]}
            onChange={(of) => onChange({ ...draft, of })}
          />
        </>
      )
    default:
      return <Value {...props} part="percent" label={t('criteria.percent', {})} unit="%" />
  }
}

function LimitField(props: FieldsProps & { side: 'low' | 'high'; label: string }) {
  const { draft, onChange, side, label } = props
  const t = useSay()
  const { display } = useProject().body
  const from = side === 'low' ? draft.lowFrom : draft.highFrom
  const change = (next: Limit['from']) => onChange({ ...draft, ...(side === 'low' ? { lowFrom: next } : { highFrom: next }) })
  return (
    <>
      {DIMENSION_OF_CRITERION[draft.quantity] === 'air_change_rate' ? (
        <Select
          className={forms.double}
          label={t('criteria.limit_from', {})}
          value={from}
          choices={[
            { value: 'value', label: t('criteria.limit_from.value', {}) },
            { value: 'room_required_minimum', label: t('criteria.limit_from.room_required_minimum', {}) },
          ]}
          onChange={change}
        />
      ) : null}
      {from === 'value' ? <Value {...props} part={side} label={label} unit={unitOfLimits(draft, display)} /> : null}
    </>
  )
}

type ValueProps = FieldsProps & { part: 'low' | 'high' | 'percent' | 'alertLow' | 'alertHigh'; label: string; unit: Unit }

function Value({ form, draft, index, onChange, part, label, unit }: ValueProps) {
  const path = `criteria.${index}.${part}`
  return (
    <EnteredField
      // Another quantity has other units: the field starts afresh with it.
      key={`${part} ${DIMENSION_OF_CRITERION[draft.quantity]}`}
      label={label}
      unit={unit}
      value={draft[part]}
      onChange={(value, valid) => {
        form.unreadable(path, !valid)
        if (valid) onChange({ ...draft, [part]: value })
      }}
      error={form.problem(path)}
    />
  )
}
