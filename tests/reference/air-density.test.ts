import psychrolib from 'psychrolib'
import { describe, expect, it } from 'vitest'
import { airConstitution, dryAirDensityKgpm3, moistAirDensity, saturationVapourPressurePa } from '#core/air/moist-air-density.ts'

psychrolib.SetUnitSystem(psychrolib.SI)

function densityOf(temperatureC: number, pressurePa: number, relativeHumidityPercent: number): number {
  return moistAirDensity({ temperatureC, pressurePa, relativeHumidityPercent })?.densityKgpm3 ?? Number.NaN
}

describe('density of moist air by CIPM-2007', () => {
  // Points recomputed independently of this code from the equations of Picard et al., Metrologia 45 (2008) 149-155, as transcribed in public
  // text; no worked value of the authors was found, so these check our transcription and arithmetic, not the formula itself.
  it.each([
    [20, 101_325, 50, 2339.163, 0.0115893, 0.9996148, 1.199314],
    [20, 101_325, 0, 2339.163, 0, 0.9996431, 1.204557],
    [21.1, 101_325, 0, 2503.395, 0, 0.9996539, 1.200041],
    [22, 95_000, 45, 2645.18, 0.0125783, 0.9996546, 1.116366],
    [25, 101_325, 50, 3169.757, 0.0157065, 0.9996508, 1.177316],
  ])('%s degC, %s Pa, %s %% recomputed', (t, p, rh, psv, xv, z, rho) => {
    const parts = airConstitution(t, p, rh)
    expect(parts.saturationPressurePa).toBeCloseTo(psv, 3)
    expect(parts.vapourMoleFraction).toBeCloseTo(xv, 7)
    expect(parts.compressibilityFactor).toBeCloseTo(z, 7)
    expect(densityOf(t, p, rh)).toBeCloseTo(rho, 5)
  })

  it('agrees with the one-line form of the same paper within its printed digits', () => {
    // rho = 1e-3 x 3.483740 p / (Z T) (1 - 0.3780 xv) at 400 umol/mol CO2, the paper's own shortened equation (seen in public text);
    // 0.3780 is 0.378046 to four digits: 4.6e-5 of a vapour part of up to 0.06 is 3e-6
    for (const t of [15, 18, 21, 24, 27])
      for (const p of [60_000, 85_000, 110_000])
        for (const rh of [0, 35, 70, 100]) {
          const { vapourMoleFraction: x, compressibilityFactor: z } = airConstitution(t, p, rh)
          const short = ((1e-3 * 3.48374 * p) / (z * (t + 273.15))) * (1 - 0.378 * x)
          expect(Math.abs(densityOf(t, p, rh) / short - 1)).toBeLessThan(4e-6)
        }
  })

  it('agrees with real-gas values printed in the documentation of an independent library within 1e-4', () => {
    // 20 degC, 101 325 Pa: dry 1.2044777, 70 % 1.1971436 (public documentation of a general psychrometrics library without the CO2 term)
    expect(Math.abs(densityOf(20, 101_325, 0) / 1.2044777 - 1)).toBeLessThan(1e-4)
    expect(Math.abs(densityOf(20, 101_325, 70) / 1.1971436 - 1)).toBeLessThan(1e-4)
  })

  it('agrees with psychrolib over a grid of states within what an ideal gas leaves out', () => {
    // psychrolib (ASHRAE Handbook Fundamentals 2017 formulas) treats air as an ideal gas: it leaves out the compressibility factor, 1 - Z up to
    // 6e-4 on this grid, and the enhancement factor, 0.4 % of the vapour's part. 7e-4 covers both, and would not hide a wrong term.
    let states = 0
    for (let t = 10; t <= 35; t += 2.5)
      for (const p of [70_000, 83_500, 95_000, 101_325, 105_000])
        for (let rh = 0; rh <= 100; rh += 10) {
          const independent = psychrolib.GetMoistAirDensity(t, psychrolib.GetHumRatioFromRelHum(t, rh / 100, p), p)
          expect(Math.abs(densityOf(t, p, rh) / independent - 1)).toBeLessThan(7e-4)
          states += 1
        }
    expect(states).toBe(605)
  })

  it('agrees with psychrolib within 2e-4 once the compressibility is given back to it', () => {
    for (let t = 15; t <= 27; t += 3)
      for (const p of [70_000, 85_000, 101_325])
        for (const rh of [0, 20, 50, 80]) {
          const independent = psychrolib.GetMoistAirDensity(t, psychrolib.GetHumRatioFromRelHum(t, rh / 100, p), p)
          const { compressibilityFactor } = airConstitution(t, p, rh)
          expect(Math.abs((densityOf(t, p, rh) * compressibilityFactor) / independent - 1)).toBeLessThan(2e-4)
        }
  })
})

describe('ASHRAE example values', () => {
  // ASHRAE Handbook Fundamentals 2017, chapter 1, table 3, as in the public tests of psychrolib
  it.each([
    [5, 872.6],
    [25, 3169.7],
    [50, 12_351.3],
  ])('saturation pressure at %s degC is %s Pa', (t, pascal) => {
    // the CIPM equation is meant for 15 to 27 degC: inside 1e-4, outside within 1e-3
    expect(Math.abs(saturationVapourPressurePa(t) / pascal - 1)).toBeLessThan(t === 25 ? 1e-4 : 1e-3)
  })

  it('30 degC, humidity ratio 0.02, 95 461 Pa is 1.0841 kg/m3', () => {
    // rho 1.084119863 (spreadsheet values printed in the public tests of psychrolib, relative 3e-4); ours adds compressibility
    const rh = psychrolib.GetRelHumFromHumRatio(30, 0.02, 95_461) * 100
    expect(Math.abs(densityOf(30, 95_461, rh) / 1.084119863 - 1)).toBeLessThan(6e-4)
  })

  it('Handbook example 1: 40 degC dry bulb, 20 degC wet bulb has 0.896 m3 per kg of dry air', () => {
    const w = psychrolib.GetHumRatioFromTWetBulb(40, 20, 101_325)
    // the handbook reads its chart: humidity ratio 0.0065, to one in the last digit
    expect(Math.abs(w - 0.0065)).toBeLessThan(1e-4)
    const rh = psychrolib.GetRelHumFromHumRatio(40, w, 101_325) * 100
    expect(Math.abs((1 + w) / densityOf(40, 101_325, rh) / 0.896 - 1)).toBeLessThan(0.01)
  })

  it('dry air at 25 degC has 0.8443 m3/kg', () => {
    expect(Math.abs(1 / (dryAirDensityKgpm3(25, 101_325) ?? 0) / 0.8443 - 1)).toBeLessThan(1e-3)
  })

  it('standard densities of dry air at 101 325 Pa, ideal gas with 287.042 J/(kg K)', () => {
    // 21.1, 20 and 25 degC: 1.1997, 1.2042, 1.1840 (recomputed by hand); compressibility makes ours some 4e-4 denser
    for (const [t, rho] of [
      [21.1, 1.1997],
      [20, 1.2042],
      [25, 1.184],
    ] as const)
      expect(Math.abs((dryAirDensityKgpm3(t, 101_325) ?? 0) / rho - 1)).toBeLessThan(5e-4)
  })
})

describe('what is said beside a density', () => {
  it('takes 50 % for humidity that was not measured, and flags it', () => {
    const assumed = moistAirDensity({ temperatureC: 20, pressurePa: 101_325, relativeHumidityPercent: null })
    expect(assumed?.densityKgpm3).toBe(densityOf(20, 101_325, 50))
    expect(assumed?.flags).toEqual(['humidity_assumed'])
  })

  it.each([
    [15, 60_000, false],
    [27, 110_000, false],
    [14.9, 101_325, true],
    [27.1, 101_325, true],
    [20, 59_999, true],
    [20, 110_001, true],
  ])('%s degC at %s Pa: outside the stated range is %s, and is computed all the same', (t, p, outside) => {
    const found = moistAirDensity({ temperatureC: t, pressurePa: p, relativeHumidityPercent: 40 })
    expect(found?.flags.includes('outside_stated_range')).toBe(outside)
    expect(found?.densityKgpm3).toBeGreaterThan(0.6)
  })

  it.each([
    [Number.NaN, 101_325, 50],
    [20, 0, 50],
    [20, -5, 50],
    [-300, 101_325, 50],
    [20, 101_325, 101],
    [20, 101_325, -1],
    [80, 20_000, 100],
  ])('has none for %s degC, %s Pa, %s %%', (temperatureC, pressurePa, relativeHumidityPercent) => {
    expect(moistAirDensity({ temperatureC, pressurePa, relativeHumidityPercent })).toBeNull()
  })
})
