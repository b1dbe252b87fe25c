import psychrolib from 'psychrolib'
import { describe, expect, it } from 'vitest'
import { checkBarometricPressure, standardPressurePa, stationPressure } from '#core/air/standard-atmosphere.ts'

psychrolib.SetUnitSystem(psychrolib.SI)

describe('standard atmosphere', () => {
  // ASHRAE Handbook Fundamentals 2017, chapter 1, table 1, as in the public tests of psychrolib: tolerance 1 Pa there
  it.each([
    [0, 101_325],
    [500, 95_461],
    [1000, 89_875],
  ])('at %s m is %s Pa', (altitude, pascal) => {
    expect(Math.abs((standardPressurePa(altitude) ?? 0) - pascal)).toBeLessThan(1)
  })

  it('agrees with psychrolib from -500 m to 6000 m within 2 Pa', () => {
    for (let altitude = -500; altitude <= 6000; altitude += 250)
      expect(Math.abs((standardPressurePa(altitude) ?? 0) - psychrolib.GetStandardAtmPressure(altitude))).toBeLessThan(2)
  })

  it('has none outside the troposphere', () => {
    expect(standardPressurePa(11_001)).toBeNull()
    expect(standardPressurePa(-5001)).toBeNull()
    expect(standardPressurePa(Number.NaN)).toBeNull()
  })
})

describe('a typed barometric pressure', () => {
  it('of a weather report at 1600 m is questioned, and seen to be a sea-level figure', () => {
    const check = checkBarometricPressure(101_500, 1600)
    expect(check).toMatchObject({ questioned: true, fitsSeaLevel: true })
    expect(check?.differencePercent).toBeCloseTo(21.5, 1)
  })

  it('within 3 % of the standard atmosphere is taken', () => {
    const standard = standardPressurePa(1600) ?? 0
    expect(checkBarometricPressure(standard * 1.0299, 1600)).toMatchObject({ questioned: false, fitsSeaLevel: false })
    expect(checkBarometricPressure(standard * 0.9701, 1600)?.questioned).toBe(false)
    expect(checkBarometricPressure(standard * 1.0301, 1600)?.questioned).toBe(true)
    expect(checkBarometricPressure(standard * 0.9699, 1600)?.questioned).toBe(true)
  })

  it('stands before the altitude, which stands in when there is none', () => {
    expect(stationPressure(83_000, 1600)).toEqual({ pressurePa: 83_000, from: 'measured' })
    expect(stationPressure(null, 0)).toEqual({ pressurePa: 101_325, from: 'altitude' })
    expect(stationPressure(null, null)).toBeNull()
  })
})
