import { newestFirst } from '../app/certification-shown.ts'
import { useSay, useSession } from '../app/session.tsx'
import forms from '../forms/forms.module.css'
import type { FormState } from '../forms/use-form.ts'
import { Panel } from '../ui/panel.tsx'
import { Select } from '../ui/select.tsx'
import { TextField } from '../ui/text-field.tsx'
import { carriedRooms, type PlanForm, type SitePlan } from './use-plan.ts'

const NOTHING = 'nothing'

/** Name, dates and purpose of the visit. */
export function VisitFields({ form, site }: { form: FormState<PlanForm>; site: SitePlan }) {
  const t = useSay()
  const { certifications } = useSession()
  const { previousId, name, startsOn, endsOn, purpose, why } = form.form
  const isLate = site.due !== null && endsOn > site.due.on && site.due.days >= 0
  return (
    <Panel title={t('plan.visit', {})}>
      <div className={forms.grid}>
        <Select
          label={t('plan.from', {})}
          value={previousId ?? NOTHING}
          choices={[
            ...newestFirst(certifications).map((candidate) => ({ value: candidate.id, label: candidate.body.name })),
            { value: NOTHING, label: t('plan.from.nothing', {}) },
          ]}
          onChange={(value) => {
            const previous = certifications.find((candidate) => candidate.id === value) ?? null
            form.set({ previousId: previous?.id ?? null, roomIds: carriedRooms(site.rooms, previous) })
          }}
        />
        <TextField
          label={t('plan.name', {})}
          value={name}
          maxLength={120}
          onChange={(next) => form.set({ name: next })}
          error={form.problem('name')}
        />
        <TextField
          label={t('plan.starts', {})}
          type="date"
          value={startsOn}
          onChange={(next) => form.set({ startsOn: next })}
          error={form.problem('startsOn')}
        />
        <TextField
          label={t('plan.ends', {})}
          type="date"
          value={endsOn}
          onChange={(next) => form.set({ endsOn: next })}
          error={form.problem('endsOn') ?? (isLate && site.due ? t('plan.after_due', { due: site.due }) : null)}
        />
        <Select
          label={t('plan.purpose', {})}
          value={purpose}
          choices={[
            { value: 'periodic', label: t('plan.purpose.periodic', {}) },
            { value: 'initial', label: t('plan.purpose.initial', {}) },
            { value: 'after_change', label: t('plan.purpose.after_change', {}) },
            { value: 'investigation', label: t('plan.purpose.investigation', {}) },
          ]}
          onChange={(next) => form.set({ purpose: next })}
        />
        <TextField
          className={forms.whole}
          label={t('plan.why', {})}
          value={why}
          maxLength={4000}
          onChange={(next) => form.set({ why: next })}
        />
        {site.due && site.latest ? <p className={forms.whole}>{t('plan.due', { name: site.latest.body.name, due: site.due })}</p> : null}
      </div>
    </Panel>
  )
}
