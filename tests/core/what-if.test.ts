import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { airChangesPerHour, flowForAirChangesM3ps } from '#core/rooms/air-changes.ts'
import { type AdjustableFilter, changeFanSpeed, remediesFor, speedRatioFor } from '#core/rooms/what-if.ts'

function filter(terminalId: string, flowM3ps: number, more: Partial<AdjustableFilter> = {}): AdjustableFilter {
  return {
    terminalId,
    flowM3ps,
    meanVelocityMps: flowM3ps / 0.6,
    designFlowM3ps: 0.27,
    velocityLimits: { lowMps: 0.36, highMps: 0.54 },
    adjustable: true,
    ...more,
  }
}

describe('which filter, raised by how much', () => {
  it('brings a room to its air changes, worked by hand', () => {
    // 30 per hour in 100 m3 are 0.8333 m3/s; 0.27 + 0.25 + 0.22 = 0.74 lack 0.0933: the third goes to 0.3133, up 42.4 %, 0.522 m/s
    const filters = [filter('first', 0.27), filter('second', 0.25), filter('third', 0.22)]
    const found = remediesFor(filters, 'at_least', flowForAirChangesM3ps(30, 100))
    const [best] = found?.remedies ?? []
    expect(best).toMatchObject({ terminalId: 'third', hindrance: null })
    expect(best?.toM3ps).toBeCloseTo(0.31333, 5)
    expect(best?.changePercent).toBeCloseTo(42.42, 2)
    expect(best?.toVelocityMps).toBeCloseTo(0.5222, 4)
    expect(found?.remedies.map(({ terminalId, hindrance }) => [terminalId, hindrance])).toEqual([
      ['third', null],
      ['second', 'above_velocity_limit'],
      ['first', 'above_velocity_limit'],
    ])
    expect(found?.neighboursMove).toBe(true)
  })

  it('says what hinders a filter', () => {
    const filters = [filter('stuck', 0.2, { adjustable: false }), filter('off', 0, { meanVelocityMps: null }), filter('free', 0.2)]
    const found = remediesFor(filters, 'at_least', 0.45)
    expect(new Map(found?.remedies.map(({ terminalId, hindrance }) => [terminalId, hindrance]))).toEqual(
      new Map([
        ['free', null],
        ['stuck', 'not_adjustable'],
        ['off', 'not_running'],
      ]),
    )
    expect(found?.remedies.find(({ terminalId }) => terminalId === 'off')?.changePercent).toBeNull()
  })

  it('lowers the one farthest over its design, and never below zero', () => {
    const found = remediesFor([filter('high', 0.32), filter('low', 0.05)], 'at_most', 0.3)
    expect(found?.changeM3ps).toBeCloseTo(-0.07, 12)
    expect(found?.remedies[0]).toMatchObject({ terminalId: 'high', hindrance: null })
    expect(found?.remedies[1]).toMatchObject({ terminalId: 'low', hindrance: 'would_reverse' })
  })

  it('asks for nothing where the room is where it should be', () => {
    expect(remediesFor([filter('one', 0.3)], 'at_least', 0.3)).toMatchObject({ changeM3ps: 0, remedies: [] })
    expect(remediesFor([filter('one', 0.2)], 'at_most', 0.3)).toMatchObject({ changeM3ps: 0, remedies: [] })
    expect(remediesFor([], 'at_least', 1)).toBeNull()
  })

  it('every remedy really brings the room to its limit, and leaves the data as they were', () => {
    const flow = fc.double({ min: 0.05, max: 0.5, noNaN: true })
    fc.assert(
      fc.property(fc.array(flow, { minLength: 1, maxLength: 8 }), fc.double({ min: 5, max: 80, noNaN: true }), (flows, perHour) => {
        const filters = flows.map((given, index) => filter(String(index), given))
        const frozen = structuredClone(filters)
        const found = remediesFor(filters, 'at_least', flowForAirChangesM3ps(perHour, 60))
        for (const { terminalId, toM3ps } of found?.remedies ?? []) {
          const after = filters.reduce((sum, { terminalId: id, flowM3ps }) => sum + (id === terminalId ? toM3ps : flowM3ps), 0)
          expect(airChangesPerHour(after, 60)).toBeCloseTo(perHour, 9)
        }
        expect(filters).toEqual(frozen)
      }),
    )
  })
})

describe('a change of fan speed', () => {
  const filters = [filter('a', 0.2), filter('b', 0.3), filter('c', 0.4, { meanVelocityMps: null })]

  it('scales the flows of the group and leaves the rest', () => {
    const change = changeFanSpeed(filters, new Set(['a', 'b']), 1.1)
    expect(change?.supplyBeforeM3ps).toBeCloseTo(0.9, 12)
    expect(change?.supplyAfterM3ps).toBeCloseTo(0.95, 12)
    expect(change?.filters.map(({ inGroup }) => inGroup)).toEqual([true, true, false])
    expect(change?.filters[1]?.afterVelocityMps).toBeCloseTo(0.55, 12)
    expect(change?.filters[2]).toMatchObject({ afterM3ps: 0.4, afterVelocityMps: null })
    expect(change?.neighboursMove).toBe(true)
  })

  it('finds the speed that meets a target, and its own answer confirms it', () => {
    const group = new Set(['a', 'b'])
    const ratio = speedRatioFor(filters, group, 1) ?? Number.NaN
    expect(ratio).toBeCloseTo(1.2, 12)
    expect(changeFanSpeed(filters, group, ratio)?.supplyAfterM3ps).toBeCloseTo(1, 12)
  })

  it('has none for a stopped group, or a target below what the others give', () => {
    expect(speedRatioFor(filters, new Set(), 1)).toBeNull()
    expect(speedRatioFor(filters, new Set(['a']), 0.7)).toBeNull()
    for (const ratio of [0, -1, Number.NaN, Number.POSITIVE_INFINITY]) expect(changeFanSpeed(filters, new Set(['a']), ratio)).toBeNull()
  })
})
