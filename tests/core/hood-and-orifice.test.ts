import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { methodOf } from '#core/methods/catalogue.ts'
import { factorGaps, type HoodFactor, hoodFactorFor } from '#core/methods/hood/hood-flow.ts'
import { type FlowElement, flowFromDifferentialPressureM3ps } from '#core/methods/orifice/orifice-flow.ts'
import { entered } from './face-run.ts'
import { aMeter, type GivenTerminal, roomRun, sensing } from './room-run.ts'

/** The result of one terminal that was read as one value. */
function read(terminal: GivenTerminal['terminal'], reading: number | null | readonly number[], instrument = aMeter()) {
  return methodOf('room_airflow').compute(roomRun([{ terminal, readings: [reading] }], { instrument })).filters[0]
}

describe('capture hood', () => {
  const factor = (face: HoodFactor['face'], lowM3ps: number, highM3ps: number, value: number): HoodFactor => ({
    face,
    lowM3ps,
    highM3ps,
    factor: value,
    relativeUncertainty: 0.02,
    reason: 'traverse of the branch duct',
  })
  const factors = [factor('swirl', 0, 0.2, 1.1), factor('swirl', 0.2, 0.6, 1.04), factor('grille', 0, 1, 0.97)]
  /** The terminal's flow by a hood with these factors and this range, m3/s. */
  const byHood = (flowM3ps: number, face: HoodFactor['face'], [low, high] = [0.03, 0.8]) => {
    const hoodFactors = factors.map(({ face: of, lowM3ps, highM3ps, factor: value, reason }) => ({
      face: of,
      low: entered(lowM3ps, 'm3/s'),
      high: entered(highM3ps, 'm3/s'),
      factor: value,
      uncertaintyPercent: 2,
      reason,
    }))
    return read({ face, measuredBy: 'hood' }, flowM3ps, aMeter({ senses: [sensing('flow', low, high)], hoodFactors }))
  }
  const codesOf = (...of: Parameters<typeof byHood>) => byHood(...of)?.notes.map(({ code }) => code) ?? []

  it('takes the factor of the terminal face and the range of the indicated flow', () => {
    expect(byHood(0.1, 'swirl')).toMatchObject({ hoodFactor: 1.1, flowM3ps: expect.closeTo(0.11, 12) })
    expect(byHood(0.4, 'swirl')?.flowM3ps).toBeCloseTo(0.416, 12)
    expect(byHood(-0.4, 'grille')?.flowM3ps).toBeCloseTo(-0.388, 12)
  })

  it('is as indicated where nothing is stated for the face, and shows that', () => {
    expect(byHood(0.1, 'louvre')).toMatchObject({ flowM3ps: 0.1, hoodFactor: 1 })
    expect(codesOf(0.1, 'louvre')).toContain('note.no_hood_factor')
    expect(codesOf(0.1, 'grille')).not.toContain('note.no_hood_factor')
  })

  it('takes the nearest range outside all of them, with the largest uncertainty stated for the face', () => {
    // Ranges 100-500 and 501-1000 m3/h leave a gap; 1.05 is known to 2 %, 1.10 to 4 % of the flow.
    const perHour = 1 / 3600
    const gapped: HoodFactor[] = [
      { ...factor('swirl', 100 * perHour, 500 * perHour, 1.05), relativeUncertainty: 0.02 },
      { ...factor('swirl', 501 * perHour, 1000 * perHour, 1.1), relativeUncertainty: 0.04 },
      { ...factor('grille', 0, 1, 0.97), relativeUncertainty: 0.3 },
    ]
    const at = (m3h: number) => {
      const found = hoodFactorFor(m3h * perHour, 'swirl', gapped)
      return [found?.entry.factor, found?.outside, found?.relativeUncertainty]
    }
    expect(at(50)).toEqual([1.05, true, 0.04])
    expect(at(100)).toEqual([1.05, false, 0.02])
    expect(at(500.4)).toEqual([1.05, true, 0.04])
    expect(at(500.6)).toEqual([1.1, true, 0.04])
    expect(at(1001)).toEqual([1.1, true, 0.04])
    expect(at(-1001)).toEqual([1.1, true, 0.04])
  })

  it('takes the lower range where two meet, however the boundary is rounded', () => {
    // 0.1 + 0.2 is 0.30000000000000004 in floating point, and the boundary to people.
    const meeting = [factor('swirl', 0.3, 0.6, 1.04), factor('swirl', 0, 0.3, 1.1)]
    for (const flow of [0.3, 0.1 + 0.2])
      expect(hoodFactorFor(flow, 'swirl', meeting)).toMatchObject({ entry: { factor: 1.1 }, outside: false })
    expect(hoodFactorFor(0.301, 'swirl', meeting)?.entry.factor).toBe(1.04)
  })

  it('tells the flows between two ranges that no factor is stated for', () => {
    const given = [
      factor('swirl', 0.5, 0.6, 1.04),
      factor('swirl', 0.1, 0.3, 1.1),
      factor('swirl', 0.3, 0.4, 1.1),
      factor('grille', 0.7, 1, 1),
    ]
    expect(factorGaps(given)).toEqual([{ face: 'swirl', fromM3ps: 0.4, toM3ps: 0.5 }])
  })

  it('has no flow above its range, and keeps one below it with a note', () => {
    const beyond = (flowM3ps: number) => codesOf(flowM3ps, 'grille').filter((code) => code.endsWith('_range'))
    expect(byHood(0.81, 'grille')?.flowM3ps).toBeNull()
    expect(beyond(0.81)).toContain('note.above_range')
    expect(beyond(0.029)).toEqual(['note.below_range'])
    expect(byHood(0.029, 'grille')?.flowM3ps).toBeCloseTo(0.02813, 12)
    expect(beyond(0.03)).toEqual([])
    expect(beyond(0.8)).toEqual([])
    // 5 x 0.97, the factor of the nearest range.
    expect(byHood(5, 'grille', [0.03, 5])?.flowM3ps).toBeCloseTo(4.85, 12)
  })

  it('decides one way where two entries meet or overlap, whatever their order', () => {
    const overlapping = [factor('swirl', 0, 0.3, 1.1), factor('swirl', 0.2, 0.6, 1.04)]
    for (const flow of [0.2, 0.25, 0.3])
      expect(hoodFactorFor(flow, 'swirl', overlapping)).toEqual(hoodFactorFor(flow, 'swirl', [...overlapping].reverse()))
    expect(hoodFactorFor(0.21, 'swirl', overlapping)?.entry.factor).toBe(1.1)
  })
})

describe('orifice and venturi', () => {
  const plate: FlowElement = { kind: 'discharge', coefficient: 0.6, boreDiameterM: 0.2, ductDiameterM: 0.4, expansibility: 1 }

  it('worked by hand: C 0.6, 200 mm in 400 mm, 100 Pa, 1.2 kg/m3', () => {
    // 0.6 x 0.0314159 m2 x sqrt(200 / 1.2) / sqrt(1 - 0.0625) = 0.0188496 x 12.9099 / 0.968246 = 0.25133 m3/s (ISO 5167-1 equation 1, from memory)
    expect(flowFromDifferentialPressureM3ps(100, 1.2, plate)).toBeCloseTo(0.25133, 5)
  })

  it('goes with the root of pressure, and of thinner air', () => {
    fc.assert(
      fc.property(fc.double({ min: 1, max: 2000, noNaN: true }), fc.double({ min: 0.7, max: 1.3, noNaN: true }), (pressure, density) => {
        const flow = flowFromDifferentialPressureM3ps(pressure, density, plate) ?? Number.NaN
        expect(flowFromDifferentialPressureM3ps(4 * pressure, density, plate)).toBeCloseTo(2 * flow, 9)
        expect(flowFromDifferentialPressureM3ps(pressure, density / 4, plate)).toBeCloseTo(2 * flow, 9)
      }),
    )
  })

  it('corrects a stated coefficient to the density of the day', () => {
    const stated: FlowElement = { kind: 'stated', flowAtOnePascalM3ps: 0.05, statedDensityKgpm3: 1.2 }
    expect(flowFromDifferentialPressureM3ps(144, 1.2, stated)).toBeCloseTo(0.6, 12)
    expect(flowFromDifferentialPressureM3ps(144, 0.3, stated)).toBeCloseTo(1.2, 12)
  })

  it('averages flows, never pressures', () => {
    // 0.1 sqrt(16) = 0.4 and 0.1 sqrt(64) = 0.8 m3/s as indicated, at the stated density; the root of the mean pressure, 40 Pa, would give 0.632
    const flowElement = {
      kind: 'stated',
      flowAtOnePascal: entered(0.1, 'm3/s'),
      statedDensityKgpm3: 1.2,
      uncertaintyPercent: null,
    } as const
    const by = (pressures: readonly number[]) => read({ measuredBy: 'flow_element', flowElement }, pressures)
    expect(by([16, 64])?.flowM3ps).toBeCloseTo(0.6, 12)
    expect(by([])?.flowM3ps).toBeNull()
    // A pressure of air that flows back says nothing of its flow, is left out and told.
    expect(by([16, -1])).toMatchObject({
      flowM3ps: expect.closeTo(0.4, 12),
      notes: expect.arrayContaining([{ code: 'note.unusable', params: { readings: 1 } }]),
    })
  })

  it('has none for a negative pressure, or an element that cannot be', () => {
    expect(flowFromDifferentialPressureM3ps(-1, 1.2, plate)).toBeNull()
    expect(flowFromDifferentialPressureM3ps(0, 1.2, plate)).toBe(0)
    expect(flowFromDifferentialPressureM3ps(100, 0, plate)).toBeNull()
    expect(flowFromDifferentialPressureM3ps(100, 1.2, { ...plate, boreDiameterM: 0.4 })).toBeNull()
    expect(flowFromDifferentialPressureM3ps(100, 1.2, { ...plate, coefficient: 0 })).toBeNull()
  })
})
