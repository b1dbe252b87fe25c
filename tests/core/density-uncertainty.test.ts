import { describe, expect, it } from 'vitest'
import { densityUncertainty } from '#core/uncertainty/density.ts'

describe('uncertainty of the density', () => {
  it('is 1/T for temperature and 1/p for pressure, near enough for dry air', () => {
    // first principles of the ideal gas: 0.5 K of 293.15 K is 0.1706 %, 200 Pa of 100 kPa is 0.2 %
    const found = densityUncertainty(
      { temperatureC: 20, pressurePa: 100_000, relativeHumidityPercent: 0 },
      { temperatureK: 0.5, pressurePa: 200, relativeHumidityPercent: 0 },
    )
    expect(found?.temperature).toBeCloseTo(0.5 / 293.15, 5)
    expect(found?.pressure).toBeCloseTo(0.002, 5)
    expect(found?.humidity).toBe(0)
  })

  it('holds the whole range of a humidity that nobody measured: 0.25 % at 20 degC', () => {
    // by hand: 0.378 x 2339 Pa x 0.5 / sqrt(3) / 101 325 Pa = 0.00252
    const state = { temperatureC: 20, pressurePa: 101_325, relativeHumidityPercent: null }
    const found = densityUncertainty(state, { temperatureK: 0, pressurePa: 0, relativeHumidityPercent: 1 })
    expect(found?.humidity).toBeCloseTo(0.00252, 4)
    expect(found?.relative).toBeGreaterThan(found?.humidity ?? Number.NaN)
  })

  it('works at both ends of humidity, and has none for no air', () => {
    const given = { temperatureK: 0.3, pressurePa: 100, relativeHumidityPercent: 2 }
    for (const relativeHumidityPercent of [0, 100])
      expect(densityUncertainty({ temperatureC: 22, pressurePa: 101_325, relativeHumidityPercent }, given)?.relative).toBeGreaterThan(0.001)
    expect(densityUncertainty({ temperatureC: 22, pressurePa: -1, relativeHumidityPercent: 50 }, given)).toBeNull()
  })
})
