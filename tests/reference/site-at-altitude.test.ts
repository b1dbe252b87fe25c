import { describe, expect, it } from 'vitest'
import { moistAirDensity } from '#core/air/moist-air-density.ts'
import { standardPressurePa } from '#core/air/standard-atmosphere.ts'
import { velocityFromPressureMps } from '#core/air/velocity-pressure.ts'
import { instrumentConversion } from '#core/methods/airflow/instrument-conversion.ts'
import type { EntityBody } from '#core/model/entities.ts'
import { airChangesPerHour } from '#core/rooms/air-changes.ts'
import { anInstrument, entered } from '../core/face-run.ts'

/*
 * A site at 1600 m, worked by hand with the ideal gas, 20 degC and 50 %:
 *   p   = 101 325 x (1 - 2.25577e-5 x 1600)^5.25588 = 101 325 x 0.824312 = 83 523 Pa        (ASHRAE formula, from memory)
 *   dry = 83 523 / (287.042 x 293.15)               = 0.99260 kg/m3
 *   e   = 0.5 x 2339.2 = 1169.6 Pa; rho = dry x (1 - 0.378 x 1169.6 / 83 523) = 0.99260 x 0.994707 = 0.98735 kg/m3
 * A thermal anemometer with the standard condition 21.1 °C, 101 325 Pa (1.1997 kg/m3) that shows 0.45 m/s:
 *   v   = 0.45 x 1.1997 / 0.98735 = 0.5468 m/s
 * Eight filters of 0.605 m2 in a room of 150 m3: 8 x 0.605 x 0.5468 = 2.6465 m3/s -> 63.52 per hour (52.27 if nobody converted).
 * A pitot tube at 100 Pa: sqrt(200 / 0.98735) = 14.232 m/s; its display of standard air, sqrt(200 / 1.1997) = 12.912, x sqrt(1.1997 / 0.98735).
 * Tolerance 6e-4: compressibility and enhancement, which the hand calculation leaves out, are 4e-4 of the density.
 */
const CLOSE = 6e-4

function expectClose(found: number | null | undefined, byHand: number) {
  expect(Math.abs((found ?? Number.NaN) / byHand - 1)).toBeLessThan(CLOSE)
}

describe('a site at 1600 m', () => {
  const pressurePa = standardPressurePa(1600) ?? Number.NaN
  const actualKgpm3 = moistAirDensity({ temperatureC: 20, pressurePa, relativeHumidityPercent: 50 })?.densityKgpm3 ?? Number.NaN
  const air = {
    actualKgpm3,
    atInstrumentKgpm3: actualKgpm3,
    state: null,
    atInstrumentState: null,
    pressureFrom: 'altitude',
    atInstrumentPressureFrom: 'altitude',
    remarks: [],
  } as const
  const standardCondition = { temperature: entered(21.1, 'degC'), pressure: entered(101_325, 'Pa') }
  const conversionOf = (changes: Partial<EntityBody<'instrument'>>) =>
    instrumentConversion(anInstrument({ standardCondition, ...changes }), air)
  const thermal = conversionOf({ basis: 'standard' })

  it('has the pressure and the density worked by hand', () => {
    expectClose(pressurePa, 83_523)
    expectClose(actualKgpm3, 0.98735)
  })

  it('turns a thermal 0.45 m/s into 0.547 m/s, linearly in the density', () => {
    expectClose(0.45 * thermal.actual.factor, 0.5468)
    expectClose(thermal.standardKgpm3, 1.1997)
    expect(thermal.actual).toMatchObject({ missing: null, actualDensityExponent: -1 })
    expect(thermal.standard.factor).toBe(1)
  })

  it('has 63.5 air changes where the display alone would give 52.3', () => {
    expectClose(airChangesPerHour(8 * 0.605 * 0.45 * thermal.actual.factor, 150), 63.52)
    expectClose(airChangesPerHour(8 * 0.605 * 0.45, 150), 52.27)
  })

  it('gives one velocity for a pressure, whether the display did the root for standard air or we do it here', () => {
    expectClose(velocityFromPressureMps(100, actualKgpm3), 14.232)
    const { actual } = conversionOf({ basis: 'standard', worksByPressure: true })
    expectClose(12.912 * actual.factor, 14.232)
    expect(actual.actualDensityExponent).toBe(-0.5)
  })

  it('leaves a rotating vane as read, and takes its standard flow down', () => {
    const vane = conversionOf({ basis: 'actual' })
    expect(vane.actual.factor).toBe(1)
    expectClose(0.5468 * vane.standard.factor, 0.45)
  })
})
