import { useState } from 'react'
import { Link } from 'wouter'
import { methodOf } from '#core/methods/catalogue.ts'
import type { Quantity } from '#core/model/values.ts'
import { api } from '../app/client.ts'
import { newCommand, useCanChange, usePerson, useSay, useSentence, useSession } from '../app/session.tsx'
import { useNoWhy } from '../app/why.tsx'
import { Button } from '../ui/button.tsx'
import { Checkbox } from '../ui/checkbox.tsx'
import { Panel } from '../ui/panel.tsx'
import { Select } from '../ui/select.tsx'
import { useToast } from '../ui/toast.tsx'
import { type AirOfRun, ConditionsForm, sameAir } from './air/conditions-form.tsx'
import styles from './before-first.module.css'
import { InstrumentPicker } from './instrument-picker.tsx'
import { MisfitList } from './misfit-list.tsx'
import { quantitiesOf, type RunPlan } from './run-plan.ts'
import type { OpenRun } from './use-run-desk.ts'

type Wanting = 'person' | 'instrument' | 'cautions'

/** Codes of the cautions that this run asks to be read. */
export function cautionsOf(plan: RunPlan): string[] {
  return methodOf(plan.run.body.method).cautions(
    plan.room.body,
    plan.terminals.map((terminal) => terminal.body),
  )
}

/** A person has read the cautions of a run once each of them stands under his name. */
export function hasReadCautions(plan: RunPlan, personId: string): boolean {
  const read = new Set(plan.run.body.cautionsRead.filter((entry) => entry.personId === personId).flatMap((entry) => entry.cautions))
  return cautionsOf(plan).every((caution) => read.has(caution))
}

type BeforeFirstProps = { open: OpenRun; altitudeM: number | null; onChoose: () => void; onReady: () => void }

/** Who, with what, and what to beware of: asked once, in the stage, before the first reading. */
export function BeforeFirst({ open, altitudeM, onChoose, onReady }: BeforeFirstProps) {
  useNoWhy()
  const t = useSay()
  const sentence = useSentence()
  const toast = useToast()
  const { people, setPerson } = useSession()
  const person = usePerson()
  const canChange = useCanChange()
  const [confirmed, setConfirmed] = useState(false)
  const [busy, setBusy] = useState(false)
  const { plan, hand } = open
  const run = plan.run.body
  const cautions = cautionsOf(plan)
  const [air, setAir] = useState<AirOfRun>({ conditions: run.conditions, instrumentConditions: run.instrumentConditions })
  const [airValid, setAirValid] = useState(true)
  const alreadyRead = person !== null && hasReadCautions(plan, person.id)

  const pick = (id: string, quantity: Quantity) => {
    // Choosing is no start: the person looks at what the instrument says of itself, and then begins.
    onChoose()
    hand.pick(id, quantity)
  }
  const quantities = quantitiesOf(plan)
  const start = async () => {
    const airChanged = !sameAir(air, run)
    if (alreadyRead && !airChanged) return onReady()
    setBusy(true)
    try {
      let { revision } = plan.run
      if (airChanged) revision = (await api.runs.edit({ command: newCommand(), runId: plan.runId, revision, set: air })).revision
      if (!alreadyRead) await api.runs.readCautions({ command: newCommand(), runId: plan.runId, revision, cautions })
      open.reload()
      onReady()
    } catch (error) {
      toast.problem(error)
    } finally {
      setBusy(false)
    }
  }

  const plane =
    run.plane.kind === 'filter_face'
      ? t('readings.before.plane_face', { distanceM: run.plane.distanceM })
      : t('readings.before.plane_height', { heightM: run.plane.heightM })
  const points = plan.path.length
  const faces = plan.filters.some(({ way }) => way === 'face_grid' || way === 'plane')
  const wanting: Wanting[] = [
    ...(person === null ? ['person' as const] : []),
    ...(quantities.every((quantity) => hand.of(quantity) === null) ? ['instrument' as const] : []),
    ...(alreadyRead || confirmed ? [] : ['cautions' as const]),
  ]
  return (
    <div className={styles.before}>
      <p className={styles.task}>
        {[
          run.method === 'face_velocity_grid'
            ? t('readings.before.filters', { filters: plan.filters.length, points, samples: run.samplesPerPoint })
            : t('ways.before', { of: { method: run.method }, terminals: plan.filters.length, points, samples: run.samplesPerPoint }),
          ...(faces ? [plane] : []),
          t('readings.before.averaging', { seconds: run.averagingTimeS }),
        ].join(' · ')}
      </p>
      <div className={styles.first}>
        <Panel title={t('readings.before.who', {})}>
          <Select
            label={t('readings.before.who', {})}
            hideLabel
            large
            value={person?.id ?? null}
            placeholder={t('readings.before.pick_person', {})}
            choices={people
              .filter((candidate) => candidate.body.active)
              .map((candidate) => ({ value: candidate.id, label: candidate.body.name, detail: candidate.body.organisation }))}
            onChange={(id) => {
              onChoose()
              setPerson(id)
              setConfirmed(false)
            }}
          />
        </Panel>
        <Panel title={t('readings.before.with', {})}>
          {hand.loaded && hand.instruments.length === 0 ? (
            <p>
              {t('readings.before.no_instrument', {})} <Link href="/instruments">{t('readings.before.add_instrument', {})}</Link>
            </p>
          ) : (
            <div className={styles.instruments}>
              {quantities.map((quantity) => (
                <div key={quantity} className={styles.instrument}>
                  {quantities.length > 1 ? <h3>{t('ways.with', { of: { quantity } })}</h3> : null}
                  {hand.loaded && !hand.instruments.some(({ body }) => body.senses.some((sensed) => sensed.quantity === quantity)) ? (
                    <p>{t('ways.none_for', { of: { quantity } })}</p>
                  ) : null}
                  <InstrumentPicker
                    plan={plan}
                    instruments={hand.instruments}
                    quantity={quantity}
                    onlyAble={quantities.length > 1}
                    picked={hand.of(quantity)?.id ?? null}
                    onPick={(id) => pick(id, quantity)}
                  />
                </div>
              ))}
            </div>
          )}
        </Panel>
        <Panel title={t('ways.misfits', {})}>
          <MisfitList open={open} onAnswering={onChoose} />
        </Panel>
        <Panel title={t('readings.air.title', {})}>
          <ConditionsForm
            value={air}
            altitudeM={altitudeM}
            onChange={(next, valid) => {
              // Typing figures is no start either.
              onChoose()
              setAir(next)
              setAirValid(valid)
            }}
          />
          <p className={styles.later}>{t('readings.air.optional', {})}</p>
        </Panel>
      </div>
      <div className={styles.last}>
        <Panel title={t('readings.before.cautions', {})}>
          <ul className={styles.cautions}>
            {cautions.map((code) => (
              <li key={code}>{sentence({ code, params: {} })}</li>
            ))}
          </ul>
          {person && !alreadyRead ? (
            <Checkbox
              className={styles.confirm}
              checked={confirmed}
              onChange={setConfirmed}
              label={t('readings.before.read_all', { name: person.body.name })}
            />
          ) : null}
        </Panel>
      </div>
      <div className={styles.begin}>
        <Button
          large
          kind="primary"
          className={styles.start}
          disabled={busy || !canChange || !airValid || wanting.length > 0}
          onClick={() => void start()}
        >
          {t('readings.before.start', {})}
        </Button>
        {wanting.length > 0 ? <p>{t('readings.before.wanting', { of: wanting })}</p> : null}
      </div>
    </div>
  )
}
