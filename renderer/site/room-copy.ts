import type { EntityChange } from '#core/api/entities.ts'
import type { Entity } from '#core/model/entities.ts'
import type { Uuid } from '#core/model/values.ts'
import { shiftToFreePlace } from '../rooms/edit/free-place.ts'
import { copiedRoom } from '../rooms/edit/room-changes.ts'
import { ofKind } from '../rooms/room-plan.ts'

/** A number that no other room has: "F-104" gives "F-105", or the next free one; a number without digits gets " 2". */
export function nextNumber(number: string, taken: ReadonlySet<string>): string {
  const match = /^(.*?)(\d+)(\D*)$/.exec(number)
  const [, before = `${number} `, digits = '1', after = ''] = match ?? []
  for (let next = Number(digits) + 1; ; next += 1) {
    const candidate = `${before}${String(next).padStart(match ? digits.length : 1, '0')}${after}`
    if (!taken.has(candidate)) return candidate
  }
}

/** The changes that copy a room from the list: under the next free number, beside the rooms of its facility, itself among them. */
export function copyRoom(
  room: Entity<'room'>,
  inside: readonly Entity[],
  rooms: readonly Entity<'room'>[],
  newId: () => Uuid,
): { roomId: Uuid; number: string; changes: EntityChange[] } {
  const number = nextNumber(room.body.number, new Set(rooms.map((other) => other.body.number)))
  const plan = { room, zones: ofKind(inside, 'zone'), terminals: ofKind(inside, 'terminal') }
  const copy = { number, name: room.body.name, facilityId: room.parentId ?? '', shift: shiftToFreePlace(room, rooms) }
  return { number, ...copiedRoom(plan, copy, newId) }
}
