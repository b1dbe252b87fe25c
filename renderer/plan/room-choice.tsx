import { useMemo } from 'react'
import type { Entity } from '#core/model/entities.ts'
import type { RoomState } from '#core/model/results.ts'
import { workload } from '#core/planning/workload.ts'
import { useSay } from '../app/session.tsx'
import type { FormState } from '../forms/use-form.ts'
import { Checkbox } from '../ui/checkbox.tsx'
import { Panel } from '../ui/panel.tsx'
import { VerdictMark } from '../ui/verdict-mark.tsx'
import styles from './plan.module.css'
import { tasksOf } from './plan-work.ts'
import type { PlanForm, SitePlan } from './use-plan.ts'

type ChoiceProps = { form: FormState<PlanForm>; site: SitePlan }

/** The rooms of the site by area, with how each went last time and what measuring it takes. */
export function RoomChoice({ form, site }: ChoiceProps) {
  const t = useSay()
  const chosen = new Set(form.form.roomIds)
  const error = form.problem('roomIds')
  return (
    <Panel
      title={t('plan.rooms', {})}
      actions={<span className={styles.soft}>{t('plan.rooms_of', { chosen: chosen.size, of: site.rooms.length })}</span>}
      flush
    >
      {error ? (
        <p role="alert" className={styles.wrong}>
          {error}
        </p>
      ) : null}
      <div className={styles.frame}>
        <table className={styles.table}>
          <caption className="visually-hidden">{t('plan.rooms', {})}</caption>
          <thead>
            <tr>
              <th scope="col">{t('plan.column.room', {})}</th>
              <th scope="col">{t('plan.column.last', {})}</th>
              <th scope="col" className={styles.number}>
                {t('plan.column.filters', {})}
              </th>
              <th scope="col" className={styles.number}>
                {t('plan.column.readings', {})}
              </th>
              <th scope="col" className={styles.number}>
                {t('plan.column.time', {})}
              </th>
            </tr>
          </thead>
          {site.facilities.map((facility) => (
            <FacilityRooms key={facility.id} facility={facility} form={form} site={site} />
          ))}
        </table>
      </div>
    </Panel>
  )
}

function FacilityRooms({ facility, form, site }: ChoiceProps & { facility: Entity<'facility'> }) {
  const t = useSay()
  const own = site.rooms.filter((room) => room.parentId === facility.id)
  const chosen = new Set(form.form.roomIds)
  const count = own.filter((room) => chosen.has(room.id)).length
  const choose = (ids: readonly string[], isIn: boolean) => {
    const next = new Set(form.form.roomIds)
    for (const id of ids) {
      if (isIn) next.add(id)
      else next.delete(id)
    }
    form.set({ roomIds: site.rooms.filter((room) => next.has(room.id)).map((room) => room.id) })
  }
  if (own.length === 0) return null
  return (
    <tbody>
      <tr className={styles.facility}>
        <th scope="rowgroup" colSpan={5}>
          <Checkbox
            label={t('plan.room.all', { facility: facility.body.name })}
            checked={count === own.length}
            mixed={count > 0 && count < own.length}
            onChange={(next) =>
              choose(
                own.map((room) => room.id),
                next,
              )
            }
          />
        </th>
      </tr>
      {own.map((room) => (
        <RoomLine key={room.id} room={room} site={site} chosen={chosen.has(room.id)} onChoose={(next) => choose([room.id], next)} />
      ))}
    </tbody>
  )
}

type RoomLineProps = { room: Entity<'room'>; site: SitePlan; chosen: boolean; onChoose: (next: boolean) => void }

function RoomLine({ room, site, chosen, onChoose }: RoomLineProps) {
  const t = useSay()
  const work = useMemo(() => workload(tasksOf([room.id], site, site.averagingTimeS)), [room.id, site])
  return (
    <tr data-chosen={chosen ? '' : undefined}>
      <th scope="row">
        <Checkbox
          label={
            <>
              <strong>{room.body.number}</strong> {room.body.name}
              {room.body.inUse ? null : <em className={styles.soft}> · {t('plan.room.out_of_use', {})}</em>}
            </>
          }
          checked={chosen}
          onChange={onChoose}
        />
      </th>
      <td>
        <LastTime state={site.state?.rooms.find((one) => one.roomId === room.id)} hasLast={site.latest !== null} />
      </td>
      <td className={styles.number}>{work.terminals}</td>
      <td className={styles.number}>{work.readings}</td>
      <td className={styles.number}>{t('plan.minutes', { minutes: work.minutes })}</td>
    </tr>
  )
}

function LastTime({ state, hasLast }: { state: RoomState | undefined; hasLast: boolean }) {
  const t = useSay()
  if (!state) return hasLast ? <span className={styles.soft}>{t('plan.room.not_last', {})}</span> : null
  return (
    <span className={styles.last}>
      <VerdictMark verdict={state.verdict} />
      {state.failedAsFound ? <span className={styles.soft}>{t('plan.room.failed_as_found', {})}</span> : null}
    </span>
  )
}
