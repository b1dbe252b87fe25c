import { useQuery } from '@tanstack/react-query'
import { useState } from 'react'
import { useLocation } from 'wouter'
import { leastAveragingToday } from '#core/methods/airflow/averaging.ts'
import { wayOf } from '#core/methods/airflow/ways.ts'
import { methodOf } from '#core/methods/catalogue.ts'
import type { Entity } from '#core/model/entities.ts'
import type { MethodId } from '#core/model/runs.ts'
import type { Quantity, Unit, Uuid } from '#core/model/values.ts'
import { proposedMethod } from '#core/planning/proposed-method.ts'
import { unitLabel } from '#core/units/units.ts'
import { api, orpc } from '../app/client.ts'
import { newCommand, newId, useProject, useSay } from '../app/session.tsx'
import { useRunStep } from '../app/use-run-step.ts'
import { PlaneGridFields } from '../readings/plane-grid-fields.tsx'
import { unitChoices } from '../readings/run-units.ts'
import { Busy } from '../ui/busy.tsx'
import { Button } from '../ui/button.tsx'
import { EnteredField } from '../ui/entered-field.tsx'
import { Segmented } from '../ui/segmented.tsx'
import { Select } from '../ui/select.tsx'
import { TextField } from '../ui/text-field.tsx'
import { StartChoice } from './start-choice.tsx'
import { lastRunOf, METHODS, type RunChoices, startChoices, zoneFor } from './start-defaults.ts'
import { StartList } from './start-list.tsx'
import { StartMethod } from './start-method.tsx'
import { PlaneFields } from './start-plane.tsx'
import styles from './steps.module.css'

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
const FACINGS = [0, 90, 180, 270] as const
const OCCUPANCIES = ['as_built', 'at_rest', 'in_operation'] as const
const UNITS_OF: Readonly<Record<MethodId, readonly Quantity[]>> = {
  face_velocity_grid: ['velocity'],
  room_airflow: ['velocity', 'flow', 'pressure_difference'],
  plane_velocity_grid: ['velocity'],
}

/** Starts a run: everything is set as last time, so that one press is enough where nothing changed. */
export function StartRun(props: StartRunProps) {
  const t = useSay()
  const { room } = props
  const list = useQuery(orpc.entities.list.queryOptions({ input: { kinds: ['terminal'], within: room.id } }))
  if (!list.data) return <Busy label={t('certifications.loading', {})} />
  const terminals = list.data.filter((entity): entity is Entity<'terminal'> => entity.kind === 'terminal')
  return <StartForm {...props} terminals={terminals} />
}

function StartForm({
  certificationId,
  room,
  here,
  before,
  places,
  terminals,
  onClose,
}: StartRunProps & { terminals: readonly Entity<'terminal'>[] }) {
  const t = useSay()
  const { display } = useProject().body
  const [, go] = useLocation()
  const zones = places.filter((place): place is Entity<'zone'> => place.kind === 'zone' && place.parentId === room.id)
  const facility = places.find((place) => place.id === room.parentId)
  const north = facility?.kind === 'facility' ? facility.body.northDegrees : 0
  const proposed = proposedMethod(room, zones, terminals)
  const lastOf = (zone: Uuid | null) => lastRunOf(here, room.id, zone) ?? lastRunOf(before, room.id, zone)
  const choicesOf = (method: MethodId, zone: Uuid | null) =>
    startChoices({ room, places, zoneId: zone, here, last: lastOf(zone), method, display })
  const [begun] = useState(() => {
    const method = lastOf(null)?.body.method ?? proposed
    const where = zoneFor(method, lastOf(null)?.body.zoneId ?? null, zones) ?? { zoneId: null }
    return { ...where, chosen: choicesOf(method, where.zoneId) }
  })
  const [zoneId, setZoneId] = useState<Uuid | null>(begun.zoneId)
  const [chosen, setChosen] = useState<RunChoices>(begun.chosen)
  const last = lastOf(zoneId)
  const change = (part: Partial<RunChoices>) => setChosen({ ...chosen, ...part })
  const moveTo = (method: MethodId, zone: Uuid | null) => {
    setZoneId(zone)
    setChosen(choicesOf(method, zone))
    setGridValid(true)
  }
  const [planeValid, setPlaneValid] = useState(true)
  const [gridValid, setGridValid] = useState(true)
  const [averagingValid, setAveragingValid] = useState(true)
  const [samplesText, setSamplesText] = useState(String(chosen.samplesPerPoint))
  const samplesValid = /^\d+$/.test(samplesText) && chosen.samplesPerPoint >= 1 && chosen.samplesPerPoint <= 20
  const leastS = leastAveragingToday(places, room, { plane: chosen.plane, zoneId })
  const [id] = useState(newId)
  const step = useRunStep(() => go(`/run/${id}`))
  const start = () => step.run(() => api.runs.start({ command: newCommand(), id, certificationId, roomId: room.id, zoneId, ...chosen }))
  const ready = planeValid && gridValid && averagingValid && samplesValid && !step.busy
  const zone = zones.find((candidate) => candidate.id === zoneId) ?? null
  const inScope = terminals.filter(({ body }) => zoneId === null || body.zoneId === zoneId)
  const { method } = chosen
  const faces = method !== 'room_airflow' || terminals.some(({ body }) => wayOf(body) === 'face_grid')
  const without = new Set(METHODS.filter((one) => !isPossible(one, terminals, zones.length)))

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
      <StartMethod
        method={method}
        proposed={proposed}
        without={without}
        onPick={(next) => {
          const where = zoneFor(next, zoneId, zones)
          if (where) moveTo(next, where.zoneId)
        }}
      />
      {method === 'plane_velocity_grid' ? null : (
        <StartList roomId={room.id} method={method} facingDegrees={chosen.facingDegrees} terminals={inScope} />
      )}
      <div className={styles.fields}>
        {zones.length > 0 && method !== 'room_airflow' ? (
          <Select
            large
            label={method === 'plane_velocity_grid' ? t('ways.start.zone', {}) : t('certifications.start.where', {})}
            value={zoneId ?? WHOLE_ROOM}
            choices={[
              ...(method === 'plane_velocity_grid' ? [] : [{ value: WHOLE_ROOM, label: t('certifications.start.whole_room', {}) }]),
              ...zones.map(({ id: value, body }) => ({ value, label: body.name })),
            ]}
            onChange={(value) => moveTo(method, value === WHOLE_ROOM ? null : value)}
          />
        ) : null}
        {method === 'plane_velocity_grid' && zone ? (
          <PlaneGridFields
            key={zone.id}
            boundary={zone.body.boundary}
            facingDegrees={chosen.facingDegrees}
            grid={chosen.planeGrid}
            onChange={(planeGrid, valid) => {
              change({ planeGrid })
              setGridValid(valid)
            }}
          />
        ) : null}
        <StartChoice label={t('certifications.start.phase', {})}>
          <Segmented
            large
            label={t('certifications.start.phase', {})}
            value={chosen.phase}
            choices={(['as_found', 'as_left'] as const).map((value) => ({ value, label: t('certifications.run.phase', { phase: value }) }))}
            onChange={(phase) => change({ phase })}
          />
        </StartChoice>
        <StartChoice label={t('certifications.start.occupancy', {})}>
          <Segmented
            large
            label={t('certifications.start.occupancy', {})}
            value={chosen.occupancyState}
            choices={OCCUPANCIES.map((value) => ({ value, label: t('certifications.start.occupancy_state', { state: value }) }))}
            onChange={(occupancyState) => change({ occupancyState })}
          />
        </StartChoice>
        <StartChoice label={t('certifications.start.facing', {})}>
          <Segmented
            large
            label={t('certifications.start.facing', {})}
            value={String(chosen.facingDegrees)}
            choices={FACINGS.map((facing) => ({
              value: String(facing),
              label: t('certifications.start.facing_way', { eighth: Math.round((((facing - north) % 360) + 360) / 45) % 8 }),
            }))}
            onChange={(value) => change({ facingDegrees: FACINGS.find((facing) => String(facing) === value) ?? 0 })}
          />
        </StartChoice>
        {faces ? (
          <PlaneFields
            plane={chosen.plane}
            onChange={(plane, valid) => {
              if (plane) change({ plane })
              setPlaneValid(valid)
            }}
          />
        ) : null}
        {UNITS_OF[method].map((quantity) => (
          <StartUnit key={quantity} quantity={quantity} chosen={chosen} onChange={change} />
        ))}
        <EnteredField
          large
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
          large
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

type StartUnitProps = { quantity: Quantity; chosen: RunChoices; onChange: (part: Partial<RunChoices>) => void }

/** The unit that readings of a quantity are typed in. */
function StartUnit({ quantity, chosen, onChange }: StartUnitProps) {
  const t = useSay()
  const { display } = useProject().body
  const others = chosen.otherUnits ?? { flow: display.flow, pressure: display.pressure }
  const value: Unit = quantity === 'velocity' ? chosen.unit : quantity === 'flow' ? others.flow : others.pressure
  const label = t('ways.unit_of', { of: { quantity } })
  return (
    <StartChoice label={label}>
      <Segmented
        large
        label={label}
        value={value}
        choices={unitChoices(quantity).map((unit) => ({ value: unit, label: unitLabel(unit) }))}
        onChange={(unit) =>
          onChange(
            quantity === 'velocity'
              ? { unit }
              : { otherUnits: quantity === 'flow' ? { ...others, flow: unit } : { ...others, pressure: unit } },
          )
        }
      />
    </StartChoice>
  )
}

/** Whether a method has anything to measure in a room. */
function isPossible(method: MethodId, terminals: readonly Entity<'terminal'>[], zones: number): boolean {
  if (method === 'plane_velocity_grid') return zones > 0
  return terminals.some(({ body }) => body.closed === null && methodOf(method).measures(body))
}
