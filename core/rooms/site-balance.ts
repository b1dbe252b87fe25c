import type { Uuid } from '#core/model/values.ts'
import type { RoomBalance } from './balance.ts'
import { settledSum } from './settled-sum.ts'

/** Air that goes from one room to another, or over the envelope (null is outside). Standard m3/s; negative goes the other way. */
export type Transfer = { readonly fromRoomId: Uuid | null; readonly toRoomId: Uuid | null; readonly standardFlowM3ps: number }

export type RoomInSite = {
  readonly roomId: Uuid
  readonly offsetM3ps: number | null
  /** known transfers: into the room from other rooms, out of it into other rooms, and over the envelope (out minus in) */
  readonly transferInM3ps: number
  readonly transferOutM3ps: number
  readonly toOutsideM3ps: number
  /** offset that no known transfer accounts for: leaks nobody measured, and error. Null without an offset */
  readonly unaccountedM3ps: number | null
}

export type SiteBalance = {
  readonly supplyM3ps: number
  readonly returnM3ps: number
  readonly exhaustM3ps: number
  readonly recirculatedM3ps: number
  /** supply - return - exhaust over all rooms, standard m3/s; null while one room has none */
  readonly offsetM3ps: number | null
  readonly betweenRoomsM3ps: number
  /** known flow over the envelope, out minus in (exfiltration positive, infiltration negative) */
  readonly toOutsideM3ps: number
  readonly unaccountedM3ps: number | null
  readonly rooms: readonly RoomInSite[]
  readonly incompleteRoomIds: readonly Uuid[]
  /** transfers that name a room outside the list, or a room twice: in no figure */
  readonly strayTransfers: readonly Transfer[]
}

/** How large the flows are that a room's offset is the difference of, m3/s. */
function sizeOf({ supplyM3ps, returnM3ps, exhaustM3ps }: RoomBalance): number {
  return Math.abs(supplyM3ps) + Math.abs(returnM3ps) + Math.abs(exhaustM3ps)
}

type Tally = { into: number; out: number; toOutside: number }

function tallyTransfers(roomIds: ReadonlySet<Uuid>, transfers: readonly Transfer[]) {
  const tallies = new Map<Uuid, Tally>([...roomIds].map((id) => [id, { into: 0, out: 0, toOutside: 0 }]))
  const stray: Transfer[] = []
  let between = 0
  for (const transfer of transfers) {
    const { fromRoomId, toRoomId, standardFlowM3ps: flow } = transfer
    const from = fromRoomId === null ? null : tallies.get(fromRoomId)
    const to = toRoomId === null ? null : tallies.get(toRoomId)
    if (from === undefined || to === undefined || from === to) {
      stray.push(transfer)
    } else if (from === null) {
      if (to) to.toOutside -= flow
    } else if (to === null) {
      from.toOutside += flow
    } else {
      const [giver, taker] = flow >= 0 ? [from, to] : [to, from]
      giver.out += Math.abs(flow)
      taker.into += Math.abs(flow)
      between += Math.abs(flow)
    }
  }
  return { tallies, stray, between }
}

/**
 * Balance of a whole site on a mass basis, standard m3/s. What one room gives to another is counted out of the first and into the second, so
 * it cancels in the site's sum and is not lost: offset of the site = flow over the envelope + what is unaccounted for, for each room
 * likewise offset + in - out = over the envelope + unaccounted. Rooms that are incomplete make the site's offset none and are named. Source:
 * conservation of mass.
 */
export function siteBalance(
  rooms: readonly { readonly roomId: Uuid; readonly balance: RoomBalance }[],
  transfers: readonly Transfer[],
): SiteBalance {
  const { tallies, stray, between } = tallyTransfers(new Set(rooms.map(({ roomId }) => roomId)), transfers)
  const inSite = rooms.map(({ roomId, balance }): RoomInSite => {
    const { into, out, toOutside } = tallies.get(roomId) ?? { into: 0, out: 0, toOutside: 0 }
    const { offsetM3ps } = balance
    const size = sizeOf(balance) + into + out + Math.abs(toOutside)
    const unaccountedM3ps = offsetM3ps === null ? null : settledSum(offsetM3ps + into - out - toOutside, size)
    return { roomId, offsetM3ps, transferInM3ps: into, transferOutM3ps: out, toOutsideM3ps: toOutside, unaccountedM3ps }
  })
  const incompleteRoomIds = inSite.filter(({ offsetM3ps }) => offsetM3ps === null).map(({ roomId }) => roomId)
  const sum = (part: (balance: RoomBalance) => number) => rooms.reduce((total, { balance }) => total + part(balance), 0)
  const complete = incompleteRoomIds.length === 0
  const size = sum(sizeOf) + 2 * between + inSite.reduce((total, { toOutsideM3ps }) => total + Math.abs(toOutsideM3ps), 0)
  return {
    supplyM3ps: sum(({ supplyM3ps }) => supplyM3ps),
    returnM3ps: sum(({ returnM3ps }) => returnM3ps),
    exhaustM3ps: sum(({ exhaustM3ps }) => exhaustM3ps),
    recirculatedM3ps: sum(({ recirculatedM3ps }) => recirculatedM3ps),
    offsetM3ps: complete
      ? settledSum(
          sum(({ offsetM3ps }) => offsetM3ps ?? 0),
          sum(sizeOf),
        )
      : null,
    betweenRoomsM3ps: between,
    toOutsideM3ps: inSite.reduce((total, { toOutsideM3ps }) => total + toOutsideM3ps, 0),
    unaccountedM3ps: complete
      ? settledSum(
          inSite.reduce((total, { unaccountedM3ps }) => total + (unaccountedM3ps ?? 0), 0),
          size,
        )
      : null,
    rooms: inSite,
    incompleteRoomIds,
    strayTransfers: stray,
  }
}
