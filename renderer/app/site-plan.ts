import { keepPreviousData, useQuery } from '@tanstack/react-query'
import { useMemo } from 'react'
import type { Entity } from '#core/model/entities.ts'
import type { Uuid } from '#core/model/values.ts'
import { orpc } from './client.ts'

export type SitePlan = {
  readonly facilities: readonly { readonly facility: Entity<'facility'>; readonly rooms: readonly Entity<'room'>[] }[]
  readonly rooms: readonly Entity<'room'>[]
  readonly loading: boolean
  readonly error: unknown
}

const byNumber = new Intl.Collator(undefined, { numeric: true, sensitivity: 'base' })

/** Facilities by name, each with its rooms by number. */
export function useSitePlan(): SitePlan {
  const query = useQuery(orpc.entities.list.queryOptions({ input: { kinds: ['facility', 'room'], within: null } }))
  const { data, error, isPending } = query
  return useMemo(() => ({ ...arrange(data ?? []), loading: isPending, error }), [data, isPending, error])
}

export function arrange(entities: readonly Entity[]): Pick<SitePlan, 'facilities' | 'rooms'> {
  const rooms = entities.filter((entity) => entity.kind === 'room').sort((a, b) => byNumber.compare(a.body.number, b.body.number))
  const facilities = entities
    .filter((entity) => entity.kind === 'facility')
    .sort((a, b) => byNumber.compare(a.body.name, b.body.name))
    .map((facility) => ({ facility, rooms: rooms.filter((room) => room.parentId === facility.id) }))
  return { facilities, rooms }
}

/** State and notices of a certification; null speaks of the latest. The answer before stays in sight while a new one is fetched. */
export function useOverview(certificationId: Uuid | null) {
  return useQuery(orpc.evaluation.overview.queryOptions({ input: { certificationId }, placeholderData: keepPreviousData }))
}
