import type { EntityChange } from '#core/api/entities.ts'
import type { Entity, EntityBody } from '#core/model/entities.ts'
import type { PlanPoint, Uuid } from '#core/model/values.ts'
import { contains } from '#core/rooms/geometry.ts'
import type { Moves } from '../plan/alignment.ts'
import { tidy } from '../plan/array-placement.ts'
import type { RoomPlan } from '../room-plan.ts'

/** Kinds that the room editor writes. */
export type PlanKind = 'room' | 'zone' | 'terminal' | 'filter_element' | 'door'

export function created<K extends PlanKind>(kind: K, id: Uuid, parentId: Uuid, body: EntityBody<K>): EntityChange {
  // Kind and body agree by K; the union of the contract cannot see that through a type parameter.
  return { kind, id, parentId, revision: null, body } as EntityChange
}

export function edited<K extends PlanKind>(entity: Entity<K>, body: EntityBody<K>): EntityChange {
  // As above: the entity's own kind stays.
  return { kind: entity.kind, id: entity.id, parentId: entity.parentId, revision: entity.revision, body } as EntityChange
}

export function removed(entity: Entity<PlanKind>): EntityChange {
  return { kind: entity.kind, id: entity.id, parentId: entity.parentId, revision: entity.revision, body: null }
}

/** Terminals at their new centres. */
export function movedTerminals(terminals: readonly Entity<'terminal'>[], moves: Moves): EntityChange[] {
  return terminals.flatMap((terminal) => {
    const to = moves.get(terminal.id)
    return to ? [edited(terminal, { ...terminal.body, ...to })] : []
  })
}

/** The zone whose boundary holds the centre, as new and moved terminals take it; null outside all zones. */
export function zoneAt(zones: readonly Entity<'zone'>[], at: PlanPoint): Uuid | null {
  return zones.find((zone) => contains(zone.body.boundary, at))?.id ?? null
}

/** New terminals like `like`, one at each centre, tagged in order. */
export function newTerminals(
  roomId: Uuid,
  like: EntityBody<'terminal'>,
  centres: readonly PlanPoint[],
  tags: readonly string[],
  zones: readonly Entity<'zone'>[],
  newId: () => Uuid,
): EntityChange[] {
  return centres.map(({ x, y }, index) =>
    created('terminal', newId(), roomId, { ...like, x, y, tag: tags[index] ?? like.tag, zoneId: zoneAt(zones, { x, y }) }),
  )
}

export type RoomCopy = { readonly number: string; readonly name: string; readonly facilityId: Uuid; readonly shift: PlanPoint }

/**
 * A room once more with its zones and terminals, all under new identities and moved by `shift`. Tags that begin with the old room's
 * number begin with the new one. Doors lead somewhere else and filter elements are other things: neither is copied.
 */
export function copiedRoom(
  plan: Pick<RoomPlan, 'room' | 'zones' | 'terminals'>,
  copy: RoomCopy,
  newId: () => Uuid,
): { roomId: Uuid; changes: EntityChange[] } {
  const roomId = newId()
  const move = (point: PlanPoint): PlanPoint => ({ x: tidy(point.x + copy.shift.x), y: tidy(point.y + copy.shift.y) })
  const { body } = plan.room
  const shape =
    body.shape.kind === 'rectangle' ? { ...body.shape, ...move(body.shape) } : { ...body.shape, points: body.shape.points.map(move) }
  const zoneIds = new Map(plan.zones.map((zone) => [zone.id, newId()]))
  const retag = (tag: string) => (tag.startsWith(body.number) ? copy.number + tag.slice(body.number.length) : tag)
  return {
    roomId,
    changes: [
      created('room', roomId, copy.facilityId, { ...body, number: copy.number, name: copy.name, shape, inUse: true }),
      ...plan.zones.map((zone) =>
        created('zone', zoneIds.get(zone.id) ?? newId(), roomId, { ...zone.body, boundary: zone.body.boundary.map(move) }),
      ),
      ...plan.terminals.map((terminal) =>
        created('terminal', newId(), roomId, {
          ...terminal.body,
          ...move(terminal.body),
          tag: retag(terminal.body.tag),
          zoneId: terminal.body.zoneId === null ? null : (zoneIds.get(terminal.body.zoneId) ?? null),
        }),
      ),
    ],
  }
}

/** A zone goes, its terminals stay and belong to the room alone. */
export function removedZone(zone: Entity<'zone'>, terminals: readonly Entity<'terminal'>[]): EntityChange[] {
  return [
    ...terminals
      .filter((terminal) => terminal.body.zoneId === zone.id)
      .map((terminal) => edited(terminal, { ...terminal.body, zoneId: null })),
    removed(zone),
  ]
}

/** Terminals whose centre lies inside the boundary join the zone, those of the zone that lie outside leave it. */
export function gatheredInto(zoneId: Uuid, boundary: readonly PlanPoint[], terminals: readonly Entity<'terminal'>[]): EntityChange[] {
  return terminals.flatMap((terminal) => {
    const inside = contains(boundary, terminal.body)
    if (inside && terminal.body.zoneId !== zoneId) return [edited(terminal, { ...terminal.body, zoneId })]
    if (!inside && terminal.body.zoneId === zoneId) return [edited(terminal, { ...terminal.body, zoneId: null })]
    return []
  })
}

/** The filter in a terminal is exchanged: the old one ends on the day the new one is put in. */
export function replacedElement(
  terminalId: Uuid,
  present: Entity<'filter_element'> | null,
  next: EntityBody<'filter_element'>,
  newId: () => Uuid,
): EntityChange[] {
  const ends = present ? [edited(present, { ...present.body, removedOn: next.installedOn })] : []
  return [...ends, created('filter_element', newId(), terminalId, next)]
}
