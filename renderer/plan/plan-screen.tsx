import { useQuery } from '@tanstack/react-query'
import { Link } from 'wouter'
import { orpc } from '../app/client.ts'
import { useCanChange, useFailureText, useSay, useSession } from '../app/session.tsx'
import { useNoWhy } from '../app/why.tsx'
import type { FormState } from '../forms/use-form.ts'
import { Busy } from '../ui/busy.tsx'
import { Button } from '../ui/button.tsx'
import { EmptyState } from '../ui/empty-state.tsx'
import { ScreenHead } from '../ui/panel.tsx'
import { PackList } from './pack-list.tsx'
import styles from './plan.module.css'
import { RoomChoice } from './room-choice.tsx'
import { type PlanForm, type SitePlan, usePlanForm, useSitePlan } from './use-plan.ts'
import { VisitFields } from './visit-fields.tsx'
import { WorkPanel } from './work-panel.tsx'

/** Starts a certification from the last one, and says beforehand what it takes. */
export function PlanScreen() {
  useNoWhy()
  const t = useSay()
  const failureText = useFailureText()
  const { site, error } = useSitePlan()
  if (error) return <p role="alert">{failureText(error)}</p>
  if (!site) return <Busy label={t('app.loading', {})} />
  if (site.rooms.length === 0) {
    return (
      <EmptyState icon="plan" title={t('plan.no_rooms', {})} action={<Link href="/site">{t('plan.to_site', {})}</Link>}>
        {t('plan.no_rooms_text', {})}
      </EmptyState>
    )
  }
  return <Planned site={site} />
}

function Planned({ site }: { site: SitePlan }) {
  const t = useSay()
  const form = usePlanForm(site)
  const { certifications } = useSession()
  const previous = certifications.find((candidate) => candidate.id === form.form.previousId)
  return (
    <div className={styles.screen}>
      <ScreenHead
        title={t('plan.title', {})}
        about={t('plan.about', { previous: previous?.body.name ?? '' })}
        actions={<StartButton form={form} />}
      />
      <OpenVisit site={site} />
      <div className={styles.columns}>
        <div className={styles.stack}>
          <VisitFields form={form} site={site} />
          <RoomChoice form={form} site={site} />
        </div>
        <div className={styles.stack}>
          <WorkPanel form={form} site={site} />
          <PackList form={form} site={site} />
        </div>
      </div>
    </div>
  )
}

function StartButton({ form }: { form: FormState<PlanForm> }) {
  const t = useSay()
  const canChange = useCanChange()
  return (
    <>
      {form.problemCount > 0 ? (
        <span className={styles.wrong} role="status">
          {t('instruments.form.problems', { count: form.problemCount })}
        </span>
      ) : null}
      {form.changed ? <Button onClick={form.revert}>{t('plan.revert', {})}</Button> : null}
      <Button kind="primary" icon="plan" disabled={form.busy || !canChange} onClick={() => void form.submit()}>
        {t('plan.start', {})}
      </Button>
    </>
  )
}

/** A visit that is not finished comes before the next one. */
function OpenVisit({ site }: { site: SitePlan }) {
  const t = useSay()
  const open = site.latest && !site.latest.body.finished ? site.latest : null
  const left = useQuery(orpc.certifications.remaining.queryOptions({ input: { certificationId: open?.id ?? '' }, enabled: open !== null }))
  if (!open || !left.data) return null
  const { name } = open.body
  return (
    <p className={styles.open}>
      {t('plan.open', { name, filters: left.data.filters, readings: left.data.readings })}{' '}
      <Link href={`/certification/${open.id}`}>{t('plan.open_link', { name })}</Link>
    </p>
  )
}
