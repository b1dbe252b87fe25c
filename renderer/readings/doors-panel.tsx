import { useQuery } from '@tanstack/react-query'
import { useState } from 'react'
import type { Entered, Uuid } from '#core/model/values.ts'
import { orpc } from '../app/client.ts'
import { useProject, useSay } from '../app/session.tsx'
import { EnteredField } from '../ui/entered-field.tsx'
import { Select } from '../ui/select.tsx'
import { doorPressuresOf } from './door-pressures.ts'
import { PanelForm } from './panel-form.tsx'
import type { RunPlan } from './run-plan.ts'
import { unitOfRun } from './run-units.ts'
import type { OpenRun } from './use-run-desk.ts'
import { useRunEdit } from './use-run-edit.ts'

const NOT_NAMED = 'none'
type Door = RunPlan['doors'][number]

/** Pressure over the doors of the room, each with the sign it is wanted with. Kept with the run; the last figure of a door counts. */
export function DoorsPanel({ open, onClose }: { open: OpenRun; onClose: () => void }) {
  const t = useSay()
  const { plan, hand } = open
  const rooms = useQuery(orpc.entities.list.queryOptions({ input: { kinds: ['room'], within: null } }))
  const able = hand.instruments.filter(({ body }) => body.senses.some(({ quantity }) => quantity === 'pressure_difference'))
  const [pressures, setPressures] = useState<ReadonlyMap<Uuid, Entered | null>>(
    () => new Map(plan.run.body.doorPressures.map(({ doorId, difference }) => [doorId, difference])),
  )
  const [invalid, setInvalid] = useState<ReadonlySet<Uuid>>(new Set())
  const [instrumentId, setInstrumentId] = useState<Uuid | null>(
    () =>
      plan.run.body.doorPressures.at(-1)?.instrumentId ??
      hand.of('pressure_difference')?.id ??
      (able.length === 1 ? (able[0]?.id ?? null) : null),
  )
  const { step, edit } = useRunEdit(open, onClose)
  const numberOf = (id: Uuid | null) => {
    const room = rooms.data?.find((entity) => entity.id === id)
    return room?.kind === 'room' ? room.body.number : id === plan.room.id ? plan.room.body.number : t('ways.doors.outside', {})
  }
  return (
    <PanelForm
      title={t('ways.doors', {})}
      save={t('ways.doors.save', {})}
      able={invalid.size === 0 && plan.doors.length > 0}
      step={step}
      onSave={() => edit({ doorPressures: doorPressuresOf(plan, pressures, instrumentId) })}
      onClose={onClose}
    >
      {plan.doors.length === 0 ? <p>{t('ways.doors.none', {})}</p> : null}
      {plan.doors.map((door, index) => (
        <DoorField
          key={door.id}
          door={door}
          first={numberOf(door.body.roomIds[0])}
          second={numberOf(door.body.roomIds[1])}
          autoFocus={index === 0}
          run={plan.run.body}
          value={pressures.get(door.id) ?? null}
          onChange={(value, valid) => {
            setPressures(new Map(pressures).set(door.id, value))
            const next = new Set(invalid)
            if (valid) next.delete(door.id)
            else next.add(door.id)
            setInvalid(next)
          }}
        />
      ))}
      {plan.doors.length > 0 ? (
        <Select
          large
          label={t('ways.doors.with', {})}
          value={instrumentId ?? NOT_NAMED}
          choices={[
            { value: NOT_NAMED, label: t('ways.doors.no_instrument', {}) },
            ...able.map(({ id, body }) => ({ value: id, label: body.name, detail: body.serialNumber })),
          ]}
          onChange={(value) => setInstrumentId(value === NOT_NAMED ? null : value)}
        />
      ) : null}
    </PanelForm>
  )
}

type DoorFieldProps = {
  door: Door
  first: string
  second: string
  autoFocus: boolean
  run: Parameters<typeof unitOfRun>[0]
  value: Entered | null
  onChange: (value: Entered | null, valid: boolean) => void
}

function DoorField({ door, first, second, autoFocus, run, value, onChange }: DoorFieldProps) {
  const t = useSay()
  const { display } = useProject().body
  const wantedPa = door.body.leastPressureDifference?.si ?? null
  const name = door.body.name ? `${door.body.name}: ` : ''
  return (
    <EnteredField
      large
      autoFocus={autoFocus}
      label={`${name}${t('ways.doors.difference', { first, second })}`}
      unit={unitOfRun(run, 'pressure_difference', display)}
      value={value}
      onChange={onChange}
      hint={wantedPa === null ? t('ways.doors.not_wanted', {}) : t('ways.doors.wanted', { wantedPa, first, second })}
    />
  )
}
