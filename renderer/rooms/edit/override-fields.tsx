import { useState } from 'react'
import type { Criterion, CriterionForm, CriterionOverride } from '#core/model/criteria.ts'
import type { Entity } from '#core/model/entities.ts'
import type { Entered } from '#core/model/values.ts'
import { useFormatter, useSay } from '#renderer/app/session.tsx'
import { Button } from '#renderer/ui/button.tsx'
import { Checkbox } from '#renderer/ui/checkbox.tsx'
import { EnteredField } from '#renderer/ui/entered-field.tsx'
import { Select } from '#renderer/ui/select.tsx'
import { TextField } from '#renderer/ui/text-field.tsx'
import { changedLimits, type LimitSlot, limitsOf } from './override-limits.ts'
import styles from './panel.module.css'

type CriteriaFieldsProps = {
  sets: readonly Entity<'criteria_set'>[]
  criteriaSetId: string | null
  overrides: readonly CriterionOverride[]
  /** what a place without a set of its own is judged by, in words */
  noneLabel: string
  onSet: (criteriaSetId: string | null) => void
  onOverrides: (overrides: CriterionOverride[]) => void
}

const NONE = 'none'

/** The criteria set of a room or zone, and its own wording of single criteria, each with a reason. */
export function CriteriaFields({ sets, criteriaSetId, overrides, noneLabel, onSet, onOverrides }: CriteriaFieldsProps) {
  const t = useSay()
  const [openKey, setOpenKey] = useState<string | null>(null)
  const set = sets.find((candidate) => candidate.id === criteriaSetId) ?? null
  return (
    <fieldset className={styles.group}>
      <legend>{t('map.criteria.title', {})}</legend>
      <Select
        label={t('map.criteria.set', {})}
        value={criteriaSetId ?? NONE}
        choices={[{ value: NONE, label: noneLabel }, ...sets.map(({ id, body }) => ({ value: id, label: body.name }))]}
        onChange={(id) => onSet(id === NONE ? null : id)}
      />
      <ul className={styles.list}>
        {set?.body.criteria.map((criterion) => {
          const own = overrides.find((override) => override.key === criterion.key) ?? null
          return (
            <li key={criterion.key} className={styles.fields}>
              <div className={styles.line}>
                <span>
                  {criterion.title} {own ? t('map.criteria.own', { on: own.on }) : ''}
                </span>
                <Button
                  kind="quiet"
                  aria-expanded={openKey === criterion.key}
                  onClick={() => setOpenKey(openKey === criterion.key ? null : criterion.key)}
                >
                  {t('map.criteria.change', {})}
                </Button>
              </div>
              {openKey === criterion.key ? (
                <OverrideForm
                  criterion={criterion}
                  own={own}
                  onSave={(next) => {
                    const others = overrides.filter((override) => override.key !== criterion.key)
                    onOverrides(next ? [...others, next] : others)
                    setOpenKey(null)
                  }}
                />
              ) : null}
            </li>
          )
        })}
      </ul>
    </fieldset>
  )
}

type OverrideFormProps = { criterion: Criterion; own: CriterionOverride | null; onSave: (next: CriterionOverride | null) => void }

function OverrideForm({ criterion, own, onSave }: OverrideFormProps) {
  const t = useSay()
  const formatter = useFormatter()
  const [on, setOn] = useState(own?.on ?? criterion.on)
  const [form, setForm] = useState<CriterionForm>(own?.form ?? criterion.form)
  const [unreadable, setUnreadable] = useState<ReadonlySet<string>>(new Set())
  const [reason, setReason] = useState(own?.reason ?? '')
  const put = (slot: LimitSlot, value: Entered | null, understood: boolean) => {
    const next = new Set(unreadable)
    if (understood && value) next.delete(slot.key)
    else next.add(slot.key)
    setUnreadable(next)
    if (understood && value) setForm(changedLimits(form, slot.key, value))
  }
  const kept = JSON.stringify(form) === JSON.stringify(criterion.form)
  return (
    <div className={styles.fields}>
      <Checkbox label={t('map.criteria.on', {})} checked={on} onChange={setOn} />
      {limitsOf(form).map((slot) => (
        <EnteredField
          key={slot.key}
          label={t('map.criteria.limit', { of: { key: slot.key } })}
          unit={slot.value.unit}
          value={slot.value}
          hint={t('map.criteria.of_set', { limit: formatter.quantity(slot.value.si, slot.dimension, { unit: slot.value.unit }) })}
          onChange={(value, understood) => put(slot, value, understood)}
        />
      ))}
      <TextField label={t('map.criteria.reason', {})} value={reason} onChange={setReason} maxLength={1000} />
      <div className={styles.actions}>
        <Button
          kind="primary"
          disabled={unreadable.size > 0 || reason.trim() === ''}
          onClick={() => onSave({ key: criterion.key, form: kept ? null : form, on, reason: reason.trim() })}
        >
          {t('map.criteria.save', {})}
        </Button>
        {own ? (
          <Button kind="quiet" onClick={() => onSave(null)}>
            {t('map.criteria.drop', {})}
          </Button>
        ) : null}
      </div>
    </div>
  )
}
