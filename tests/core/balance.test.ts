import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { airSystemFlows } from '#core/rooms/air-systems.ts'
import { type BalanceTerminal, crossesBoundary, directionOf, roomBalance } from '#core/rooms/balance.ts'
import { againstBalance, pressureDirection } from '#core/rooms/pressure-direction.ts'
import { siteBalance, type Transfer } from '#core/rooms/site-balance.ts'

let made = 0
function terminal(
  direction: BalanceTerminal['direction'],
  standardFlowM3ps: number | null,
  airSource: BalanceTerminal['airSource'] = 'air_handler',
): BalanceTerminal {
  made += 1
  return { terminalId: `terminal ${made}`, direction, airSource, standardFlowM3ps }
}

describe('balance of a room', () => {
  it('is supply less return less exhaust, worked by hand, with its share of supply', () => {
    // 2 x 0.30 - 0.40 - 0.08 = 0.12 m3/s, 20 % of 0.60; at rho_standard / rho_room = 1.25: 0.15 m3/s
    const room = roomBalance(
      [terminal('supply', 0.3), terminal('supply', 0.3, 'shared_plenum'), terminal('return', 0.4), terminal('exhaust', 0.08)],
      1.25,
    )
    expect(room.offsetM3ps).toBeCloseTo(0.12, 12)
    expect(room.offsetAtRoomM3ps).toBeCloseTo(0.15, 12)
    expect(room.offsetPercentOfSupply).toBeCloseTo(20, 10)
  })

  it('leaves out air that never crosses the boundary, but shows it', () => {
    const room = roomBalance(
      [terminal('supply', 0.5), terminal('supply', 2, 'recirculated'), terminal('supply', 0.3, 'device'), terminal('return', 0.6)],
      1,
    )
    expect(room.offsetM3ps).toBeCloseTo(-0.1, 12)
    expect(room.recirculatedM3ps).toBeCloseTo(2.3, 12)
  })

  it('leaves out the return of a fan filter unit as well as its supply: the same air goes round', () => {
    // m3/h: 1000 from the air handler, 2000 round by the unit, 900 back to the air handler; 1000 - 900 = +100, 10 % of 1000
    const room = roomBalance(
      [
        terminal('supply', 1000 / 3600),
        terminal('supply', 2000 / 3600, 'recirculated'),
        terminal('return', 2000 / 3600, 'recirculated'),
        terminal('return', 900 / 3600),
      ],
      1,
    )
    expect(room.offsetM3ps).toBeCloseTo(100 / 3600, 12)
    expect(room.offsetPercentOfSupply).toBeCloseTo(10, 10)
    expect(room.returnM3ps).toBeCloseTo(900 / 3600, 12)
    expect(room.recirculatedM3ps).toBeCloseTo(2000 / 3600, 12)
    expect(roomBalance([terminal('supply', 0.5), terminal('return', null, 'recirculated')], 1).offsetM3ps).toBe(0.5)
  })

  it('has no offset while a terminal is missing, and names it; a missing recirculating unit does not matter', () => {
    const missing = terminal('return', null)
    expect(roomBalance([terminal('supply', 0.5), missing], 1)).toMatchObject({
      offsetM3ps: null,
      offsetAtRoomM3ps: null,
      offsetPercentOfSupply: null,
      supplyM3ps: 0.5,
      missingTerminalIds: [missing.terminalId],
    })
    expect(roomBalance([terminal('supply', 0.5), terminal('supply', null, 'recirculated')], 1).offsetM3ps).toBe(0.5)
  })

  it('has no percentage without supply, and no flow at the room without its density', () => {
    const exhausted = roomBalance([terminal('exhaust', 0.2), terminal('supply', 0)], null)
    expect(exhausted).toMatchObject({ offsetM3ps: -0.2, offsetPercentOfSupply: null, offsetAtRoomM3ps: null })
  })

  it('is exactly 0 where the flows cancel, whatever floating point leaves of them', () => {
    // 568 + 1310 + 309 - 700 - 1487 = 0 m3/h
    const flows = [568, 1310, 309].map((flow) => terminal('supply', flow / 3600))
    const taken = [700, 1487].map((flow) => terminal('return', flow / 3600))
    const room = roomBalance([...flows, ...taken], 0.9)
    expect(room).toMatchObject({ offsetM3ps: 0, offsetAtRoomM3ps: 0, offsetPercentOfSupply: 0 })
    // A litre an hour in 2187 m3/h is a flow and no noise.
    expect(roomBalance([...flows, ...taken, terminal('exhaust', 0.001 / 3600)], 1).offsetM3ps).toBeCloseTo(-0.001 / 3600, 15)
  })

  it('knows which way a terminal moves air', () => {
    const kinds = ['supply_filter', 'fan_filter_unit', 'return_grille', 'exhaust_grille', 'duct_section'] as const
    expect(kinds.map(directionOf)).toEqual(['supply', 'supply', 'return', 'exhaust', null])
    expect(crossesBoundary('exhaust', 'device')).toBe(true)
    expect(crossesBoundary('supply', 'device')).toBe(false)
    expect(crossesBoundary('return', 'air_handler')).toBe(true)
    expect(crossesBoundary('return', 'recirculated')).toBe(false)
  })
})

describe('pressure direction', () => {
  const asked = { offsetM3ps: 0.1, offsetDoubtM3ps: 0.02, wantedPa: 10, measuredPa: 12, measuredDoubtPa: 0.5 }

  it('agrees when air is given, pressure is wanted and found', () => {
    expect(pressureDirection(asked)).toMatchObject({ measuredAgainstWanted: 'agrees', measuredAgainstBalance: 'agrees' })
  })

  it('disagrees where the balance takes air and the door shows pressure', () => {
    expect(pressureDirection({ ...asked, offsetM3ps: -0.1 })).toMatchObject({
      expected: 'negative',
      measuredAgainstBalance: 'disagrees',
      measuredAgainstWanted: 'agrees',
    })
    expect(pressureDirection({ ...asked, wantedPa: -5 }).measuredAgainstWanted).toBe('disagrees')
  })

  it('cannot tell inside the doubt, or without a figure', () => {
    expect(pressureDirection({ ...asked, offsetM3ps: 0.02 }).measuredAgainstBalance).toBe('cannot_tell')
    expect(pressureDirection({ ...asked, measuredPa: -0.5 })).toMatchObject({ measured: 'undecided', measuredAgainstWanted: 'cannot_tell' })
    expect(pressureDirection({ ...asked, measuredPa: null })).toMatchObject({ measured: null, measuredAgainstBalance: 'cannot_tell' })
    expect(pressureDirection({ ...asked, offsetM3ps: null }).expected).toBeNull()
  })
})

describe('the doors of one room against its balance', () => {
  const door = (measuredPa: number | null) =>
    pressureDirection({ offsetM3ps: 0.1, offsetDoubtM3ps: 0.02, wantedPa: null, measuredPa, measuredDoubtPa: 0.5 })
  const held = (...pressures: (number | null)[]) => againstBalance(pressures.map(door))

  it('a room between a higher and a lower neighbour contradicts nothing', () => {
    expect(held(12, -8)).toEqual(['agrees', 'both_ways'])
    expect(held(-8, 0.2, 12, null)).toEqual(['both_ways', 'cannot_tell', 'agrees', 'cannot_tell'])
  })

  it('disagrees where every door with a direction goes the other way, or the only one measured does', () => {
    expect(held(-3, -8)).toEqual(['disagrees', 'disagrees'])
    expect(held(-3, 0.2)).toEqual(['disagrees', 'cannot_tell'])
    expect(held(-3, null)).toEqual(['disagrees', 'cannot_tell'])
  })
})

describe('balance of a site', () => {
  const room = (roomId: string, supply: number, taken: number) => ({
    roomId,
    balance: roomBalance([terminal('supply', supply), terminal('return', taken)], 1),
  })

  it('does not lose what one room gives another, worked by hand', () => {
    // clean room gives 0.10 to the airlock, the airlock 0.12 to the corridor, which leaks 0.15 to the outside
    const rooms = [room('clean', 0.6, 0.5), room('airlock', 0.2, 0.18), room('corridor', 0.4, 0.37)]
    const site = siteBalance(rooms, [
      { fromRoomId: 'clean', toRoomId: 'airlock', standardFlowM3ps: 0.1 },
      { fromRoomId: 'corridor', toRoomId: 'airlock', standardFlowM3ps: -0.12 },
      { fromRoomId: 'corridor', toRoomId: null, standardFlowM3ps: 0.15 },
    ])
    expect(site.offsetM3ps).toBeCloseTo(0.15, 12)
    expect(site.betweenRoomsM3ps).toBeCloseTo(0.22, 12)
    expect(site.toOutsideM3ps).toBeCloseTo(0.15, 12)
    for (const { unaccountedM3ps } of site.rooms) expect(unaccountedM3ps).toBeCloseTo(0, 12)
    expect(site.rooms[1]).toMatchObject({ transferInM3ps: 0.1, transferOutM3ps: 0.12 })
  })

  it('is exactly 0 where rooms and doors cancel', () => {
    const site = siteBalance(
      [room('one', 0.3, 0.1), room('two', 0.1, 0.3)],
      [{ fromRoomId: 'one', toRoomId: 'two', standardFlowM3ps: 0.2 }],
    )
    expect(site).toMatchObject({ offsetM3ps: 0, unaccountedM3ps: 0 })
    expect(site.rooms.map(({ unaccountedM3ps }) => unaccountedM3ps)).toEqual([0, 0])
  })

  it('counts infiltration negative', () => {
    const site = siteBalance([room('lab', 0.3, 0.5)], [{ fromRoomId: null, toRoomId: 'lab', standardFlowM3ps: 0.2 }])
    expect(site).toMatchObject({ toOutsideM3ps: -0.2, offsetM3ps: -0.2 })
    expect(site.unaccountedM3ps).toBeCloseTo(0, 12)
  })

  it('adds up for any rooms and transfers: offsets = over the envelope + unaccounted', () => {
    const ids = ['a', 'b', 'c', 'd']
    const flow = fc.double({ min: 0, max: 3, noNaN: true })
    const place = fc.constantFrom<string | null>('a', 'b', 'c', 'd', null)
    const transfer = fc.record({ fromRoomId: place, toRoomId: place, standardFlowM3ps: fc.double({ min: -2, max: 2, noNaN: true }) })
    fc.assert(
      fc.property(
        fc.array(fc.tuple(flow, flow), { minLength: 4, maxLength: 4 }),
        fc.array(transfer, { maxLength: 12 }),
        (flows, transfers) => {
          const rooms = flows.map(([supply, taken], index) => room(ids[index] ?? '', supply, taken))
          const site = siteBalance(rooms, transfers)
          expect(site.offsetM3ps).toBeCloseTo(site.supplyM3ps - site.returnM3ps - site.exhaustM3ps, 9)
          expect(site.toOutsideM3ps + (site.unaccountedM3ps ?? Number.NaN)).toBeCloseTo(site.offsetM3ps ?? Number.NaN, 9)
          const into = site.rooms.reduce((sum, { transferInM3ps }) => sum + transferInM3ps, 0)
          const out = site.rooms.reduce((sum, { transferOutM3ps }) => sum + transferOutM3ps, 0)
          expect(into).toBeCloseTo(out, 9)
          expect(into).toBeCloseTo(site.betweenRoomsM3ps, 9)
        },
      ),
    )
  })

  it('names incomplete rooms and stray transfers', () => {
    const incomplete = { roomId: 'open', balance: roomBalance([terminal('supply', null)], 1) }
    const stray: Transfer[] = [
      { fromRoomId: 'elsewhere', toRoomId: 'lab', standardFlowM3ps: 1 },
      { fromRoomId: 'lab', toRoomId: 'lab', standardFlowM3ps: 1 },
      { fromRoomId: null, toRoomId: null, standardFlowM3ps: 1 },
    ]
    const site = siteBalance([room('lab', 1, 1), incomplete], stray)
    expect(site).toMatchObject({ offsetM3ps: null, unaccountedM3ps: null, incompleteRoomIds: ['open'], betweenRoomsM3ps: 0 })
    expect(site.strayTransfers).toEqual(stray)
  })
})

describe('flow of air systems', () => {
  const on = (airSystemId: string | null, direction: BalanceTerminal['direction'], flowM3ps: number | null, terminalId: string) => ({
    airSystemId,
    direction,
    flowM3ps,
    terminalId,
  })

  it('sums each system and direction against the design of its fan', () => {
    const flows = airSystemFlows(
      [
        on('one', 'supply', 0.9, 'a'),
        on('one', 'supply', 0.6, 'b'),
        on('one', 'return', 1.2, 'c'),
        on(null, 'supply', 9, 'd'),
        on('two', 'exhaust', 0.2, 'e'),
      ],
      [
        { airSystemId: 'one', direction: 'supply', designFlowM3ps: 1.6 },
        { airSystemId: 'three', direction: 'supply', designFlowM3ps: 2 },
      ],
    )
    expect(flows.map(({ airSystemId, direction }) => `${airSystemId} ${direction}`)).toEqual([
      'one supply',
      'three supply',
      'one return',
      'two exhaust',
    ])
    expect(flows[0]).toMatchObject({ flowM3ps: 1.5, terminals: 2 })
    expect(flows[0]?.percentOfDesign).toBeCloseTo(93.75, 10)
    expect(flows[1]).toMatchObject({ flowM3ps: null, terminals: 0, percentOfDesign: null })
    expect(flows[3]).toMatchObject({ designFlowM3ps: null, percentOfDesign: null, flowM3ps: 0.2 })
  })

  it('has no flow while one of its terminals has none, and names it', () => {
    const [flow] = airSystemFlows([on('one', 'supply', 0.9, 'a'), on('one', 'supply', null, 'b')], [])
    expect(flow).toMatchObject({ flowM3ps: null, soFarM3ps: 0.9, missingTerminalIds: ['b'] })
  })
})
