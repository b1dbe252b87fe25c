import { useQuery } from '@tanstack/react-query'
import { useMemo } from 'react'
import type { Entity, EntityKind } from '#core/model/entities.ts'
import type { Uuid } from '#core/model/values.ts'
import { orpc } from '#renderer/app/client.ts'

/** Everything the plan of one room is drawn from. */
export type RoomPlan = {
  readonly facility: Entity<'facility'>
  readonly room: Entity<'room'>
  /** the other rooms of the facility */
  readonly neighbours: readonly Entity<'room'>[]
  /** doors of this room */
  readonly doors: readonly Entity<'door'>[]
  readonly zones: readonly Entity<'zone'>[]
  readonly terminals: readonly Entity<'terminal'>[]
  readonly elements: readonly Entity<'filter_element'>[]
}

export const AROUND: EntityKind[] = ['facility', 'room', 'door', 'criteria_set']
export const WITHIN: EntityKind[] = ['zone', 'terminal', 'filter_element']

export const aroundInput = { kinds: AROUND, within: null, removed: false }
export const withinInput = (roomId: Uuid) => ({ kinds: WITHIN, within: roomId, removed: false })

/** The facility with its rooms, doors and criteria sets. */
export function useAround() {
  return useQuery(orpc.entities.list.queryOptions({ input: aroundInput }))
}

export type RoomPlanAnswer =
  | { readonly state: 'waiting' }
  | { readonly state: 'missing' }
  | { readonly state: 'failed'; readonly error: unknown }
  | { readonly state: 'here'; readonly plan: RoomPlan; readonly criteriaSets: readonly Entity<'criteria_set'>[] }

/** The plan of a room as the project file has it (and as changes under way have it). */
export function useRoomPlan(roomId: Uuid): RoomPlanAnswer {
  const around = useAround()
  const within = useQuery(orpc.entities.list.queryOptions({ input: withinInput(roomId) }))
  return useMemo(() => {
    const error = around.error ?? within.error
    if (error) return { state: 'failed', error }
    if (!around.data || !within.data) return { state: 'waiting' }
    const plan = planOf(roomId, around.data, within.data)
    if (!plan) return { state: 'missing' }
    return { state: 'here', plan, criteriaSets: ofKind(around.data, 'criteria_set') }
  }, [roomId, around.data, around.error, within.data, within.error])
}

export function planOf(roomId: Uuid, around: readonly Entity[], within: readonly Entity[]): RoomPlan | null {
  const rooms = ofKind(around, 'room')
  const room = rooms.find((candidate) => candidate.id === roomId)
  const facility = ofKind(around, 'facility').find((candidate) => candidate.id === room?.parentId)
  if (!room || !facility) return null
  return {
    facility,
    room,
    neighbours: rooms.filter((other) => other.id !== roomId && other.parentId === facility.id),
    doors: ofKind(around, 'door').filter((door) => door.parentId === facility.id && door.body.roomIds.includes(roomId)),
    zones: ofKind(within, 'zone'),
    terminals: ofKind(within, 'terminal'),
    elements: ofKind(within, 'filter_element'),
  }
}

export function ofKind<K extends EntityKind>(entities: readonly Entity[], kind: K): Entity<K>[] {
  // The discriminant was just compared: what is left has this kind's body.
  return entities.filter((entity) => entity.kind === kind && !entity.removed) as Entity<K>[]
}
