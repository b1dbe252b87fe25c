import type { EntityChange } from '#core/api/contract.ts'
import type { Entity } from '#core/model/entities.ts'
import type { PlanPoint, PlanShape, Uuid } from '#core/model/values.ts'
import { outlineOf } from '#core/rooms/geometry.ts'

const GAP_M = 1

/** A number that no other room has: "F-104" gives "F-105", or the next free one; a number without digits gets " 2". */
export function nextNumber(number: string, taken: ReadonlySet<string>): string {
  const match = /^(.*?)(\d+)(\D*)$/.exec(number)
  const [, before = `${number} `, digits = '1', after = ''] = match ?? []
  for (let next = Number(digits) + 1; ; next += 1) {
    const candidate = `${before}${String(next).padStart(match ? digits.length : 1, '0')}${after}`
    if (!taken.has(candidate)) return candidate
  }
}

/** How far to move a copy so that it stands free, to the right of everything that is drawn. */
export function offsetBeside(room: PlanShape, others: readonly PlanShape[]): PlanPoint {
  const xs = (shape: PlanShape) => outlineOf(shape).map((point) => point.x)
  return { x: Math.max(...[room, ...others].flatMap(xs)) + GAP_M - Math.min(...xs(room)), y: 0 }
}

export function movedShape(shape: PlanShape, by: PlanPoint): PlanShape {
  return shape.kind === 'rectangle'
    ? { ...shape, x: shape.x + by.x, y: shape.y + by.y }
    : { ...shape, points: shape.points.map((point) => ({ x: point.x + by.x, y: point.y + by.y })) }
}

type Copied = { readonly roomId: Uuid; readonly number: string; readonly changes: EntityChange[] }

/** The changes that copy a room with its zones and terminals. Filter elements stay behind: the copy has other filters in it. */
export function copyRoom(
  room: Entity<'room'>,
  inside: readonly Entity[],
  neighbours: readonly Entity<'room'>[],
  newId: () => Uuid,
): Copied {
  const by = offsetBeside(
    room.body.shape,
    neighbours.map((other) => other.body.shape),
  )
  const roomId = newId()
  const number = nextNumber(room.body.number, new Set(neighbours.map((other) => other.body.number)))
  const zones = inside.filter((entity) => entity.kind === 'zone')
  const zoneIds = new Map(zones.map((zone) => [zone.id, newId()]))
  const changes: EntityChange[] = [
    {
      kind: 'room',
      id: roomId,
      parentId: room.parentId,
      revision: null,
      body: { ...room.body, number, shape: movedShape(room.body.shape, by), inUse: true },
    },
  ]
  for (const zone of zones) {
    changes.push({
      kind: 'zone',
      id: zoneIds.get(zone.id) ?? newId(),
      parentId: roomId,
      revision: null,
      body: { ...zone.body, boundary: zone.body.boundary.map((point) => ({ x: point.x + by.x, y: point.y + by.y })) },
    })
  }
  for (const terminal of inside) {
    if (terminal.kind !== 'terminal') continue
    const { body } = terminal
    changes.push({
      kind: 'terminal',
      id: newId(),
      parentId: roomId,
      revision: null,
      body: {
        ...body,
        // Tags usually begin with the room's number; the copy's then begin with its own.
        tag: body.tag.startsWith(room.body.number) ? number + body.tag.slice(room.body.number.length) : body.tag,
        zoneId: body.zoneId === null ? null : (zoneIds.get(body.zoneId) ?? null),
        x: body.x + by.x,
        y: body.y + by.y,
      },
    })
  }
  return { roomId, number, changes }
}
