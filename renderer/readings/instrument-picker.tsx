import type { Uuid } from '#core/model/values.ts'
import { localDate } from '#core/planning/dates.ts'
import { useFormatter, useProject, useSay, useSentence } from '../app/session.tsx'
import { Icon } from '../ui/icon.tsx'
import { type Fit, fitOf } from './instrument-fit.ts'
import styles from './instrument-picker.module.css'
import { designVelocityMps, type RunPlan } from './run-plan.ts'
import type { HandInstrument } from './use-hand-instrument.ts'

type PickerProps = {
  plan: RunPlan
  instruments: readonly HandInstrument[]
  picked: Uuid | null
  onPick: (id: Uuid) => void
}

/** How an instrument fits this run today. */
export function useFit(plan: RunPlan): (instrument: HandInstrument) => Fit {
  const timeZone = useProject().body.timeZone
  const first = plan.filters[0]
  return (instrument) =>
    fitOf(
      instrument.body,
      instrument.calibrations.map((calibration) => calibration.body),
      {
        on: localDate(Date.now(), timeZone),
        averagingTimeS: plan.run.body.averagingTimeS,
        designVelocityMps: first ? designVelocityMps(plan, first) : null,
        airflowType: plan.room.body.airflowType,
        faces: plan.filters.map((filter) => filter.terminal.body.face),
      },
    )
}

/** The instruments of the project, each with what one must know before trusting it here. */
export function InstrumentPicker({ plan, instruments, picked, onPick }: PickerProps) {
  const t = useSay()
  const sentence = useSentence()
  const fitHere = useFit(plan)
  return (
    <fieldset aria-label={t('readings.instrument.pick', {})} className={styles.list}>
      {[...instruments]
        .sort((a, b) => Number(fitHere(a).useless) - Number(fitHere(b).useless))
        .map((instrument) => {
          const fits = fitHere(instrument)
          const chosen = instrument.id === picked
          return (
            <label
              key={instrument.id}
              className={styles.card}
              data-picked={chosen ? '' : undefined}
              data-useless={fits.useless ? '' : undefined}
            >
              <input
                type="radio"
                name="instrument"
                className="visually-hidden"
                checked={chosen}
                disabled={fits.useless}
                onChange={() => onPick(instrument.id)}
              />
              <span className={styles.dot} aria-hidden="true" />
              <span className={styles.text}>
                <span className={styles.name}>
                  {instrument.body.name}{' '}
                  <span className={styles.serial}>{t('readings.instrument.serial', { serial: instrument.body.serialNumber })}</span>
                </span>
                <InstrumentFacts instrument={instrument} fit={fits} plan={plan} />
                {fits.mismatches.map((mismatch) => (
                  <span key={mismatch.code} className={styles.mismatch}>
                    <Icon name="warn" size={15} />
                    {sentence(mismatch)}
                  </span>
                ))}
              </span>
            </label>
          )
        })}
    </fieldset>
  )
}

/** Calibration, direction, range and averaging in one line. */
export function InstrumentFacts({ instrument, fit, plan }: { instrument: HandInstrument; fit: Fit; plan: RunPlan }) {
  const t = useSay()
  const unit = plan.run.body.unit
  const facts = [
    fit.dueOn === null
      ? t('readings.instrument.no_certificate', {})
      : fit.valid
        ? t('readings.instrument.due', { dueOn: fit.dueOn })
        : t('readings.instrument.overdue', { dueOn: fit.dueOn }),
    t(`readings.instrument.${instrument.body.sensing}`, {}),
    fit.low !== null && fit.high !== null
      ? t('readings.instrument.range', { low: fit.low, high: fit.high, unit })
      : t('readings.instrument.no_velocity', {}),
    ...(instrument.body.averagingTimeS === null ? [] : [t('readings.instrument.averaging', { seconds: instrument.body.averagingTimeS })]),
  ]
  return (
    <span className={styles.facts} data-valid={fit.valid ? '' : undefined}>
      {facts.join(' · ')}
    </span>
  )
}

/** The instrument in the hand, short, for the head of the bench. */
export function HandLine({ plan, instrument }: { plan: RunPlan; instrument: HandInstrument }) {
  const t = useSay()
  const f = useFormatter()
  const fit = useFit(plan)(instrument)
  return (
    <span className={styles.hand} data-odd={fit.mismatches.length > 0 ? '' : undefined}>
      {fit.mismatches.length > 0 ? <Icon name="warn" size={15} /> : <Icon name="gauge" size={15} />}
      {instrument.body.name}
      {fit.dueOn ? (
        <span className={styles.serial}>{fit.valid ? f.date(fit.dueOn) : t('readings.instrument.overdue', { dueOn: fit.dueOn })}</span>
      ) : null}
    </span>
  )
}
