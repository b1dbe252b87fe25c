import { DIMENSION_OF_QUANTITY } from '#core/model/rule-problem.ts'
import type { Quantity, Uuid } from '#core/model/values.ts'
import { localDate } from '#core/planning/dates.ts'
import { useFormatter, useProject, useSay, useSentence } from '../app/session.tsx'
import { ChoiceCard } from '../ui/choice-card.tsx'
import { Icon } from '../ui/icon.tsx'
import { type Fit, fitOf } from './instrument-fit.ts'
import styles from './instrument-picker.module.css'
import { misfitsOfInstrument } from './misfits-of-run.ts'
import type { RunPlan } from './run-plan.ts'
import { unitOfRun } from './run-units.ts'
import type { HandInstrument } from './use-hand-instrument.ts'

type PickerProps = {
  plan: RunPlan
  instruments: readonly HandInstrument[]
  /** what it is to be held for */
  quantity: Quantity
  picked: Uuid | null
  /** leaves out what does not sense the quantity: where there is a list for each quantity */
  onlyAble?: boolean
  onPick: (id: Uuid) => void
}

/** How an instrument fits this run today. */
export function useFit(plan: RunPlan, quantity: Quantity): (instrument: HandInstrument) => Fit {
  const timeZone = useProject().body.timeZone
  return (instrument) =>
    fitOf(
      instrument.body,
      instrument.calibrations.map((calibration) => calibration.body),
      { on: localDate(Date.now(), timeZone), quantity, averagingTimeS: plan.run.body.averagingTimeS },
    )
}

/** More of the same kind are told by the list of what does not suit. */
const MOST_MISFITS = 3

/** The instruments of the project, each with what one must know before trusting it here. */
export function InstrumentPicker({ plan, instruments, quantity, picked, onlyAble = false, onPick }: PickerProps) {
  const t = useSay()
  const sentence = useSentence()
  const fitHere = useFit(plan, quantity)
  return (
    <fieldset aria-label={t('ways.with', { of: { quantity } })} className={styles.list}>
      {instruments
        .filter((instrument) => !(onlyAble && fitHere(instrument).useless))
        .sort((a, b) => Number(fitHere(a).useless) - Number(fitHere(b).useless))
        .map((instrument) => {
          const fits = fitHere(instrument)
          const misfits = fits.useless ? [] : misfitsOfInstrument(plan, instrument, quantity).slice(0, MOST_MISFITS)
          return (
            <ChoiceCard
              key={instrument.id}
              name={`instrument for ${quantity}`}
              picked={instrument.id === picked}
              disabled={fits.useless}
              onPick={() => onPick(instrument.id)}
            >
              <strong className={styles.name}>
                {instrument.body.name}{' '}
                <span className={styles.serial}>{t('readings.instrument.serial', { serial: instrument.body.serialNumber })}</span>
              </strong>
              <InstrumentFacts instrument={instrument} fit={fits} plan={plan} quantity={quantity} />
              {[...fits.mismatches, ...misfits.map((misfit) => misfit.sentence)].map((mismatch) => (
                <span key={`${mismatch.code} ${JSON.stringify(mismatch.params)}`} className={styles.mismatch}>
                  <Icon name="warn" size={15} />
                  {sentence(mismatch)}
                </span>
              ))}
            </ChoiceCard>
          )
        })}
    </fieldset>
  )
}

type InstrumentFactsProps = { instrument: HandInstrument; fit: Fit; plan: RunPlan; quantity: Quantity }

/** Calibration, direction, range and averaging in one line. */
export function InstrumentFacts({ instrument, fit, plan, quantity }: InstrumentFactsProps) {
  const t = useSay()
  const f = useFormatter()
  const { display } = useProject().body
  const unit = unitOfRun(plan.run.body, quantity, display)
  const dimension = DIMENSION_OF_QUANTITY[quantity]
  if (fit.useless) return <span>{t('ways.no_quantity', { of: { quantity } })}</span>
  const facts = [
    fit.dueOn === null
      ? t('readings.instrument.no_certificate', {})
      : fit.valid
        ? t('readings.instrument.due', { dueOn: fit.dueOn })
        : t('readings.instrument.overdue', { dueOn: fit.dueOn }),
    ...(quantity === 'velocity' && instrument.body.sensing !== 'not_directional'
      ? [t(`readings.instrument.${instrument.body.sensing}`, {})]
      : []),
    fit.low !== null && fit.high !== null
      ? t('ways.range', { low: f.number(fit.low, dimension, { unit }), high: f.quantity(fit.high, dimension, { unit }) })
      : t('ways.no_quantity', { of: { quantity } }),
    ...(instrument.body.averagingTimeS === null ? [] : [t('readings.instrument.averaging', { seconds: instrument.body.averagingTimeS })]),
  ]
  return <span>{facts.join(' · ')}</span>
}

/** The instrument in the hand, short, for the head of the bench. */
export function HandLine({ plan, instrument, quantity }: { plan: RunPlan; instrument: HandInstrument; quantity: Quantity }) {
  const t = useSay()
  const f = useFormatter()
  const fit = useFit(plan, quantity)(instrument)
  const odd = fit.mismatches.length > 0 || misfitsOfInstrument(plan, instrument, quantity).some(({ acceptedBy }) => acceptedBy === null)
  return (
    <span className={styles.hand} data-odd={odd ? '' : undefined}>
      {odd ? <Icon name="warn" size={15} /> : <Icon name="gauge" size={15} />}
      <span className={styles.held}>
        <span>{instrument.body.name}</span>
        {fit.dueOn ? (
          <span className={styles.serial}>{fit.valid ? f.date(fit.dueOn) : t('readings.instrument.overdue', { dueOn: fit.dueOn })}</span>
        ) : null}
      </span>
    </span>
  )
}
