import fc from 'fast-check'
import { expect, test } from 'vitest'
import { UNITS, type Unit } from '#core/model/values.ts'
import { enteredText } from '#core/units/format.ts'
import { parseEntered } from '#core/units/parse.ts'
import { SPELLINGS } from '#core/units/spellings.ts'
import { dimensionOf, fromSi, SI_UNIT, toSi } from '#core/units/units.ts'

// Expected SI values by hand from 1 ft = 0.3048 m, 1 in = 0.0254 m, 1 cfm = 0.028316846592 / 60 m3/s, 1 inH2O = 249.08891 Pa.
const understood: readonly [typed: string, fallback: Unit, si: number, unit: Unit][] = [
  ['0.45', 'm/s', 0.45, 'm/s'],
  ['0,45', 'm/s', 0.45, 'm/s'],
  ['.45', 'm/s', 0.45, 'm/s'],
  ['0.450', 'm3/h', 0.45 / 3600, 'm3/h'],
  ['0,450', 'm3/h', 0.45 / 3600, 'm3/h'],
  ['92', 'ft/min', 92 * 0.00508, 'ft/min'],
  ['92 fpm', 'm/s', 92 * 0.00508, 'ft/min'],
  ['92ft/min', 'm/s', 92 * 0.00508, 'ft/min'],
  ['92 FPM', 'm/s', 92 * 0.00508, 'ft/min'],
  ['0.46 m / s', 'ft/min', 0.46, 'm/s'],
  ['360 m³/h', 'm3/s', 0.1, 'm3/h'],
  ['360 m3/h', 'm3/s', 0.1, 'm3/h'],
  ['360 m^3/hr', 'm3/s', 0.1, 'm3/h'],
  ['100 l/s', 'm3/h', 0.1, 'L/s'],
  ['1000 CFM', 'm3/h', 0.4719474432, 'cfm'],
  ['1.234,5 m³/h', 'cfm', 1234.5 / 3600, 'm3/h'],
  ['1,234.5 m³/h', 'cfm', 1234.5 / 3600, 'm3/h'],
  ['1 234', 'm3/h', 1234 / 3600, 'm3/h'],
  ['1\u202f234', 'm3/h', 1234 / 3600, 'm3/h'],
  ['1\u00a0234,5', 'm3/h', 1234.5 / 3600, 'm3/h'],
  ["1'234", 'm3/h', 1234 / 3600, 'm3/h'],
  ['1,234,567', 'm3/h', 1234567 / 3600, 'm3/h'],
  ['1.2340', 'm3/h', 1.234 / 3600, 'm3/h'],
  ['1234.567', 'm3/h', 1234.567 / 3600, 'm3/h'],
  ['−12.5', 'Pa', -12.5, 'Pa'],
  ['–12,5 Pa', 'Pa', -12.5, 'Pa'],
  ['- 12.5', 'Pa', -12.5, 'Pa'],
  ['+12.5', 'Pa', 12.5, 'Pa'],
  ['0.05 in. w.g.', 'Pa', 12.4544455, 'inH2O'],
  ['0.05 inH2O', 'Pa', 12.4544455, 'inH2O'],
  ['0.05 inH₂O', 'Pa', 12.4544455, 'inH2O'],
  ['0.05 "w.c.', 'Pa', 12.4544455, 'inH2O'],
  ['101.3 kPa', 'Pa', 101300, 'kPa'],
  ['1013 hPa', 'Pa', 101300, 'hPa'],
  ['1013 mbar', 'Pa', 101300, 'hPa'],
  ['29.92 inHg', 'Pa', 101320.75888, 'inHg'],
  ['21.5 °C', 'degF', 21.5, 'degC'],
  ['68 °F', 'degC', 20, 'degF'],
  ['20°', 'degC', 20, 'degC'],
  ['45 %RH', '%', 45, '%'],
  ['30/h', '1/h', 30, '1/h'],
  ['30 1/h', '1/h', 30, '1/h'],
  ['21/h', '1/h', 21, '1/h'],
  ['20.1 /h', '1/h', 20.1, '1/h'],
  ['201 1/hr', '1/h', 201, '1/h'],
  ['1 /h', '1/h', 1, '1/h'],
  ['30 ACH', '1/h', 30, '1/h'],
  ['7\' 6"', 'm', 2.286, 'ft'],
  ["7'6", 'm', 2.286, 'ft'],
  ['7′ 6″', 'm', 2.286, 'ft'],
  ['7 ft 6 in', 'm', 2.286, 'ft'],
  ['7 ft. 6 in.', 'm', 2.286, 'ft'],
  ['7\' 6 1/2"', 'm', 2.2987, 'ft'],
  ['7.5 ft', 'm', 2.286, 'ft'],
  ['7ft6in', 'm', 2.286, 'ft'],
  ['7 ft 6', 'm', 2.286, 'ft'],
  ["7'", 'm', 2.1336, 'ft'],
  ['12 ft2', 'm2', 12 * 0.09290304, 'ft2'],
  ['12 ft 2', 'm2', 12 * 0.09290304, 'ft2'],
  ['12 ft³', 'm3', 12 * 0.028316846592, 'ft3'],
  ['23 5/8 in', 'mm', 0.600075, 'in'],
  ['23⅝"', 'mm', 0.600075, 'in'],
  ['61 cm', 'm', 0.61, 'm'],
  ['610 mm', 'm', 0.61, 'mm'],
  ['10 s', 's', 10, 's'],
  ['2 min', 's', 120, 'min'],
  ['4.5E-01', 'm/s', 0.45, 'm/s'],
  ['1.234e+2', 'm3/h', 123.4 / 3600, 'm3/h'],
  ['０.４５', 'm/s', 0.45, 'm/s'],
]

test.each(understood)('“%s” typed for %s', (typed, fallback, si, unit) => {
  const parsed = parseEntered(typed, fallback)
  expect(parsed).toMatchObject({ ok: true, value: { typed, unit } })
  if (parsed.ok) expect(Math.abs(parsed.value.si - si)).toBeLessThanOrEqual(1e-14 * Math.max(1, Math.abs(si)))
})

const refused: readonly [typed: string, fallback: Unit, code: string][] = [
  ['', 'm/s', 'units.empty'],
  ['   ', 'm/s', 'units.empty'],
  ['abc', 'm/s', 'units.not_a_number'],
  ['5.', 'm/s', 'units.not_a_number'],
  ['0.4.5', 'm/s', 'units.not_a_number'],
  ['0,4,5', 'm/s', 'units.not_a_number'],
  ['1,23.4', 'm/s', 'units.not_a_number'],
  ['0 45', 'm/s', 'units.not_a_number'],
  ['--3', 'Pa', 'units.not_a_number'],
  ['1/2', 'm/s', 'units.not_a_number'],
  ['7-6', 'm', 'units.unknown_unit'],
  ['Infinity', 'm/s', 'units.not_a_number'],
  ['1,234', 'm3/h', 'units.ambiguous'],
  ['1.234', 'm3/h', 'units.ambiguous'],
  ['12,500 cfm', 'm3/h', 'units.ambiguous'],
  ['-1.250', 'Pa', 'units.ambiguous'],
  ['1,200', 'mm', 'units.ambiguous'],
  ['5 Pa', 'm/s', 'units.other_dimension'],
  ['20 m', 'm/s', 'units.other_dimension'],
  ['7\' 6"', 'm/s', 'units.other_dimension'],
  ['5 furlongs', 'm/s', 'units.unknown_unit'],
  ['7\' 14"', 'm', 'units.inches_too_many'],
  ['7.5\' 6"', 'm', 'units.inches_too_many'],
  ['0.4500000000000000000000000000000000000000', 'm/s', 'units.too_long'],
]

test.each(refused)('“%s” typed for %s is refused as %s', (typed, fallback, code) => {
  expect(parseEntered(typed, fallback)).toMatchObject({ ok: false, problem: { code } })
})

test('three digits behind one sign are a fraction where the whole number cannot be', () => {
  // 1234 m/s, a ceiling of 2750 m, a size of 9125 in (232 m), a face of 1116 m2, 1250 inH2O (311 kPa), 20500 degC: none of them exists in this trade.
  expect(parseEntered('1.234', 'm/s')).toMatchObject({ ok: true, value: { si: 1.234 } })
  expect(parseEntered('2,750', 'm')).toMatchObject({ ok: true, value: { si: 2.75 } })
  expect(parseEntered('9.125', 'in')).toMatchObject({ ok: true, value: { si: 0.231775 } })
  expect(parseEntered('1.116', 'm2')).toMatchObject({ ok: true, value: { si: 1.116 } })
  expect(parseEntered('1.250', 'inH2O')).toMatchObject({ ok: true, value: { unit: 'inH2O' } })
  expect(parseEntered('20.500', 'degC')).toMatchObject({ ok: true, value: { si: 20.5 } })
})

test('both ways out that the sentence offers are understood', () => {
  const parsed = parseEntered('1,234', 'm3/h')
  expect(parsed.ok).toBe(false)
  if (parsed.ok || parsed.problem.code !== 'units.ambiguous') return
  expect(parsed.problem.params).toEqual({ typed: '1,234', whole: '1234', fraction: '1,2340' })
  expect(parseEntered('1234', 'm3/h')).toMatchObject({ ok: true, value: { si: 1234 / 3600 } })
  expect(parseEntered('1,2340', 'm3/h')).toMatchObject({ ok: true, value: { si: 1.234 / 3600 } })
})

test('no digit of a number is ever taken for a part of its unit, in any spelling', () => {
  const number = fc.integer({ min: 1, max: 999 }).map((tenths) => String(tenths / 10))
  fc.assert(
    fc.property(fc.constantFrom(...UNITS), number, fc.constantFrom('', ' ', '\u00a0'), (unit, digits, gap) => {
      for (const spelling of SPELLINGS[unit]) {
        // "21/h" is 21 per hour: before a unit that begins with a digit there is a gap.
        const typed = `${digits}${/^\d/.test(spelling) ? ' ' : gap}${spelling}`
        const parsed = parseEntered(typed, unit)
        expect(parsed.ok ? parsed.value.si : parsed.problem.code, typed).toBeCloseTo(toSi(Number(digits), unit), 9)
      }
    }),
    { numRuns: 3000 },
  )
})

test('an entry reads with its unit once', () => {
  expect(enteredText({ si: 0.46736, typed: '92', unit: 'ft/min' })).toBe('92\u00a0ft/min')
  expect(enteredText({ si: 0.46736, typed: '92 fpm', unit: 'ft/min' })).toBe('92 fpm')
  expect(enteredText({ si: 2.286, typed: '7\' 6"', unit: 'ft' })).toBe('7\' 6"')
  expect(enteredText({ si: 0.6, typed: '4.5E-01', unit: 'm/s' })).toBe('4.5E-01\u00a0m/s')
})

const anyUnit = fc.constantFrom(...UNITS)
const anyValue = fc.double({ min: -1e6, max: 1e6, noNaN: true, noDefaultInfinity: true })

test('to SI and back is the same value', () => {
  fc.assert(
    fc.property(anyUnit, anyValue, (unit, value) => {
      // degF loses digits near its zero point, 32 away from that of degC.
      const tolerance = 1e-14 * Math.max(unit === 'degF' ? 100 : 1e-290, Math.abs(value))
      expect(Math.abs(fromSi(toSi(value, unit), unit) - value)).toBeLessThanOrEqual(tolerance)
    }),
  )
})

test('the SI unit of each dimension is itself', () => {
  fc.assert(
    fc.property(anyUnit, anyValue, (unit, value) => {
      const siUnit = SI_UNIT[dimensionOf(unit)]
      expect(dimensionOf(siUnit)).toBe(dimensionOf(unit))
      expect(toSi(value, siUnit)).toBe(value)
    }),
  )
})

test('point and comma mean the same, and no text throws', () => {
  fc.assert(
    fc.property(fc.nat(999), fc.stringMatching(/^\d{1,2}$/), anyUnit, (whole, fraction, unit) => {
      const withPoint = parseEntered(`${whole}.${fraction}`, unit)
      const withComma = parseEntered(`${whole},${fraction}`, unit)
      expect(withPoint.ok && withComma.ok && withPoint.value.si === withComma.value.si).toBe(true)
    }),
  )
  fc.assert(
    fc.property(fc.string({ unit: 'binary', maxLength: 45 }), anyUnit, (text, unit) => {
      const parsed = parseEntered(text, unit)
      if (parsed.ok) {
        expect(Number.isFinite(parsed.value.si)).toBe(true)
        expect(parsed.value.typed).toBe(text)
        expect(dimensionOf(parsed.value.unit)).toBe(dimensionOf(unit))
      }
    }),
    { numRuns: 2000 },
  )
})

test('a number whose two readings both exist is never taken for one of them', () => {
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 99 }), fc.integer({ min: 0, max: 999 }), fc.constantFrom('.', ','), (front, behind, sign) => {
      const typed = `${front}${sign}${String(behind).padStart(3, '0')}`
      expect(parseEntered(typed, 'm3/h')).toMatchObject({ ok: false, problem: { code: 'units.ambiguous' } })
    }),
  )
})
