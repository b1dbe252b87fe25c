import type { CountedTransfer, RoomInBalance, WholeSiteBalance } from '#core/api/balance.ts'
import type { EntityBody } from '#core/model/entities.ts'
import type { RoomBalanceFigures, RunResult } from '#core/model/results.ts'
import type { Uuid } from '#core/model/values.ts'
import { settledSum } from './settled-sum.ts'
import { siteBalance, type Transfer } from './site-balance.ts'

/** A room as it stands in a visit: the run that its balance is taken from, and the tags of its terminals. */
export type RoomOfSite = {
  readonly roomId: Uuid
  readonly facilityId: Uuid
  readonly room: Pick<EntityBody<'room'>, 'number' | 'name'>
  /** the current run that balances the room, else one that measured supply alone, else null */
  readonly result: (Pick<RunResult, 'runId' | 'phase' | 'room' | 'doors' | 'air'> & Partial<Pick<RunResult, 'filters'>>) | null
  readonly tagOf: (terminalId: Uuid) => string
  /** whether a terminal only moves air within its room, as a recirculating fan filter unit does; none does where this is left out */
  readonly staysWithin?: (terminalId: Uuid) => boolean
}
export type DoorOfSite = { readonly doorId: Uuid; readonly door: EntityBody<'door'> }

const NOTHING: RoomBalanceFigures = {
  supplyM3ps: 0,
  returnM3ps: 0,
  exhaustM3ps: 0,
  recirculatedM3ps: 0,
  offsetM3ps: null,
  offsetAtRoomM3ps: null,
  offsetPercentOfSupply: null,
  basis: 'as_indicated',
  missingTerminalIds: [],
}

/** Flows of one standard density told at another: the mass stays. The offset at room density and percentages stay as they are. */
function scaled(balance: RoomBalanceFigures, factor: number): RoomBalanceFigures {
  return {
    ...balance,
    supplyM3ps: balance.supplyM3ps * factor,
    returnM3ps: balance.returnM3ps * factor,
    exhaustM3ps: balance.exhaustM3ps * factor,
    recirculatedM3ps: balance.recirculatedM3ps * factor,
    offsetM3ps: balance.offsetM3ps === null ? null : balance.offsetM3ps * factor,
  }
}

/** One density where every room speaks of the same, else the house's; a single one of another standard would not add up. */
function commonDensity(rooms: readonly RoomOfSite[], houseKgpm3: number): number {
  const own = rooms.flatMap(({ result }) => (result?.room.balance?.basis === 'standard' ? [result.air?.standardKgpm3 ?? houseKgpm3] : []))
  const [first] = own
  return first !== undefined && own.every((one) => Math.abs(one - first) <= 1e-9 * first) ? first : houseKgpm3
}

function transferOf(
  { doorId, door }: DoorOfSite,
  rooms: ReadonlyMap<Uuid, RoomOfSite>,
  site: { isMass: boolean; standardKgpm3: number },
): CountedTransfer[] {
  const { transfer, roomIds, name } = door
  if (!transfer) return []
  const [fromRoomId, toRoomId] = roomIds
  const counted = (flowM3ps: number | null, left: CountedTransfer['left']) => [
    { doorId, name, fromRoomId, toRoomId, flowM3ps, left, how: transfer.how },
  ]
  const from = rooms.get(fromRoomId)
  const to = toRoomId === null ? null : rooms.get(toRoomId)
  if (!from || to === undefined) return counted(null, 'room_not_in_balance')
  if (!site.isMass || transfer.basis !== 'actual') return counted(transfer.flow.si, null)
  // The air that goes through is that of the room it comes from; of what comes from outside only the room's own density is known.
  const giver = transfer.flow.si >= 0 || !to ? from : to
  const actualKgpm3 = giver.result?.air?.actualKgpm3 ?? null
  return actualKgpm3 === null ? counted(null, 'no_density') : counted((transfer.flow.si * actualKgpm3) / site.standardKgpm3, null)
}

/**
 * The balance of a whole site out of the balances of its rooms and the known air through its doors: see {@link siteBalance}. Rooms whose
 * standard flows speak of different densities are told at `houseKgpm3`, mass kept. Where one measured room has no standard flows the sums are as
 * indicated, and are no mass balance. A transfer known as actual air counts at the density of the room it leaves. A room
 * measured at its supply alone, or not at all, is incomplete. Source: conservation of mass.
 */
export function wholeSite(
  scope: { readonly certificationId: Uuid; readonly facilityId: Uuid | null },
  rooms: readonly RoomOfSite[],
  doors: readonly DoorOfSite[],
  houseKgpm3: number,
): WholeSiteBalance {
  const measured = rooms.filter(({ result }) => result !== null)
  const isMass = measured.length > 0 && measured.every(({ result }) => result !== null && hasMass(result))
  const standardKgpm3 = commonDensity(rooms, houseKgpm3)
  const own = rooms.map((room) => ({ room, balance: balanceOf(room, isMass ? standardKgpm3 : null, houseKgpm3) }))
  const byId = new Map(rooms.map((room) => [room.roomId, room]))
  const transfers = doors.flatMap((door) => transferOf(door, byId, { isMass, standardKgpm3 }))
  const counted = transfers.flatMap(({ fromRoomId, toRoomId, flowM3ps }): Transfer[] =>
    flowM3ps === null ? [] : [{ fromRoomId, toRoomId, standardFlowM3ps: flowM3ps }],
  )
  const site = siteBalance(
    own.map(({ room, balance }) => ({ roomId: room.roomId, balance })),
    counted,
  )
  const inSite = new Map(site.rooms.map((one) => [one.roomId, one]))
  return {
    ...scope,
    basis: isMass ? 'standard' : 'as_indicated',
    standardKgpm3,
    supplyM3ps: site.supplyM3ps,
    returnM3ps: site.returnM3ps,
    exhaustM3ps: site.exhaustM3ps,
    recirculatedM3ps: site.recirculatedM3ps,
    offsetM3ps: site.offsetM3ps,
    betweenRoomsM3ps: site.betweenRoomsM3ps,
    toOutsideM3ps: site.toOutsideM3ps,
    unaccountedM3ps: site.unaccountedM3ps,
    rooms: own.map(({ room, balance }): RoomInBalance => {
      const { transferInM3ps = 0, transferOutM3ps = 0, toOutsideM3ps = 0, unaccountedM3ps = null } = inSite.get(room.roomId) ?? {}
      const { missingTerminalIds, basis, ...figures } = balance
      return {
        roomId: room.roomId,
        facilityId: room.facilityId,
        number: room.room.number,
        name: room.room.name,
        runId: room.result?.runId ?? null,
        phase: room.result?.phase ?? null,
        basis: room.result?.room.balance ? basis : null,
        gap: gapOf(room),
        missing: missingTerminalIds.map(room.tagOf),
        ...figures,
        transferInM3ps,
        transferOutM3ps,
        toOutsideM3ps,
        unaccountedM3ps,
        doors: room.result?.doors ?? [],
      }
    }),
    transfers,
  }
}

function balanceOf({ result, staysWithin }: RoomOfSite, standardKgpm3: number | null, houseKgpm3: number): RoomBalanceFigures {
  const balance = result?.room.balance
  if (!result) return NOTHING
  const own = balance ?? supplyAlone(result, staysWithin, standardKgpm3 === null ? 'as_indicated' : 'standard')
  return standardKgpm3 === null ? own : scaled(own, (result.air?.standardKgpm3 ?? houseKgpm3) / standardKgpm3)
}

/** A room of which the supply alone was measured: what crosses its boundary, and beside it what only moves within the room. */
function supplyAlone(
  result: NonNullable<RoomOfSite['result']>,
  staysWithin: RoomOfSite['staysWithin'],
  basis: 'as_indicated' | 'standard',
): RoomBalanceFigures {
  const totalM3ps = result.room.byBasis?.[basis]?.flowM3ps ?? result.room.supplySoFar.flowM3ps
  let recirculatedM3ps = 0
  for (const { terminalId, byBasis } of result.filters ?? [])
    if (staysWithin?.(terminalId)) recirculatedM3ps += byBasis?.[basis]?.flowM3ps ?? 0
  const supplyM3ps = settledSum(totalM3ps - recirculatedM3ps, Math.abs(totalM3ps) + Math.abs(recirculatedM3ps))
  return { ...NOTHING, supplyM3ps, recirculatedM3ps }
}

/** Supply of a room of which nothing else was measured, as standard air; null where that is not known. */
function standardSupply({ room }: NonNullable<RoomOfSite['result']>): number | null {
  return room.byBasis?.standard?.flowM3ps ?? null
}

function hasMass(result: NonNullable<RoomOfSite['result']>): boolean {
  return result.room.balance ? result.room.balance.basis === 'standard' : standardSupply(result) !== null
}

function gapOf({ result }: RoomOfSite): RoomInBalance['gap'] {
  if (!result) return 'no_run'
  if (!result.room.balance) return 'supply_only'
  return result.room.balance.offsetM3ps === null ? 'terminals_missing' : null
}
