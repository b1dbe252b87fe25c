import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { compareLimit } from '#core/criteria/compare-limit.ts'
import { decimalsOf, digitsOfLimit, roundToLimit } from '#core/criteria/limit-digits.ts'
import { toSi } from '#core/units/units.ts'

describe('comparison with limits', () => {
  it('takes a value on the limit as inside, also where floating point misses it', () => {
    // 0.45 x 0.8 = 0.36 and 0.45 x 1.2 = 0.54 on paper; as doubles they are not
    expect(0.45 * 0.8 === 0.36).toBe(false)
    expect(compareLimit(0.36, 0.45 * 0.8, 0.45 * 1.2)).toMatchObject({ verdict: 'pass', side: 'low', margin: 0 })
    expect(compareLimit(0.54, 0.45 * 0.8, 0.45 * 1.2)).toMatchObject({ verdict: 'pass', side: 'high', margin: 0 })
    expect(compareLimit(0.36 - 1e-8, 0.36, null).verdict).toBe('fail')
    expect(compareLimit(0.54 + 1e-8, null, 0.54).verdict).toBe('fail')
  })

  it('holds 0.020 inH2O as 4.98 Pa, not 5', () => {
    // NIST SP 811: conventional inH2O = 249.0889 Pa, so 0.020 inH2O = 4.981778 Pa
    const limit = toSi(0.02, 'inH2O')
    expect(limit).toBeCloseTo(4.981778, 5)
    expect(compareLimit(4.99, limit, null).verdict).toBe('pass')
    expect(compareLimit(4.97, limit, null).verdict).toBe('fail')
  })

  it('keeps the sign of a containment limit between -0.030 and -0.010 inH2O', () => {
    // USP <800> C-SEC: negative 0.01 to 0.03 inH2O
    const low = toSi(-0.03, 'inH2O')
    const high = toSi(-0.01, 'inH2O')
    for (const [value, verdict] of [
      [-0.03, 'pass'],
      [-0.01, 'pass'],
      [-0.02, 'pass'],
      [0.02, 'fail'],
      [-0.031, 'fail'],
      [-0.009, 'fail'],
    ] as const)
      expect(compareLimit(toSi(value, 'inH2O'), low, high).verdict).toBe(verdict)
  })

  it('compares with zero exactly', () => {
    expect(compareLimit(0, 0, null).verdict).toBe('pass')
    expect(compareLimit(-1e-15, 0, null).verdict).toBe('fail')
  })

  it('has a guard band with three outcomes (JCGM 106:2012)', () => {
    // limits 10 and 20, w = 2: pass 12 to 18, fail below 8 or above 22, inconclusive between
    const verdicts = [7.9, 8, 10, 11.9, 12, 15, 18, 18.1, 22, 22.1].map((value) => compareLimit(value, 10, 20, 2).verdict)
    expect(verdicts).toEqual([
      'fail',
      'inconclusive',
      'inconclusive',
      'inconclusive',
      'pass',
      'pass',
      'pass',
      'inconclusive',
      'inconclusive',
      'fail',
    ])
    expect(compareLimit(15, 10, 20, 5).undecidable).toBe(true)
    expect(compareLimit(15, 10, 20, 4.9).undecidable).toBe(false)
    expect(compareLimit(9.9, 10, null, 0).verdict).toBe('fail')
  })

  it('gives a margin that is positive inside and negative outside', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.001, max: 2, noNaN: true }), fc.double({ min: 0.01, max: 1, noNaN: true }), (value, low) => {
        const outcome = compareLimit(value, low, low + 0.5)
        expect(outcome.verdict === 'pass').toBe(outcome.margin >= 0)
      }),
    )
  })
})

describe("the limit's digits", () => {
  it('counts what was written, a written zero included', () => {
    expect(digitsOfLimit(toSi(0.02, 'inH2O'), '0.020', 'inH2O').decimals).toBe(3)
    expect(digitsOfLimit(20, '20', '1/h').decimals).toBe(0)
    expect(digitsOfLimit(0.36, '0,36 m/s', 'm/s').decimals).toBe(2)
    expect(digitsOfLimit(toSi(7.5, 'ft'), '7\' 6"', 'ft').decimals).toBe(1)
  })

  it('counts them whatever way the number is written', () => {
    const decimals = (typed: string, value: number) => digitsOfLimit(value, typed, 'm/s').decimals
    // One half to two decimals in nine spellings.
    for (const typed of ['0.50', '.50', ',50', '0,50', '+0.50', '50e-2', '5.0e-1', '0.50 m/s', ' .50 '])
      expect(decimals(typed, 0.5), typed).toBe(2)
    expect(decimals('.020', 0.02)).toBe(3)
    expect(decimals('-.030', -0.03)).toBe(3)
    expect(decimals('−,030', -0.03)).toBe(3)
    expect(decimals('1,250', 1.25)).toBe(3)
    const flow = (typed: string, value: number) => digitsOfLimit(toSi(value, 'm3/h'), typed, 'm3/h').decimals
    expect(flow('1,250.0', 1250)).toBe(1)
    expect(flow('1.250,50', 1250.5)).toBe(2)
    for (const typed of ['1,250', '1.250', '1 250', "1'250", '1,250,000', '1.25e3']) {
      const value = typed === '1,250,000' ? 1_250_000 : 1250
      expect(flow(typed, value), typed).toBe(0)
    }
    expect(flow('1 250,0', 1250)).toBe(1)
    // 1.50 ft/s is 90 ft/min: the digits are those of another unit, and two are no harm.
    expect(digitsOfLimit(toSi(90, 'ft/min'), '1.50 ft/s', 'ft/min').decimals).toBe(2)
  })

  it('rounds halves away from zero, in the unit of the limit', () => {
    expect(roundToLimit(0.355, { unit: 'm/s', decimals: 2 })).toBeCloseTo(0.36, 12)
    expect(roundToLimit(0.3549, { unit: 'm/s', decimals: 2 })).toBeCloseTo(0.35, 12)
    expect(roundToLimit(-0.355, { unit: 'm/s', decimals: 2 })).toBeCloseTo(-0.36, 12)
    expect(roundToLimit(1.005, { unit: 'm/s', decimals: 2 })).toBeCloseTo(1.01, 12)
    // 70.4 ft/min rounds to 70 ft/min whatever its m/s
    expect(roundToLimit(toSi(70.4, 'ft/min'), { unit: 'ft/min', decimals: 0 })).toBeCloseTo(toSi(70, 'ft/min'), 12)
  })

  it('finds the decimals a number needs', () => {
    expect([20, 0.5, 12.25, 0, 0.1 + 0.2].map(decimalsOf)).toEqual([0, 1, 2, 0, 1])
  })
})
