import { useSay } from '../app/session.tsx'
import forms from '../forms/forms.module.css'
import type { FormState } from '../forms/use-form.ts'
import { Select } from '../ui/select.tsx'
import { TextField } from '../ui/text-field.tsx'
import styles from './criteria.module.css'
import type { SetForm } from './set-form.ts'
import type { UncertaintyDraft, UncertaintyNumber } from './uncertainty-form.ts'

/** What budgets take where nothing better is known, and how the coverage factor is chosen. */
export function UncertaintyFields({ form }: { form: FormState<SetForm> }) {
  const t = useSay()
  const draft = form.form.uncertainty
  const set = (patch: Partial<UncertaintyDraft>) => form.set({ uncertainty: { ...draft, ...patch } })
  const labels: readonly (readonly [UncertaintyNumber, string])[] = [
    ['areaPercent', t('criteria.uncertainty.areaPercent', {})],
    ['volumePercent', t('criteria.uncertainty.volumePercent', {})],
    ['hoodFactorPercent', t('criteria.uncertainty.hoodFactorPercent', {})],
    ['correctionFactorPercent', t('criteria.uncertainty.correctionFactorPercent', {})],
    ['traverseRulePercent', t('criteria.uncertainty.traverseRulePercent', {})],
    ['flowElementPercent', t('criteria.uncertainty.flowElementPercent', {})],
    ['temperatureK', t('criteria.uncertainty.temperatureK', {})],
    ['pressurePa', t('criteria.uncertainty.pressurePa', {})],
    ['relativeHumidityPercent', t('criteria.uncertainty.relativeHumidityPercent', {})],
  ]
  return (
    <div className={forms.grid}>
      <p className={`${forms.whole} ${styles.soft}`}>{t('criteria.uncertainty.about', {})}</p>
      <Select
        className={forms.double}
        label={t('criteria.coverage', {})}
        value={draft.coverageKind}
        choices={[
          { value: 'student', label: t('criteria.coverage.student', {}) },
          { value: 'fixed', label: t('criteria.coverage.fixed', {}) },
        ]}
        onChange={(coverageKind) => set({ coverageKind })}
      />
      {draft.coverageKind === 'student' ? (
        <TextField
          label={t('criteria.coverage.level', {})}
          value={draft.levelPercent}
          onChange={(levelPercent) => set({ levelPercent })}
          error={form.problem('uncertainty.levelPercent')}
        />
      ) : (
        <TextField
          label={t('criteria.coverage.factor', {})}
          value={draft.factor}
          onChange={(factor) => set({ factor })}
          error={form.problem('uncertainty.factor')}
        />
      )}
      {labels.map(([field, label]) => (
        <TextField
          key={field}
          label={label}
          value={draft[field]}
          onChange={(text) => set({ [field]: text })}
          error={form.problem(`uncertainty.${field}`)}
        />
      ))}
    </div>
  )
}
