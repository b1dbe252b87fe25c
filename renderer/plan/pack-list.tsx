import { Link } from 'wouter'
import { useFailureText, useSay } from '../app/session.tsx'
import type { FormState } from '../forms/use-form.ts'
import { type CoverOfVisit, coverOfVisit } from '../instruments/calibration-state.ts'
import { type KnownInstrument, useInstruments } from '../instruments/use-instruments.ts'
import { Icon } from '../ui/icon.tsx'
import { Panel } from '../ui/panel.tsx'
import styles from './plan.module.css'
import type { PlanForm } from './use-plan.ts'

/** Instruments in use, those that measure velocity first, each held against the planned days. */
export function PackList({ form }: { form: FormState<PlanForm> }) {
  const t = useSay()
  const failureText = useFailureText()
  const { instruments, error } = useInstruments()
  const { startsOn, endsOn } = form.form
  const hasDates = startsOn !== '' && endsOn >= startsOn
  const active = (instruments ?? []).filter((known) => known.instrument.body.active)
  const isMain = (known: KnownInstrument) => known.instrument.body.senses.some((sensed) => sensed.quantity === 'velocity')
  const ordered = [...active.filter(isMain), ...active.filter((known) => !isMain(known))]
  return (
    <Panel title={t('plan.pack', {})} flush>
      {error ? <p role="alert">{failureText(error)}</p> : null}
      {instruments && !active.some(isMain) ? <p className={styles.packNote}>{t('plan.pack.none', {})}</p> : null}
      <ul>
        {ordered.map((known) => {
          const bodies = known.calibrations.map((calibration) => calibration.body)
          return <PackLine key={known.instrument.id} known={known} cover={hasDates ? coverOfVisit(bodies, startsOn, endsOn) : null} />
        })}
      </ul>
      {hasDates ? null : <p className={styles.packNote}>{t('plan.pack.need_dates', {})}</p>}
    </Panel>
  )
}

function PackLine({ known, cover }: { known: KnownInstrument; cover: CoverOfVisit | null }) {
  const { instrument } = known
  return (
    <li className={styles.pack} data-cover={cover?.kind}>
      <Icon name={cover === null ? 'gauge' : cover.kind === 'covered' ? 'check' : 'warn'} size={16} />
      <span>
        <Link href={`/instruments/${instrument.id}`}>{instrument.body.name}</Link>{' '}
        <span className={styles.soft}>{instrument.body.serialNumber}</span>
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
