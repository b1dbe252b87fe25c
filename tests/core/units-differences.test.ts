import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { checkBody } from '#core/model/rules.ts'
import { checkStoredBody } from '#core/model/stored-rules.ts'
import { Unit } from '#core/model/values.ts'
import { createFormatter } from '#core/units/format.ts'
import { parseEntered } from '#core/units/parse.ts'
import { fromSi, fromSiDifference, toSi, toSiDifference } from '#core/units/units.ts'
import { anInstrument, entered } from './face-run.ts'

const imperial = createFormatter({ velocity: 'ft/min', flow: 'cfm', length: 'ft', pressure: 'inH2O', temperature: 'degF' }, 'en', 'UTC')

/** Source: NIST Special Publication 811 (2008), appendix B.9: a temperature interval in degF times 5/9 is one in degC (from memory). */
describe('a difference of temperatures', () => {
  it('knows no zero of the scale', () => {
    expect(toSiDifference(1, 'degF')).toBeCloseTo(5 / 9, 15)
    expect(toSiDifference(1.8, 'degF')).toBeCloseTo(1, 15)
    expect(fromSiDifference(1, 'degF')).toBeCloseTo(1.8, 15)
    const read = parseEntered('0.1 degF', 'degC', { as: 'difference' })
    expect(read.ok && read.value.unit).toBe('degF')
    expect(read.ok && read.value.si).toBeCloseTo(0.5 / 9, 15)
    expect(parseEntered('32 degF', 'degC')).toMatchObject({ value: { si: 0 } })
  })

  it('is what two places on the scale are apart, in every unit', () => {
    const number = fc.double({ min: -1000, max: 1000, noNaN: true })
    fc.assert(
      fc.property(fc.constantFrom(...Unit.options), number, number, (unit, a, b) => {
        const apart = toSi(a, unit) - toSi(b, unit)
        expect(toSiDifference(a - b, unit)).toBeCloseTo(apart, 6)
        expect(fromSiDifference(toSiDifference(a, unit), unit)).toBeCloseTo(a, 9)
        if (unit !== 'degF') expect(toSiDifference(a, unit)).toBe(toSi(a, unit))
        expect(fromSi(toSi(a, unit), unit)).toBeCloseTo(a, 9)
      }),
    )
  })

  it('is shown as one', () => {
    expect(imperial.quantity(0.5, 'temperature', { difference: true })).toBe('0.9\u00a0°F')
    expect(imperial.quantity(20, 'temperature')).toBe('68.0\u00a0°F')
    // U of 0.5 degC about 20 degC is 0.90 degF about 68.00 degF.
    expect(imperial.plusMinus(20, 0.5, 'temperature')).toBe('68.00 ± 0.90\u00a0°F')
  })
})

describe('the step of a thermometer in degF', () => {
  const withStep = (si: number) =>
    anInstrument({
      senses: [
        {
          quantity: 'temperature',
          low: entered(32, 'degF'),
          high: entered(122, 'degF'),
          resolution: { si, typed: '0.1', unit: 'degF' },
          accuracy: { form: 'sum_of', percentOfReading: 0, absolute: { si: toSiDifference(1, 'degF'), typed: '1', unit: 'degF' } },
        },
      ],
    })

  it('is above zero', () => {
    expect(checkBody('instrument', withStep(toSiDifference(0.1, 'degF')))).toEqual([])
    expect(checkBody('instrument', withStep(0.1))).toMatchObject([{ field: 'senses.0.resolution', code: 'rule.typed_differs' }])
  })

  it('as an earlier program wrote it is refused when written, and let stand in an old file', () => {
    const old = withStep(toSi(0.1, 'degF'))
    expect(checkBody('instrument', old)).toMatchObject([{ field: 'senses.0.resolution', code: 'rule.difference_shifted' }])
    expect(checkStoredBody('instrument', old)).toEqual([])
  })
})
