import type { RoomInBalance, WholeSiteBalance } from '#core/api/balance.ts'
import type { DoorResult } from '#core/model/results.ts'

export type DoorLine = { readonly room: RoomInBalance; readonly door: DoorResult }

/** Doors that something is wanted of or was measured at, those that disagree first. */
export function doorLines(balance: Pick<WholeSiteBalance, 'rooms'>): DoorLine[] {
  const weight = ({ door }: DoorLine) =>
    Number(door.measuredAgainstWanted === 'disagrees') * 2 + Number(door.measuredAgainstBalance === 'disagrees')
  return balance.rooms
    .flatMap((room) => room.doors.map((door): DoorLine => ({ room, door })))
    .filter(({ door }) => door.wanted !== null || door.measured !== null)
    .sort((one, other) => weight(other) - weight(one))
}
