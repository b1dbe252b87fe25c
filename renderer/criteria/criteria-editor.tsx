import { useQuery } from '@tanstack/react-query'
import { useMemo } from 'react'
import { useLocation } from 'wouter'
import type { Entity } from '#core/model/entities.ts'
import type { Uuid } from '#core/model/values.ts'
import { api, orpc } from '../app/client.ts'
import { Gone } from '../app/gone.tsx'
import { newCommand, newId, useCanChange, useFailureText, useSay } from '../app/session.tsx'
import { useNoWhy } from '../app/why.tsx'
import { FormFoot } from '../forms/form-foot.tsx'
import forms from '../forms/forms.module.css'
import { type FormState, useForm } from '../forms/use-form.ts'
import { Busy } from '../ui/busy.tsx'
import { Button } from '../ui/button.tsx'
import { Panel, ScreenHead } from '../ui/panel.tsx'
import { Select } from '../ui/select.tsx'
import { TextField } from '../ui/text-field.tsx'
import { useToast } from '../ui/toast.tsx'
import styles from './criteria.module.css'
import { CriterionLines } from './criterion-lines.tsx'
import { CompareRevisions, Revisions } from './revisions.tsx'
import { EMPTY_SET, formOfSet, type SetForm, setOfForm, setProblems } from './set-form.ts'
import { useSetRevisions } from './set-revisions.ts'
import { UncertaintyFields } from './uncertainty-fields.tsx'
import { VerdictPreview } from './verdict-preview.tsx'

const NEW = 'new'

/** One criteria set: its criteria, and how it came to be as it is. */
export function CriteriaSetScreen({ criteriaSetId }: { criteriaSetId: Uuid }) {
  useNoWhy()
  const t = useSay()
  const failureText = useFailureText()
  const query = useQuery(orpc.entities.list.queryOptions({ input: { kinds: ['criteria_set'], within: null } }))
  if (query.error) return <p role="alert">{failureText(query.error)}</p>
  if (!query.data) return <Busy label={t('app.loading', {})} />
  const set = query.data.filter((entity) => entity.kind === 'criteria_set').find((entity) => entity.id === criteriaSetId) ?? null
  if (!set && criteriaSetId !== NEW) return <Gone icon="criteria" title={t('criteria.gone', {})} to="criteria" />
  return <SetEditor set={set} />
}

function SetEditor({ set }: { set: Entity<'criteria_set'> | null }) {
  const t = useSay()
  const form = useSetForm(set)
  const list = (
    <Panel title={t('criteria.list', {})} flush>
      <CriterionLines form={form} />
    </Panel>
  )
  const fields = (
    <Panel title={t('criteria.set', {})}>
      <SetFields form={form} />
    </Panel>
  )
  return (
    <div className={styles.screen}>
      <ScreenHead
        title={set?.body.name ?? t('criteria.new_name', {})}
        about={set ? t('criteria.revision', { revision: set.revision }) : t('criteria.about', {})}
        actions={set ? <CopySet set={set} /> : undefined}
      />
      <div className={styles.columns}>
        <div className={forms.stack}>
          {set ? list : fields}
          {set ? fields : list}
          <Panel title={t('criteria.uncertainty', {})}>
            <UncertaintyFields form={form} />
          </Panel>
          {form.changed && set ? (
            <TextField
              label={t('criteria.reason', {})}
              hint={t('criteria.reason_hint', {})}
              value={form.form.reason}
              maxLength={1000}
              onChange={(reason) => form.set({ reason })}
            />
          ) : null}
          <FormFoot form={form} isNew={set === null} />
          {form.changed && set ? <p className={styles.faint}>{t('criteria.revision_note', { revision: set.revision + 1 })}</p> : null}
        </div>
        {set ? <OfRevisions set={set} form={form} /> : null}
      </div>
    </div>
  )
}

/** What came before, what differs, and what the draft would do to verdicts. */
function OfRevisions({ set, form }: { set: Entity<'criteria_set'>; form: FormState<SetForm> }) {
  const revisions = useSetRevisions(set.id)
  const draft = form.changed ? { body: setProblems(form.form).length > 0 ? null : setOfForm(form.form) } : null
  return (
    <div className={forms.stack}>
      {revisions ? <VerdictPreview setId={set.id} revisions={revisions} draft={draft} /> : null}
      {revisions ? <CompareRevisions revisions={revisions} draft={draft?.body ?? null} /> : null}
      <Revisions revisions={revisions} />
    </div>
  )
}

/** A set of its own to adapt, from the saved one. */
function CopySet({ set }: { set: Entity<'criteria_set'> }) {
  const t = useSay()
  const toast = useToast()
  const canChange = useCanChange()
  const [, go] = useLocation()
  const copy = async () => {
    const id = newId()
    const body = { ...set.body, name: t('criteria.copy_name', { name: set.body.name }).slice(0, 120) }
    try {
      const change = { kind: 'criteria_set', id, parentId: null, revision: null, body } as const
      await api.entities.change({ command: newCommand(), name: 'create', scope: 'project', changes: [change] })
      toast.note(t('criteria.copied', { name: body.name }))
      go(`/criteria/${id}`)
    } catch (error) {
      toast.problem(error)
    }
  }
  return (
    <Button icon="add" disabled={!canChange} onClick={() => void copy()}>
      {t('criteria.copy', {})}
    </Button>
  )
}

function useSetForm(set: Entity<'criteria_set'> | null): FormState<SetForm> {
  const t = useSay()
  const toast = useToast()
  const [, go] = useLocation()
  const start = useMemo(() => formOfSet(set?.body ?? EMPTY_SET), [set])
  return useForm({
    key: `criteria set ${set?.id ?? NEW}`,
    start,
    check: setProblems,
    submit: async (form) => {
      const body = setOfForm(form)
      if (!body) return
      const id = set?.id ?? newId()
      const change = { kind: 'criteria_set', id, parentId: null, revision: set?.revision ?? null, body } as const
      await api.entities.change({ command: newCommand(form.reason), name: set ? 'edit' : 'create', scope: 'project', changes: [change] })
      toast.note(t('criteria.saved', { name: body.name, revision: (set?.revision ?? 0) + 1 }))
      if (!set) go(`/criteria/${id}`, { replace: true })
    },
  })
}

function SetFields({ form }: { form: FormState<SetForm> }) {
  const t = useSay()
  const { name, note, comparison, decision, multiple } = form.form
  return (
    <div className={forms.grid}>
      <TextField
        className={forms.whole}
        label={t('criteria.name', {})}
        value={name}
        maxLength={120}
        onChange={(next) => form.set({ name: next })}
        error={form.problem('name')}
      />
      <Select
        label={t('criteria.comparison', {})}
        value={comparison}
        choices={[
          { value: 'absolute', label: t('criteria.comparison.absolute', {}) },
          { value: 'rounded_to_limit', label: t('criteria.comparison.rounded_to_limit', {}) },
        ]}
        onChange={(next) => form.set({ comparison: next })}
      />
      <Select
        className={forms.double}
        label={t('criteria.decision', {})}
        value={decision}
        choices={[
          { value: 'simple', label: t('criteria.decision.simple', {}) },
          { value: 'guarded', label: t('criteria.decision.guarded', {}) },
        ]}
        hint={decision === 'guarded' ? t('criteria.guarded_hint', {}) : ''}
        onChange={(next) => form.set({ decision: next })}
      />
      {decision === 'guarded' ? (
        <TextField
          label={t('criteria.multiple', {})}
          value={multiple}
          onChange={(next) => form.set({ multiple: next })}
          error={form.problem('multiple')}
        />
      ) : null}
      <TextField
        className={forms.whole}
        label={t('criteria.note', {})}
        value={note}
        lines={2}
        maxLength={4000}
        onChange={(next) => form.set({ note: next })}
      />
    </div>
  )
}
