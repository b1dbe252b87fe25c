import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { airChangesPerHour, flowForAirChangesM3ps } from '#core/rooms/air-changes.ts'
import { type AdjustableFilter, changeFanSpeed, remediesFor, speedRatioFor } from '#core/rooms/what-if.ts'
import { type HeldLimits, leavesLimits, passingValue } from '#core/rooms/what-if-limits.ts'

/** 0.36 to 0.54 m/s, by simple acceptance. */
const band = (value: number): HeldLimits => ({ value, low: 0.36, high: 0.54, guard: 0, perStandard: 0, coverageFactor: 1, halfStep: 0 })

function filter(terminalId: string, flowM3ps: number, more: Partial<AdjustableFilter> = {}): AdjustableFilter {
  return {
    terminalId,
    flowM3ps,
    meanVelocityMps: flowM3ps / 0.6,
    designFlowM3ps: 0.27,
    limits: [band(flowM3ps / 0.6)],
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

describe('the value that passes a guarded limit', () => {
  // At least 30, now 27 with u = 0.5, k = 2, one U of guard band: 30 + 1 = 31 if U stood still.
  const guarded: HeldLimits = { value: 27, low: 30, high: null, guard: 1, perStandard: 2, coverageFactor: 2, halfStep: 0 }
  const still = { standardPerUnit: 0, coverageFactor: 2 }

  it('grows with the guard band, worked by hand', () => {
    expect(passingValue(guarded, 27, 'at_least', still)).toBe(31)
    // A raised unit brings 0.05: x = 30 + 2 (0.5 + 0.05 (x - 27)), so 0.9 x = 28.3 and x = 31.444; there U = 2 x 0.7222 = 1.4444.
    expect(passingValue(guarded, 27, 'at_least', { standardPerUnit: 0.05, coverageFactor: 2 })).toBeCloseTo(31.444444, 6)
    // With k = 2.4 of what is raised: x = 30 + 2.4 (0.5 + 0.05 (x - 27)) = 27.96 / 0.88 = 31.7727.
    expect(passingValue(guarded, 27, 'at_least', { standardPerUnit: 0.05, coverageFactor: 2.4 })).toBeCloseTo(31.772727, 6)
  })

  it('is none where the guard band grows as fast as the figure, or two of them meet', () => {
    expect(passingValue(guarded, 27, 'at_least', { standardPerUnit: 0.5, coverageFactor: 2 })).toBeNull()
    expect(passingValue({ ...guarded, high: 31.9 }, 27, 'at_least', still)).toBeNull()
    expect(passingValue({ ...guarded, high: 32 }, 27, 'at_least', still)).toBe(31)
    // 31.444 + 1.444 = 32.889 at the raised value.
    expect(passingValue({ ...guarded, high: 32.88 }, 27, 'at_least', { standardPerUnit: 0.05, coverageFactor: 2 })).toBeNull()
    expect(passingValue({ ...guarded, high: 31.9 }, 40, 'at_most', still)).toBeNull()
  })

  it('takes half a step more where a guarded value is rounded first', () => {
    expect(passingValue({ ...guarded, halfStep: 0.5 }, 27, 'at_least', still)).toBe(31.5)
  })
})

describe('the limits of the filter itself', () => {
  it('hold for its figures times the factor, and their guard band grows with it', () => {
    const held: HeldLimits = { value: 0.2, low: 0.18, high: 0.24, guard: 0.01, perStandard: 2, coverageFactor: 2, halfStep: 0 }
    // 0.2 x 1.14 + 0.01 x 1.14 = 0.2394; x 1.15 is 0.2415. Down: 0.95 x 0.2 - 0.01 = 0.18, and the guard band stays.
    expect([1.14, 1.15, 0.95, 0.94].map((factor) => leavesLimits(held, factor))).toEqual([null, 'above', null, 'below'])
  })
})
