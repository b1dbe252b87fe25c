import { describe, expect, test } from 'vitest'
import type { EntityBody } from '#core/model/entities.ts'
import { LATER_FIELDS } from '#core/model/later-fields.ts'
import type { ByBasis, FilterResult, RoomBalanceFigures, RunResult } from '#core/model/results.ts'
import type { Basis, Entered } from '#core/model/values.ts'
import { type SystemOfSite, systemsOfSite, type TerminalOfSystem } from '#core/rooms/systems-of-site.ts'
import { type DoorOfSite, type RoomOfSite, wholeSite } from '#core/rooms/whole-site.ts'

const HOUSE = 1.2
const scope = { certificationId: 'visit', facilityId: null }
type Result = NonNullable<RoomOfSite['result']>

function figures(supply: number, back: number, exhaust: number, more: Partial<RoomBalanceFigures> = {}): RoomBalanceFigures {
  const offsetM3ps = supply - back - exhaust
  return {
    supplyM3ps: supply,
    returnM3ps: back,
    exhaustM3ps: exhaust,
    recirculatedM3ps: 0,
    offsetM3ps,
    offsetAtRoomM3ps: offsetM3ps,
    offsetPercentOfSupply: null,
    basis: 'standard',
    missingTerminalIds: [],
    ...more,
  }
}

function room(
  roomId: string,
  balance: RoomBalanceFigures | null,
  air: { actual: number | null; standard: number | null } | null,
): RoomOfSite {
  const figuresOfRoom = { supplySoFar: { flowM3ps: 0.1, terminals: 1, of: 1 }, balance } as RunResult['room']
  const airOfRun = air && { actualKgpm3: air.actual, atInstrumentKgpm3: null, standardKgpm3: air.standard, pressureFrom: null, remarks: [] }
  // Only what the balance looks at is made.
  const result: Result = { runId: `run ${roomId}`, phase: 'as_left', room: figuresOfRoom, doors: [], air: airOfRun }
  return { roomId, facilityId: 'house', room: { number: roomId, name: '' }, result, tagOf: (id) => `tag ${id}` }
}

function door(from: string, to: string | null, si: number, basis: Basis): DoorOfSite {
  const flow: Entered = { si, typed: String(si), unit: 'm3/s' }
  return {
    doorId: `${from}-${to}`,
    door: {
      name: '',
      roomIds: [from, to],
      x: 0,
      y: 0,
      width: 1,
      rotationDegrees: 0,
      leastPressureDifference: null,
      transfer: { flow, basis, how: 'measured in the slot' },
      note: '',
    },
  }
}

describe('the balance of a whole site', () => {
  const sea = { actual: 1.2, standard: 1.2 }

  test('supply - return - exhaust = offset = to outside + unaccounted, in every room and over all of them', () => {
    const rooms = [room('A', figures(1, 0.7, 0.1), sea), room('B', figures(0.5, 0.6, 0), sea)]
    const site = wholeSite(scope, rooms, [door('A', 'B', 0.12, 'standard'), door('A', null, 0.05, 'standard')], HOUSE)
    expect(site).toMatchObject({ basis: 'standard', standardKgpm3: 1.2 })
    expect(site.offsetM3ps).toBeCloseTo(site.supplyM3ps - site.returnM3ps - site.exhaustM3ps, 12)
    expect(site.offsetM3ps).toBeCloseTo(site.toOutsideM3ps + (site.unaccountedM3ps ?? Number.NaN), 12)
    expect(site.betweenRoomsM3ps).toBeCloseTo(0.12, 12)
    for (const one of site.rooms) {
      const inAndOut = (one.offsetM3ps ?? Number.NaN) + one.transferInM3ps - one.transferOutM3ps
      expect(inAndOut).toBeCloseTo(one.toOutsideM3ps + (one.unaccountedM3ps ?? Number.NaN), 12)
    }
  })

  test('standard flows of different standards are told at one density, mass kept', () => {
    // 1 m3/s at 1.2 kg/m3 is 1.2 kg/s; the other room moves 1 m3/s at 1.1839 kg/m3 (25 degC), that is 1.1839 kg/s: the sum is 2.3839 kg/s.
    const rooms = [room('A', figures(1, 0, 0), sea), room('B', figures(1, 0, 0), { actual: 1.1, standard: 1.1839 })]
    const site = wholeSite(scope, rooms, [], HOUSE)
    expect(site.standardKgpm3).toBe(HOUSE)
    expect(site.supplyM3ps * site.standardKgpm3).toBeCloseTo(2.3839, 10)
    const [, other] = wholeSite(
      scope,
      [rooms[1], rooms[1]].flatMap((one) => one ?? []),
      [],
      HOUSE,
    ).rooms
    expect(other?.supplyM3ps).toBe(1)
  })

  test('actual air through a door counts by the density of the room it comes from, whichever way it goes', () => {
    const rooms = [room('A', figures(1, 1, 0), { actual: 1, standard: 1.2 }), room('B', figures(1, 1, 0), { actual: 1.1, standard: 1.2 })]
    const there = wholeSite(scope, rooms, [door('A', 'B', 0.12, 'actual')], HOUSE)
    expect(there.transfers[0]?.flowM3ps).toBeCloseTo(0.1, 12)
    const back = wholeSite(scope, rooms, [door('A', 'B', -0.12, 'actual')], HOUSE)
    expect(back.transfers[0]?.flowM3ps).toBeCloseTo(-0.11, 12)
    expect(back.rooms[1]?.transferOutM3ps).toBeCloseTo(0.11, 12)
  })

  test('what cannot count is named and not lost in silence', () => {
    const rooms = [room('A', figures(1, 1, 0), { actual: null, standard: 1.2 })]
    const site = wholeSite(scope, rooms, [door('A', null, 0.1, 'actual'), door('A', 'elsewhere', 0.1, 'standard')], HOUSE)
    expect(site.transfers.map(({ left }) => left)).toEqual(['no_density', 'room_not_in_balance'])
    expect(site.toOutsideM3ps).toBe(0)
  })

  test('a room without a balance leaves the site without an offset, and says why', () => {
    const missing = figures(0.4, 0.2, 0, { offsetM3ps: null, missingTerminalIds: ['x'] })
    const unmeasured: RoomOfSite = { ...room('D', null, null), result: null }
    const rooms = [room('A', figures(1, 1, 0), sea), room('B', missing, sea), room('C', null, null), unmeasured]
    const site = wholeSite(scope, rooms, [], HOUSE)
    expect(site.offsetM3ps).toBeNull()
    expect(site.unaccountedM3ps).toBeNull()
    expect(site.rooms.map(({ gap }) => gap)).toEqual([null, 'terminals_missing', 'supply_only', 'no_run'])
    expect(site.rooms[1]?.missing).toEqual(['tag x'])
    expect(site.supplyM3ps).toBeCloseTo(1 + 0.4 + 0.1, 12)
  })

  test('one room without conditions makes the whole sum one of indicated flows', () => {
    const rooms = [
      room('A', figures(1, 1, 0), { actual: 1.1, standard: 1.19 }),
      room('B', figures(1, 1, 0, { basis: 'as_indicated' }), null),
    ]
    expect(wholeSite(scope, rooms, [], HOUSE)).toMatchObject({ basis: 'as_indicated', supplyM3ps: 2 })
  })
})

describe('air systems of a site', () => {
  const flow = (si: number): Entered => ({ si, typed: String(si), unit: 'm3/s' })
  const fan: SystemOfSite = {
    airSystemId: 'fan',
    facilityId: 'house',
    system: { name: 'AHU 1', designSupply: flow(2), designReturn: null, designExhaust: null, note: '' },
  }
  const duct = (countsInRoom: boolean) =>
    ({ kind: 'duct_section', duct: { direction: 'supply', countsInRoom } }) as Partial<EntityBody<'terminal'>>

  function terminal(
    terminalId: string,
    roomId: string,
    flowM3ps: number | null,
    more: Partial<EntityBody<'terminal'>> = {},
    standardKgpm3: number | null = 1.2,
  ): TerminalOfSystem {
    const on = (factor: number) => ({ meanVelocityMps: null, flowM3ps: flowM3ps === null ? null : flowM3ps * factor })
    const byBasis: ByBasis = { as_indicated: on(1), standard: on(1), actual: on(1.1) }
    const result: Pick<FilterResult, 'flowM3ps' | 'byBasis' | 'basis'> = { flowM3ps, byBasis, basis: 'actual' }
    const body = { ...LATER_FIELDS.terminal, tag: terminalId, kind: 'supply_filter', closed: null, airSystemId: 'fan', ...more }
    // Only what the sums look at is made.
    return { terminalId, roomId, terminal: body as EntityBody<'terminal'>, result: flowM3ps === null ? null : result, standardKgpm3 }
  }

  test('terminals add up on actual air against the design of the fan', () => {
    const { basis, systems } = systemsOfSite(scope, [fan], [terminal('a', 'A', 0.8), terminal('b', 'B', 1)])
    expect(basis).toBe('actual')
    expect(systems).toHaveLength(1)
    expect(systems[0]?.flowM3ps).toBeCloseTo(1.98, 12)
    expect(systems[0]?.percentOfDesign).toBeCloseTo(99, 10)
  })

  test('standard flows of two standard airs are not added', () => {
    const unknown = (one: TerminalOfSystem): TerminalOfSystem => ({
      ...one,
      result: one.result && { ...one.result, byBasis: one.result.byBasis && { ...one.result.byBasis, actual: null } },
    })
    const given = (second: number | null) =>
      systemsOfSite(scope, [fan], [unknown(terminal('a', 'A', 0.8)), unknown(terminal('b', 'B', 1, {}, second))]).basis
    expect([given(1.2), given(1.184), given(null)]).toEqual(['standard', 'as_indicated', 'as_indicated'])
  })

  test('a missing terminal leaves no sum and is named; a closed one is a zero', () => {
    const { systems } = systemsOfSite(
      scope,
      [fan],
      [terminal('a', 'A', 1), terminal('b', 'B', null), terminal('c', 'B', null, { closed: { reason: 'spare' } })],
    )
    expect(systems[0]).toMatchObject({ flowM3ps: null, percentOfDesign: null, missing: ['b'], terminals: 3 })
    expect(systems[0]?.soFarM3ps).toBeCloseTo(1.1, 12)
  })

  test('the same air does not count twice: a duct that counts in its room stands for the terminals of that room', () => {
    const { systems } = systemsOfSite(scope, [fan], [terminal('a', 'A', 0.5), terminal('d', 'A', 0.6, duct(true)), terminal('b', 'B', 1)])
    expect(systems[0]?.flowM3ps).toBeCloseTo(1.1 * 1.6, 12)
    const apart = systemsOfSite(scope, [fan], [terminal('a', 'A', 0.5), terminal('d', 'plant', 0.6, duct(false))])
    expect(apart.systems[0]?.flowM3ps).toBeCloseTo(0.55, 12)
    expect(apart.systems[0]?.inDuctM3ps).toBeCloseTo(0.66, 12)
  })
})
