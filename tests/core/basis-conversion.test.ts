import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { basisConversion, type Indication } from '#core/air/basis-conversion.ts'
import { isWeakForPitot, velocityFromPressureMps, velocityPressurePa } from '#core/air/velocity-pressure.ts'

const density = fc.double({ min: 0.6, max: 1.4, noNaN: true })
const indication = fc.constantFrom<Indication>('standard', 'standard_pressure', 'actual')

describe('conversion between bases', () => {
  it('keeps the mass: actual flow x actual density is standard flow x standard density, whatever the instrument', () => {
    fc.assert(
      fc.property(indication, density, density, fc.double({ min: -3, max: 3, noNaN: true }), (shows, standardKgpm3, actualKgpm3, shown) => {
        const densities = { standardKgpm3, actualKgpm3 }
        const actual = shown * (basisConversion(shows, 'actual', densities).factor ?? Number.NaN)
        const standard = shown * (basisConversion(shows, 'standard', densities).factor ?? Number.NaN)
        expect(actual * actualKgpm3).toBeCloseTo(standard * standardKgpm3, 9)
      }),
    )
  })

  it('comes back from standard to actual and back', () => {
    fc.assert(
      fc.property(density, density, (standardKgpm3, actualKgpm3) => {
        const densities = { standardKgpm3, actualKgpm3 }
        const there = basisConversion('standard', 'actual', densities).factor ?? Number.NaN
        const back = basisConversion('actual', 'standard', densities).factor ?? Number.NaN
        expect(there * back).toBeCloseTo(1, 12)
      }),
    )
  })

  it('is linear for a thermal instrument and a square root for a pressure display: at four times thinner air 4 and 2', () => {
    // first principles: r = 1/4
    const densities = { standardKgpm3: 1.2, actualKgpm3: 0.3 }
    expect(basisConversion('standard', 'actual', densities).factor).toBeCloseTo(4, 12)
    expect(basisConversion('standard_pressure', 'actual', densities).factor).toBeCloseTo(2, 12)
    expect(basisConversion('standard_pressure', 'standard', densities).factor).toBeCloseTo(0.5, 12)
    expect(basisConversion('actual', 'actual', densities)).toMatchObject({ rule: 'none', factor: 1 })
  })

  it('has no actual without conditions, and says which density is missing', () => {
    const none = basisConversion('standard', 'actual', { standardKgpm3: 1.2, actualKgpm3: null })
    expect(none).toMatchObject({ factor: null, missing: 'conditions' })
    expect(basisConversion('standard', 'actual', { standardKgpm3: null, actualKgpm3: 1 }).missing).toBe('standard_condition')
    expect(basisConversion('standard', 'actual', { standardKgpm3: 0, actualKgpm3: 1.2 })).toMatchObject({
      factor: null,
      missing: 'standard_condition',
    })
  })

  it('needs no density where nothing is converted', () => {
    const unknown = { standardKgpm3: null, actualKgpm3: null }
    expect(basisConversion('standard', 'standard', unknown).factor).toBe(1)
    expect(basisConversion('actual', 'actual', unknown).factor).toBe(1)
    expect(basisConversion('standard_pressure', 'as_indicated', unknown).factor).toBe(1)
  })

  it('states the exponent of the actual density that the factor really has', () => {
    fc.assert(
      fc.property(
        indication,
        fc.constantFrom('standard' as const, 'actual' as const),
        density,
        density,
        (shows, to, standardKgpm3, actual) => {
          const at = (actualKgpm3: number) => basisConversion(shows, to, { standardKgpm3, actualKgpm3 })
          const ratio = (at(actual * 1.01).factor ?? Number.NaN) / (at(actual).factor ?? Number.NaN)
          expect(ratio).toBeCloseTo(1.01 ** at(actual).actualDensityExponent, 12)
        },
      ),
    )
  })
})

describe('velocity pressure', () => {
  it('gives 12.888 m/s at 100 Pa and 1.204 kg/m3, 4005 ft/min at 1 inH2O and 0.075 lb/ft3', () => {
    // 1.2888 sqrt(Pa) recomputed. 4005 sqrt(inH2O) at standard air is common practice (secondary public text), and belongs to an inch of water
    // at 20 degC, 998.2 kg/m3 x 9.80665 x 0.0254 m = 248.64 Pa; the conventional inch, 249.08891 Pa, gives 4008.6
    expect(velocityFromPressureMps(100, 1.204)).toBeCloseTo(12.888, 3)
    const feetPerMinute = (pascal: number) => (velocityFromPressureMps(pascal, 0.075 * 16.018463) ?? 0) / 0.00508
    expect(feetPerMinute(998.2 * 9.80665 * 0.0254)).toBeCloseTo(4005, 0)
    expect(feetPerMinute(249.08891)).toBeCloseTo(4008.6, 1)
  })

  it('keeps the sign both ways, and the coefficient of the probe', () => {
    fc.assert(
      fc.property(fc.double({ min: -30, max: 30, noNaN: true }), density, fc.double({ min: 0.7, max: 1.1, noNaN: true }), (v, rho, k) => {
        expect(velocityFromPressureMps(velocityPressurePa(v, rho, k) ?? Number.NaN, rho, k)).toBeCloseTo(v, 6)
      }),
    )
    expect(velocityFromPressureMps(-60, 1.2)).toBeCloseTo(-10, 12)
    expect(velocityFromPressureMps(60, 0)).toBeNull()
    expect(velocityFromPressureMps(60, 1.2, 0)).toBeNull()
  })

  it('is weak under 5 Pa or 3 m/s, either way the air goes', () => {
    expect(isWeakForPitot(4.9, 2.86)).toBe(true)
    expect(isWeakForPitot(5, 2.9)).toBe(true)
    expect(isWeakForPitot(-60, -10)).toBe(false)
    expect(isWeakForPitot(6, null)).toBe(false)
  })
})
