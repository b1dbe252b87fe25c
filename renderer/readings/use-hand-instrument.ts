import { useQuery } from '@tanstack/react-query'
import { useCallback, useMemo, useState } from 'react'
import { sensedRange } from '#core/methods/airflow/reading-flags.ts'
import type { Entity } from '#core/model/entities.ts'
import type { Quantity, Uuid } from '#core/model/values.ts'
import { orpc } from '../app/client.ts'
import type { RunPlan } from './run-plan.ts'

export type HandInstrument = Pick<Entity<'instrument'>, 'id' | 'body'> & { readonly calibrations: readonly Entity<'calibration'>[] }

/** The instrument that a person holds for each quantity: a probe for velocities, a hood for flows. */
export type Held = Readonly<Partial<Record<Quantity, Uuid>>>

type Pins = Pick<RunPlan, 'instruments' | 'calibrations'>

/** An instrument as this run uses it: in the pinned revision, where the run has pinned it. */
function asPinned<E extends Entity<'instrument'> | Entity<'calibration'>>(entity: E, pins: readonly Pick<E, 'id' | 'body'>[]): E {
  const pin = pins.find((candidate) => candidate.id === entity.id)
  return pin ? { ...entity, body: pin.body } : entity
}

/** What a person holds for a quantity: what was picked for it, else something in the hand that senses it too. */
export function heldFor(instruments: readonly HandInstrument[], held: Held, quantity: Quantity): HandInstrument | null {
  const picked = instruments.find(({ id }) => id === held[quantity])
  if (picked) return picked
  const inHand = new Set(Object.values(held))
  return instruments.find(({ id, body }) => inHand.has(id) && sensedRange(body, quantity) !== null) ?? null
}

/** The instruments of the project with their certificates, as the run uses them, and those that the technician holds. */
export function useHandInstrument(remembered: Held, pins: Pins | null) {
  const entities = useQuery(orpc.entities.list.queryOptions({ input: { kinds: ['instrument', 'calibration'], within: null } }))
  const [held, setHeld] = useState<Held>(remembered)
  const instruments = useMemo((): readonly HandInstrument[] => {
    const all = entities.data ?? []
    return all
      .filter((entity): entity is Entity<'instrument'> => entity.kind === 'instrument' && entity.body.active)
      .map((instrument) => ({
        ...asPinned(instrument, pins?.instruments ?? []),
        calibrations: all
          .filter((entity): entity is Entity<'calibration'> => entity.kind === 'calibration' && entity.parentId === instrument.id)
          .map((calibration) => asPinned(calibration, pins?.calibrations ?? [])),
      }))
      .sort((a, b) => a.body.name.localeCompare(b.body.name))
  }, [entities.data, pins])
  const pick = useCallback((id: Uuid, quantity: Quantity) => setHeld((before) => ({ ...before, [quantity]: id })), [])
  const of = useCallback((quantity: Quantity) => heldFor(instruments, held, quantity), [instruments, held])
  return { instruments, held, of, pick, loaded: entities.data !== undefined }
}
