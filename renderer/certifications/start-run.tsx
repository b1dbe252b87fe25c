import { useState } from 'react'
import { useLocation } from 'wouter'
import { leastAveragingToday } from '#core/methods/airflow/averaging.ts'
import type { Entity } from '#core/model/entities.ts'
import type { Unit, Uuid } from '#core/model/values.ts'
import { unitLabel } from '#core/units/units.ts'
import { api } from '../app/client.ts'
import { newCommand, newId, useProject, useSay } from '../app/session.tsx'
import { Button } from '../ui/button.tsx'
import { EnteredField } from '../ui/entered-field.tsx'
import { Segmented } from '../ui/segmented.tsx'
import { Select } from '../ui/select.tsx'
import { TextField } from '../ui/text-field.tsx'
import { lastRunOf, methodsFor, type RunChoices, startChoices } from './start-defaults.ts'
import styles from './steps.module.css'
import { useRunStep } from './use-run-step.ts'

type StartRunProps = {
  certificationId: Uuid
  room: Entity<'room'>
  /** runs of this room in this visit */
  here: readonly Entity<'run'>[]
  /** runs of the visit before */
  before: readonly Entity<'run'>[]
  places: readonly Entity[]
  onClose: () => void
}

const WHOLE_ROOM = 'room'
const UNITS: readonly Unit[] = ['m/s', 'ft/min']
const FACINGS = [0, 90, 180, 270] as const
const OCCUPANCIES = ['as_built', 'at_rest', 'in_operation'] as const

/** Starts a run: everything is set as last time, so that one press is enough where nothing changed. */
export function StartRun({ certificationId, room, here, before, places, onClose }: StartRunProps) {
  const t = useSay()
  const project = useProject()
  const [, go] = useLocation()
  const zones = places.filter((place): place is Entity<'zone'> => place.kind === 'zone' && place.parentId === room.id)
  const facility = places.find((place) => place.id === room.parentId)
  const north = facility?.kind === 'facility' ? facility.body.northDegrees : 0
  const lastOf = (zone: Uuid | null) => lastRunOf(here, room.id, zone) ?? lastRunOf(before, room.id, zone)
  const [zoneId, setZoneId] = useState<Uuid | null>(() => lastOf(null)?.body.zoneId ?? null)
  const last = lastOf(zoneId)
  const choicesOf = (zone: Uuid | null) =>
    startChoices({ room, places, zoneId: zone, here, last: lastOf(zone), unit: project.body.display.velocity })
  const [chosen, setChosen] = useState<RunChoices>(() => choicesOf(zoneId))
  const change = (part: Partial<RunChoices>) => setChosen({ ...chosen, ...part })
  const [planeValid, setPlaneValid] = useState(true)
  const [averagingValid, setAveragingValid] = useState(true)
  const [samplesText, setSamplesText] = useState(String(chosen.samplesPerPoint))
  const samplesValid = /^\d+$/.test(samplesText) && chosen.samplesPerPoint >= 1 && chosen.samplesPerPoint <= 20
  const leastS = leastAveragingToday(places, room, { plane: chosen.plane, zoneId })
  const [id] = useState(newId)
  const step = useRunStep(() => go(`/run/${id}`))
  const start = () => step.run(() => api.runs.start({ command: newCommand(), id, certificationId, roomId: room.id, zoneId, ...chosen }))
  const ready = planeValid && averagingValid && samplesValid && !step.busy

  return (
    <form
      className={styles.step}
      aria-label={t('certifications.start.title', { room: room.body.number })}
      onSubmit={(event) => {
        event.preventDefault()
        if (ready) start()
      }}
    >
      <p className={styles.quiet}>
        {last
          ? t('certifications.start.as_last', { name: t('certifications.run.names', { room: room.body.number, phase: last.body.phase }) })
          : t('certifications.start.first', {})}
      </p>
      <div className={styles.fields}>
        {zones.length > 0 ? (
          <Select
            label={t('certifications.start.where', {})}
            value={zoneId ?? WHOLE_ROOM}
            choices={[
              { value: WHOLE_ROOM, label: t('certifications.start.whole_room', {}) },
              ...zones.map((zone) => ({ value: zone.id, label: zone.body.name })),
            ]}
            onChange={(value) => {
              const zone = value === WHOLE_ROOM ? null : value
              setZoneId(zone)
              setChosen(choicesOf(zone))
            }}
          />
        ) : null}
        <Select
          label={t('asleft.method', {})}
          value={chosen.method}
          choices={methodsFor(zoneId).map((method) => ({ value: method, label: t('asleft.method.choice', { of: { method } }) }))}
          onChange={(method) => change({ method })}
        />
        <Choice label={t('certifications.start.phase', {})}>
          <Segmented
            label={t('certifications.start.phase', {})}
            value={chosen.phase}
            choices={(['as_found', 'as_left'] as const).map((value) => ({ value, label: t('certifications.run.phase', { phase: value }) }))}
            onChange={(phase) => change({ phase })}
          />
        </Choice>
        <Choice label={t('certifications.start.occupancy', {})}>
          <Segmented
            label={t('certifications.start.occupancy', {})}
            value={chosen.occupancyState}
            choices={OCCUPANCIES.map((value) => ({ value, label: t('certifications.start.occupancy_state', { state: value }) }))}
            onChange={(occupancyState) => change({ occupancyState })}
          />
        </Choice>
        <Choice label={t('certifications.start.facing', {})}>
          <Segmented
            label={t('certifications.start.facing', {})}
            value={String(chosen.facingDegrees)}
            choices={FACINGS.map((facing) => ({
              value: String(facing),
              label: t('certifications.start.facing_way', { eighth: Math.round((((facing - north) % 360) + 360) / 45) % 8 }),
            }))}
            onChange={(value) => change({ facingDegrees: FACINGS.find((facing) => String(facing) === value) ?? 0 })}
          />
        </Choice>
        <PlaneFields
          plane={chosen.plane}
          onChange={(plane, valid) => {
            if (plane) change({ plane })
            setPlaneValid(valid)
          }}
        />
        <Choice label={t('certifications.start.unit', {})}>
          <Segmented
            label={t('certifications.start.unit', {})}
            value={chosen.unit}
            choices={UNITS.map((unit) => ({ value: unit, label: unitLabel(unit) }))}
            onChange={(unit) => change({ unit })}
          />
        </Choice>
        <EnteredField
          label={t('certifications.start.averaging', {})}
          unit="s"
          value={{ si: chosen.averagingTimeS, typed: String(chosen.averagingTimeS), unit: 's' }}
          onChange={(value, valid) => {
            setAveragingValid(valid && value !== null && value.si > 0)
            if (value && value.si > 0) change({ averagingTimeS: value.si })
          }}
          hint={
            chosen.averagingTimeS < leastS
              ? t('certifications.start.averaging_short', { leastS })
              : t('certifications.start.averaging_hint', { leastS })
          }
        />
        <TextField
          label={t('certifications.start.samples', {})}
          value={samplesText}
          onChange={(text) => {
            setSamplesText(text)
            if (/^\d+$/.test(text)) change({ samplesPerPoint: Number(text) })
          }}
          error={samplesValid ? null : t('certifications.start.samples_range', {})}
        />
      </div>
      <fieldset className={styles.operating}>
        <legend>{t('certifications.start.operating', {})}</legend>
        {(['airHandler', 'doors', 'equipment'] as const).map((part) => (
          <TextField
            key={part}
            label={t(part === 'airHandler' ? 'certifications.start.air_handler' : `certifications.start.${part}`, {})}
            value={chosen.operatingState[part]}
            maxLength={200}
            onChange={(text) => change({ operatingState: { ...chosen.operatingState, [part]: text } })}
          />
        ))}
      </fieldset>
      {step.problem ? (
        <p role="alert" className={styles.problem}>
          {step.problem}
        </p>
      ) : null}
      <div className={styles.actions}>
        <Button large kind="primary" type="submit" disabled={!ready}>
          {t('certifications.start.go', {})}
        </Button>
        <Button large kind="quiet" onClick={onClose}>
          {t('app.cancel', {})}
        </Button>
      </div>
    </form>
  )
}

function Choice({ label, children }: { label: string; children: React.ReactNode }) {
  return (
    <div className={styles.choice}>
      <span className={styles.label}>{label}</span>
      {children}
    </div>
  )
}

type Plane = RunChoices['plane']

function PlaneFields({ plane, onChange }: { plane: Plane; onChange: (plane: Plane | null, valid: boolean) => void }) {
  const t = useSay()
  const lengthM = plane.kind === 'filter_face' ? plane.distanceM : plane.heightM
  const [problem, setProblem] = useState(false)
  const withLength = (kind: Plane['kind'], si: number): Plane =>
    kind === 'filter_face' ? { kind, distanceM: si } : { kind: 'working_height', heightM: si }
  return (
    <>
      <Choice label={t('certifications.start.plane', {})}>
        <Segmented
          label={t('certifications.start.plane', {})}
          value={plane.kind}
          choices={(['filter_face', 'working_height'] as const).map((kind) => ({
            value: kind,
            label: t(`certifications.start.plane.${kind}`, {}),
          }))}
          onChange={(kind) => {
            setProblem(false)
            onChange(withLength(kind, kind === 'filter_face' ? 0.15 : 1), true)
          }}
        />
      </Choice>
      <EnteredField
        key={plane.kind}
        label={plane.kind === 'filter_face' ? t('certifications.start.distance', {}) : t('certifications.start.height', {})}
        unit="m"
        value={{ si: lengthM, typed: String(lengthM), unit: 'm' }}
        onChange={(value, valid) => {
          const good = valid && value !== null && value.si > 0
          setProblem(!good)
          onChange(good ? withLength(plane.kind, value.si) : null, good)
        }}
        error={problem ? t('certifications.start.positive', {}) : null}
        hint={plane.kind === 'filter_face' ? t('certifications.start.distance_range', {}) : undefined}
      />
    </>
  )
}
