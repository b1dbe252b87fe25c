import { useQuery } from '@tanstack/react-query'
import { useMemo, useState } from 'react'
import type { Entity } from '#core/model/entities.ts'
import type { Uuid } from '#core/model/values.ts'
import { orpc } from '../app/client.ts'

export type HandInstrument = Pick<Entity<'instrument'>, 'id' | 'body'> & { readonly calibrations: readonly Entity<'calibration'>[] }

/** The instruments of the project with their certificates, and the one that the technician holds. */
export function useHandInstrument(rememberedId: Uuid | null) {
  const entities = useQuery(orpc.entities.list.queryOptions({ input: { kinds: ['instrument', 'calibration'], within: null } }))
  const [pickedId, pick] = useState<Uuid | null>(rememberedId)
  const instruments = useMemo((): readonly HandInstrument[] => {
    const all = entities.data ?? []
    return all
      .filter((entity): entity is Entity<'instrument'> => entity.kind === 'instrument' && entity.body.active)
      .map((instrument) => ({
        ...instrument,
        calibrations: all.filter(
          (entity): entity is Entity<'calibration'> => entity.kind === 'calibration' && entity.parentId === instrument.id,
        ),
      }))
      .sort((a, b) => a.body.name.localeCompare(b.body.name))
  }, [entities.data])
  const instrument = instruments.find((candidate) => candidate.id === pickedId) ?? null
  return { instruments, instrument, pick, loaded: entities.data !== undefined }
}
