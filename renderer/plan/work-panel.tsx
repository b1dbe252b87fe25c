import { useMemo } from 'react'
import { doorsToMeasure } from '#core/planning/proposed-work.ts'
import { readNumber } from '#core/units/number-text.ts'
import { useSay } from '../app/session.tsx'
import type { FormState } from '../forms/use-form.ts'
import { Figure } from '../ui/figure.tsx'
import { Facts, Panel } from '../ui/panel.tsx'
import { TextField } from '../ui/text-field.tsx'
import styles from './plan.module.css'
import { daysOfVisit } from './plan-dates.ts'
import { HOURS_PER_DAY, plannedWork, tasksOf } from './plan-work.ts'
import type { PlanForm, SitePlan } from './use-plan.ts'

/** What the visit takes: terminals, readings, days. */
export function WorkPanel({ form, site }: { form: FormState<PlanForm>; site: SitePlan }) {
  const t = useSay()
  const { roomIds, people, startsOn, endsOn } = form.form
  const read = readNumber(people.trim())
  const team = read?.kind === 'one' ? Math.floor(read.value) : 0
  const doors = doorsToMeasure(roomIds, site.doors).length
  const work = useMemo(() => {
    const areas = new Set(site.rooms.filter((room) => roomIds.includes(room.id)).map((room) => room.parentId))
    return plannedWork(tasksOf(roomIds, site, site.averagingTimeS), team, areas.size, doors)
  }, [site, roomIds, team, doors])
  const planned = daysOfVisit(startsOn, endsOn)
  return (
    <Panel title={t('plan.work', {})}>
      <div className={styles.stack}>
        <div className={styles.figures}>
          <Figure value={String(roomIds.length)} label={t('plan.work.rooms', {})} />
          <Figure value={String(work.terminals)} label={t('plan.work.filters', {})} />
          <Figure value={String(work.readings)} label={t('plan.work.readings', {})} />
        </div>
        <div className={styles.team}>
          <TextField label={t('plan.people', {})} value={people} maxLength={3} onChange={(next) => form.set({ people: next })} />
          <Figure size="large" value={t('plan.work.days_value', { days: work.daysOnSite })} label={t('plan.work.days', {})} />
          <Figure size="large" value={t('plan.work.days_value', { days: work.personDays })} label={t('plan.work.person_days', {})} />
        </div>
        {planned > 0 && work.daysOnSite > planned ? (
          <p className={styles.wrong}>{t('plan.too_long', { needed: work.daysOnSite, planned })}</p>
        ) : null}
        <Facts
          facts={[
            ...(doors > 0 ? ([[t('plan.work.doors', {}), String(doors)]] as const) : []),
            [t('plan.work.site', {}), t('plan.work.hours_value', { minutes: work.minutes })],
            [t('plan.work.report', {}), t('plan.work.hours_value', { minutes: work.reportMinutes })],
          ]}
        />
        <p className={styles.small}>{t('plan.work.note', { hours: HOURS_PER_DAY })}</p>
      </div>
    </Panel>
  )
}
