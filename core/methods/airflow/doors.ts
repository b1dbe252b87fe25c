import type { DoorResult } from '#core/model/results.ts'
import { againstBalance, pressureDirection } from '#core/rooms/pressure-direction.ts'
import type { RunInput } from '../method.ts'

/** A door's figure is written as first room above second; seen from the second room it is the other way round. */
function seenFrom(roomId: string, firstRoomId: string, pressurePa: number | null): number | null {
  return pressurePa === null || roomId === firstRoomId ? pressurePa : 0 - pressurePa
}

/** Half of the display's step, Pa: a difference within it has no sign. 0 where the instrument is not known. */
function doubtOf(input: RunInput, instrumentId: string | null): number {
  const instrument = input.instruments.find(({ id }) => id === instrumentId)
  const sensed = instrument?.body.senses.find(({ quantity }) => quantity === 'pressure_difference')
  return (sensed?.resolution.si ?? 0) / 2
}

/**
 * The room's doors: what each should keep, what the balance lets expect and what was measured last, seen from this room (positive: its air
 * leaves). `offsetM3ps` with the doubt within which its sign means nothing, both m3/s; null without a balance.
 */
export function doorResults(input: RunInput, offsetM3ps: number | null, offsetDoubtM3ps: number): DoorResult[] {
  const roomId = input.room.id
  const doors = input.doors.map(({ id, body }) => {
    const reading = input.run.doorPressures.findLast(({ doorId }) => doorId === id)
    const [first] = body.roomIds
    const wantedPa = seenFrom(roomId, first, body.leastPressureDifference?.si ?? null)
    const measuredPa = seenFrom(roomId, first, reading?.difference.si ?? null)
    const measuredDoubtPa = doubtOf(input, reading?.instrumentId ?? null)
    return {
      doorId: id,
      name: body.name,
      wantedPa,
      measuredPa,
      ...pressureDirection({ offsetM3ps, offsetDoubtM3ps, wantedPa, measuredPa, measuredDoubtPa }),
    }
  })
  const together = againstBalance(doors)
  return doors.map((door, index) => ({ ...door, measuredAgainstBalance: together[index] ?? door.measuredAgainstBalance }))
}
