import { useQuery } from '@tanstack/react-query'
import { useMemo, useState } from 'react'
import type { Entity } from '#core/model/entities.ts'
import type { Uuid } from '#core/model/values.ts'
import { orpc } from '../app/client.ts'
import type { RunPlan } from './run-plan.ts'

export type HandInstrument = Pick<Entity<'instrument'>, 'id' | 'body'> & { readonly calibrations: readonly Entity<'calibration'>[] }

type Pins = Pick<RunPlan, 'instruments' | 'calibrations'>

/** An instrument as this run uses it: in the pinned revision, where the run has pinned it. */
function asPinned<E extends Entity<'instrument'> | Entity<'calibration'>>(entity: E, pins: readonly Pick<E, 'id' | 'body'>[]): E {
  const pin = pins.find((candidate) => candidate.id === entity.id)
  return pin ? { ...entity, body: pin.body } : entity
}

/** The instruments of the project with their certificates, as the run uses them, and the one that the technician holds. */
export function useHandInstrument(rememberedId: Uuid | null, pins: Pins | null) {
  const entities = useQuery(orpc.entities.list.queryOptions({ input: { kinds: ['instrument', 'calibration'], within: null } }))
  const [pickedId, pick] = useState<Uuid | null>(rememberedId)
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
  const instrument = instruments.find((candidate) => candidate.id === pickedId) ?? null
  return { instruments, instrument, pick, loaded: entities.data !== undefined }
}
