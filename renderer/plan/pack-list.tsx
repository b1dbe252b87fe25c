import { useMemo } from 'react'
import { Link } from 'wouter'
import type { Quantity } from '#core/model/values.ts'
import { doorsToMeasure, quantitiesFor } from '#core/planning/proposed-work.ts'
import { useFailureText, useSay } from '../app/session.tsx'
import type { FormState } from '../forms/use-form.ts'
import { type CoverOfVisit, coverOfVisit } from '../instruments/calibration-state.ts'
import { type KnownInstrument, useInstruments } from '../instruments/use-instruments.ts'
import { Icon } from '../ui/icon.tsx'
import { Panel } from '../ui/panel.tsx'
import styles from './plan.module.css'
import { plannedRooms } from './plan-work.ts'
import type { PlanForm, SitePlan } from './use-plan.ts'

/** Instruments in use, those that measure what the chosen rooms need first, each held against the planned days. */
export function PackList({ form, site }: { form: FormState<PlanForm>; site: SitePlan }) {
  const t = useSay()
  const failureText = useFailureText()
  const { instruments, error } = useInstruments()
  const { startsOn, endsOn } = form.form
  const hasDates = startsOn !== '' && endsOn >= startsOn
  const active = (instruments ?? []).filter((known) => known.instrument.body.active)
  const { roomIds } = form.form
  const doors = doorsToMeasure(roomIds, site.doors).length
  const needed = useMemo(() => [...quantitiesFor(plannedRooms(roomIds, site), doors)], [roomIds, site, doors])
  const senses = ({ instrument }: KnownInstrument) => {
    const sensed = new Set(instrument.body.senses.map(({ quantity }) => quantity))
    return needed.filter((quantity) => sensed.has(quantity))
  }
  const uses = active.map((known) => ({ known, quantities: senses(known) }))
  const ordered = [...uses.filter(({ quantities }) => quantities.length > 0), ...uses.filter(({ quantities }) => quantities.length === 0)]
  const lacking = needed.filter((quantity) => !uses.some(({ quantities }) => quantities.includes(quantity)))
  return (
    <Panel title={t('plan.pack', {})} flush>
      {error ? <p role="alert">{failureText(error)}</p> : null}
      {instruments
        ? lacking.map((quantity) => (
            <p key={quantity} className={styles.packNote}>
              {t('plan.pack.none', { quantity })}
            </p>
          ))
        : null}
      <ul>
        {ordered.map(({ known, quantities }) => {
          const bodies = known.calibrations.map((calibration) => calibration.body)
          const cover = hasDates ? coverOfVisit(bodies, startsOn, endsOn) : null
          return <PackLine key={known.instrument.id} known={known} quantities={quantities} doors={doors} cover={cover} />
        })}
      </ul>
      {hasDates ? null : <p className={styles.packNote}>{t('plan.pack.need_dates', {})}</p>}
    </Panel>
  )
}

/** What every run records of its air, whatever it measures. */
const CONDITIONS: ReadonlySet<Quantity> = new Set(['temperature', 'relative_humidity', 'barometric_pressure'])

type PackLineProps = { known: KnownInstrument; quantities: readonly Quantity[]; doors: number; cover: CoverOfVisit | null }

function PackLine({ known, quantities, doors, cover }: PackLineProps) {
  const t = useSay()
  const { instrument } = known
  const ofConditions = instrument.body.senses.map(({ quantity }) => quantity).filter((quantity) => CONDITIONS.has(quantity))
  const uses = [...quantities, ...ofConditions]
  return (
    <li className={styles.pack} data-cover={cover?.kind}>
      <Icon name={cover === null ? 'gauge' : cover.kind === 'covered' ? 'check' : 'warn'} size={16} />
      <span>
        <Link href={`/instruments/${instrument.id}`}>{instrument.body.name}</Link>{' '}
        <span className={styles.soft}>{instrument.body.serialNumber}</span>{' '}
        {uses.length > 0 ? <span className={styles.soft}>{t('plan.pack.for', { quantities: uses, doors })}</span> : null}
        {cover ? (
          <span className={styles.cover}>
            <Cover cover={cover} />
          </span>
        ) : null}
      </span>
    </li>
  )
}

function Cover({ cover }: { cover: CoverOfVisit }) {
  const t = useSay()
  switch (cover.kind) {
    case 'covered':
      return t('plan.pack.covered', { cover })
    case 'ends_inside':
      return t('plan.pack.ends_inside', { cover })
    case 'ended':
      return t('plan.pack.ended', { cover })
    case 'none':
      return t('plan.pack.no_certificate', {})
  }
}
