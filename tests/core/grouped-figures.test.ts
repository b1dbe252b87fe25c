import fc from 'fast-check'
import { expect, test } from 'vitest'
import { checkEntered } from '#core/model/rule-problem.ts'
import { UNITS, type Unit } from '#core/model/values.ts'
import { enteredText } from '#core/units/format.ts'
import { parseEntered } from '#core/units/parse.ts'
import { plainNumberOf, readPlainNumber } from '#core/units/plain-number.ts'
import { toSi } from '#core/units/units.ts'

/**
 * The largest figure of the trade in each unit (common practice): air in a fan's outlet at 60 m/s; a factory that moves 3000 m3/s; a hall of
 * 300 m or 1000 ft with 10 m ceilings; a filter in inches up to 100 m of them; the atmosphere, and a gauge up to 150 kPa.
 */
const LARGEST_FIGURE: Readonly<Record<Unit, number>> = {
  'm/s': 60,
  'ft/min': 12_000,
  'm3/s': 3000,
  'm3/h': 999_999,
  'L/s': 999_999,
  cfm: 999_999,
  m: 300,
  mm: 300_000,
  ft: 1000,
  in: 3900,
  m2: 900,
  ft2: 9600,
  m3: 999_999,
  ft3: 999_999,
  Pa: 150_000,
  hPa: 1500,
  kPa: 150,
  inH2O: 600,
  inHg: 45,
  degC: 150,
  degF: 300,
  '%': 999,
  '1/h': 9999,
  s: 100_000,
  min: 1600,
}

test('a grouped number that is a figure of the trade is read whole or refused, in every unit', () => {
  for (const unit of UNITS) {
    if (LARGEST_FIGURE[unit] < 1000) continue
    fc.assert(
      fc.property(fc.integer({ min: 1000, max: LARGEST_FIGURE[unit] }), fc.constantFrom(',', '.', ' ', '\u202f', "'"), (figure, mark) => {
        const digits = String(figure)
        const typed = `${digits.slice(0, -3)}${mark}${digits.slice(-3)}`
        const parsed = parseEntered(typed, unit)
        if (parsed.ok) expect(Math.abs(parsed.value.si - toSi(figure, unit)), typed).toBeLessThanOrEqual(1e-12 * toSi(figure, unit))
        else expect(['units.ambiguous', 'units.feet_or_thousands', 'units.inches_too_many'], typed).toContain(parsed.problem.code)
      }),
      { numRuns: 300 },
    )
  }
})

test.each([
  ['700,000', 'cfm'],
  ['350,000', 'L/s'],
  ['150,000', 'Pa'],
  ['12,500', 'ft/min'],
  ['1,250', 'ft'],
  ['150,000', 'mm'],
  ['5,400', '1/h'],
] as const)('“%s” %s is not divided by a thousand', (typed, unit) => {
  expect(parseEntered(typed, unit)).toMatchObject({ ok: false, problem: { code: 'units.ambiguous' } })
})

test('a field that can mean more than the unit usually does takes neither reading', () => {
  // An altitude of 1600 m, or one of 5250 ft (1600.2 m), against a ceiling of 1.6 m.
  expect(parseEntered('1,600', 'm')).toMatchObject({ ok: true, value: { si: 1.6 } })
  const altitude = { largestSi: 1_000_000 }
  for (const [typed, unit] of [
    ['1,600', 'm'],
    ['1.600', 'm'],
    ['5,250', 'ft'],
    ['25,000', 'ft'],
  ] as const)
    expect(parseEntered(typed, unit, altitude)).toMatchObject({ ok: false, problem: { code: 'units.ambiguous' } })
  expect(parseEntered("1'600", 'm', altitude)).toMatchObject({ ok: true, value: { si: 1600, unit: 'm' } })
  expect(parseEntered('1 600', 'm', altitude)).toMatchObject({ ok: true, value: { si: 1600, unit: 'm' } })
  expect(parseEntered('1600', 'm', altitude)).toMatchObject({ ok: true, value: { si: 1600 } })
  // 5250 x 0.3048 = 1600.2 m.
  const feet = parseEntered('5250 ft', 'm', altitude)
  expect(feet.ok && feet.value.si).toBeCloseTo(1600.2, 9)
})

test('an apostrophe before three digits parts thousands or feet, and is never taken for one of them', () => {
  const refused = { ok: false, problem: { code: 'units.feet_or_thousands', params: { whole: '1005', feet: '1\' 5"' } } }
  for (const unit of ['mm', 'm', 'ft', 'in'] as const) expect(parseEntered("1'005", unit)).toMatchObject(refused)
  expect(parseEntered('1’005', 'mm')).toMatchObject(refused)
  // 234 are no inches. Where metres are typed the mark parts the thousands; where feet are, it is a slip.
  expect(parseEntered("1'234", 'mm')).toMatchObject({ ok: true, value: { si: 1.234, unit: 'mm' } })
  expect(parseEntered("1'234", 'ft')).toMatchObject({ ok: false, problem: { code: 'units.inches_too_many' } })
  // 1 ft 5 in = 17 x 0.0254 m = 0.4318 m.
  const feet = parseEntered('1\' 5"', 'mm')
  expect(feet.ok && feet.value.si).toBeCloseTo(0.4318, 12)
  expect(parseEntered('1005 mm', 'm')).toMatchObject({ ok: true, value: { si: 1.005 } })
})

test('raised, lowered and circled digits belong to units and not to numbers', () => {
  for (const typed of ['0.45²', '10³', '0.45 ²', '0.4⑤', '²0.45', '12₂', '0.45²m/s'])
    expect(parseEntered(typed, 'm/s'), typed).toMatchObject({ ok: false, problem: { code: 'units.raised_digit' } })
  expect(parseEntered('360 m³/h', 'm3/h')).toMatchObject({ ok: true, value: { si: 0.1 } })
  expect(parseEntered('0.05 inH₂O', 'Pa')).toMatchObject({ ok: true, value: { unit: 'inH2O' } })
  expect(parseEntered('0.36 m²', 'm2')).toMatchObject({ ok: true, value: { si: 0.36 } })
  expect(parseEntered('2.5 m s⁻¹', 'm/s')).toMatchObject({ ok: true, value: { si: 2.5 } })
  expect(parseEntered('23⅝"', 'mm')).toMatchObject({ ok: true, value: { unit: 'in' } })
})

test('two numbers in one field are not glued to one', () => {
  for (const [typed, unit] of [
    ['92 100', 'ft/min'],
    ['92\u00a0100', 'ft/min'],
    ['1 234', 'm/s'],
    ['101 325', 'hPa'],
  ] as const)
    expect(parseEntered(typed, unit), typed).toMatchObject({ ok: false, problem: { code: 'units.two_numbers' } })
  expect(parseEntered('12 345', 'm3/h')).toMatchObject({ ok: true, value: { si: 12_345 / 3600 } })
  expect(parseEntered('101 325', 'Pa')).toMatchObject({ ok: true, value: { si: 101_325 } })
})

test('what earlier programs took holds where it is stored, and reads as they read it', () => {
  // 1 ft 5 in is 0.4318 m; 0.452 and 92100 ft/min (467.868 m/s) are what the texts stood for then.
  const stored = [
    [{ si: 0.4318, typed: "1'005", unit: 'ft' }, 'length'],
    [{ si: 0.452, typed: '0.45²', unit: 'm/s' }, 'velocity'],
    [{ si: 467.868, typed: '92 100', unit: 'ft/min' }, 'velocity'],
    [{ si: 0.3304, typed: '700,000', unit: 'cfm' }, 'flow'],
    [{ si: 0.35, typed: '350,000', unit: 'L/s' }, 'flow'],
  ] as const
  for (const [entered, dimension] of stored) {
    const si = entered.typed === '700,000' ? toSi(700, 'cfm') : entered.si
    expect(checkEntered('x', { ...entered, si }, dimension), entered.typed).toEqual([])
    expect(checkEntered('x', { ...entered, si: si * 1.01 }, dimension), entered.typed).toMatchObject([{ code: 'rule.typed_differs' }])
  }
  expect(enteredText({ si: 0.4318, typed: "1'005", unit: 'ft' })).toBe("1'005")
  expect(enteredText({ si: 1.234, typed: "1'234", unit: 'mm' })).toBe("1'234\u00a0mm")
})

test('a number without a unit is read by what can stand there', () => {
  // The 95 % quantile of the normal distribution, one-sided 1.645 and two-sided 1.960 (JCGM 106:2012, table 1, from memory).
  expect(plainNumberOf('1.645', { least: 0, most: 2 })).toBe(1.645)
  expect(plainNumberOf('1,645', { least: 0, most: 2 })).toBe(1.645)
  expect(plainNumberOf('1.960', { least: 1, most: 5 })).toBe(1.96)
  expect(plainNumberOf('1,960', { least: 1, most: 5 })).toBe(1.96)
  expect(readPlainNumber('1,500', { least: 0, most: 20_000 })).toEqual({ kind: 'two', asWhole: 1500, asFraction: 1.5 })
  expect(plainNumberOf('1,500', { least: 100, most: 20_000 })).toBe(1500)
  expect(plainNumberOf('−1,5', { least: -2, most: 2 })).toBe(-1.5)
  for (const typed of ['', ' ', 'two', '1.6.4', '0x1', '1e3', '2²', '1/2', '3', '2.001'])
    expect(plainNumberOf(typed, { least: 0, most: 2 }), typed).toBeNaN()
})
