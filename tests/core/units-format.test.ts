import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { UNITS, type Unit } from '#core/model/values.ts'
import { createFormatter } from '#core/units/format.ts'
import type { DisplayUnits } from '#core/units/formatter.ts'
import { parseEntered } from '#core/units/parse.ts'
import { dimensionOf, toSi } from '#core/units/units.ts'

const METRIC: DisplayUnits = { velocity: 'm/s', flow: 'm3/h', length: 'm', pressure: 'Pa', temperature: 'degC' }
const INCH_POUND: DisplayUnits = { velocity: 'ft/min', flow: 'cfm', length: 'ft', pressure: 'inH2O', temperature: 'degF' }
const metric = createFormatter(METRIC, 'en', 'Europe/Vienna')
const inchPound = createFormatter(INCH_POUND, 'en-US', 'America/Chicago')

/** Spaces as people see them. */
const plain = (text: string) => text.replace(/[\u00a0\u202f]/g, ' ')

test('quantities in the display units of the project', () => {
  // 0.4572 m/s is 90 ft/min; 0.1 m3/s is 360 m3/h and 211.888 cfm; 12.4544455 Pa is 0.05 inH2O; 20 degC is 68 degF.
  expect(plain(metric.quantity(0.4572, 'velocity'))).toBe('0.46 m/s')
  expect(plain(inchPound.quantity(0.4572, 'velocity'))).toBe('90 ft/min')
  expect(plain(metric.quantity(0.1, 'flow'))).toBe('360 m³/h')
  expect(plain(inchPound.quantity(0.1, 'flow'))).toBe('212 cfm')
  expect(plain(metric.quantity(12.4544455, 'pressure'))).toBe('12.5 Pa')
  expect(plain(inchPound.quantity(12.4544455, 'pressure'))).toBe('0.050 inH₂O')
  expect(plain(inchPound.quantity(20, 'temperature'))).toBe('68.0 °F')
  expect(plain(metric.quantity(0.7442, 'area'))).toBe('0.744 m²')
  expect(plain(metric.quantity(31.25, 'air_change_rate'))).toBe('31.3 /h')
  expect(plain(metric.quantity(12, 'percent'))).toBe('12.0 %')
})

test('lengths in feet read as feet and inches', () => {
  expect(plain(inchPound.quantity(2.286, 'length'))).toBe('7′ 6″')
  expect(plain(inchPound.quantity(2.2987, 'length'))).toBe('7′ 6.5″')
  expect(plain(inchPound.quantity(0.3047, 'length'))).toBe('1′ 0″')
  expect(inchPound.number(2.286, 'length')).toBe('7.50')
})

test('lengths in metres keep the millimetre where there is one', () => {
  expect(metric.number(2.7, 'length')).toBe('2.70')
  expect(metric.number(0.305, 'length')).toBe('0.305')
})

test('the sign of the locale, thin spaces between groups, a typographic minus, no minus before zero', () => {
  const german = createFormatter(METRIC, 'de', 'Europe/Vienna')
  expect(german.number(0.4572, 'velocity')).toBe('0,46')
  expect(german.number(12_345 / 3600, 'flow')).toBe('12\u202f345')
  expect(metric.number(12_345 / 3600, 'flow')).toBe('12\u202f345')
  expect(metric.number(1234 / 3600, 'flow')).toBe('1234')
  expect(metric.number(-0.45, 'velocity')).toBe('\u22120.45')
  expect(metric.number(-0.001, 'velocity')).toBe('0.00')
})

test('nothing measured is an em dash', () => {
  expect(metric.quantity(null, 'velocity')).toBe('—')
  expect(metric.number(Number.NaN, 'flow')).toBe('—')
})

test('value and limit get the digits it takes to tell them apart', () => {
  expect(metric.against(0.3599, 0.36, 'velocity')).toEqual({ value: '0.3599\u00a0m/s', limit: '0.3600\u00a0m/s' })
  expect(metric.against(0.45, 0.36, 'velocity')).toEqual({ value: '0.45\u00a0m/s', limit: '0.36\u00a0m/s' })
  // 0.45 x 0.8 is 0.36000000000000004 in floating point and on the limit for people.
  expect(metric.against(0.45 * 0.8, 0.36, 'velocity')).toEqual({ value: '0.36\u00a0m/s', limit: '0.36\u00a0m/s' })
  expect(metric.against(0.4, 0.375, 'velocity')).toEqual({ value: '0.400\u00a0m/s', limit: '0.375\u00a0m/s' })
})

const read = (text: string) => Number(text.split('\u00a0')[0]?.replace('\u2212', '-').replaceAll('\u202f', ''))

test('a printed pair never contradicts the verdict', () => {
  const limit = fc.integer({ min: 1, max: 9999 }).map((thousandths) => thousandths / 1000)
  const closeness = fc.oneof(
    fc.constant(0),
    fc.integer({ min: -12, max: 0 }).map((exponent) => 10 ** exponent),
  )
  fc.assert(
    fc.property(limit, closeness, fc.boolean(), (limitSi, relative, above) => {
      const si = limitSi * (above ? 1 + relative : 1 - relative)
      const pair = metric.against(si, limitSi, 'velocity')
      // 2e-9 stays clear of the tolerance of 1e-9 within which a value is on its limit.
      if (relative > 2e-9) expect(Math.sign(read(pair.value) - read(pair.limit))).toBe(above ? 1 : -1)
      if (relative < 5e-10) expect(read(pair.value)).toBe(read(pair.limit))
    }),
    { numRuns: 1000 },
  )
})

test('what is printed can be typed again, in every unit and locale', () => {
  const locale = fc.constantFrom('en', 'de', 'de-CH', 'fr', 'sv', 'en-IN', 'ar')
  fc.assert(
    fc.property(fc.constantFrom(...UNITS), fc.double({ min: 0, max: 1, noNaN: true }), locale, (unit, part, language) => {
      const most: Partial<Record<Unit, number>> = { m: 290, m2: 890, degC: 140, degF: 300, '%': 900, in: 9000, ft: 290 }
      const si = toSi(part * (most[unit] ?? 50), unit)
      const printed = createFormatter(METRIC, language, 'UTC').quantity(si, dimensionOf(unit), { unit, digits: 2 })
      const parsed = parseEntered(printed, unit)
      expect(parsed.ok, printed).toBe(true)
      // Two decimals in the unit: half of a hundredth, and the last bits.
      if (parsed.ok) expect(Math.abs(parsed.value.si - si)).toBeLessThanOrEqual(Math.abs(toSi(0.00501, unit) - toSi(0, unit)))
    }),
    { numRuns: 500 },
  )
})

test('dates in words of the locale, times at the site', () => {
  expect(metric.date('2026-03-02')).toBe('Mar 2, 2026')
  expect(createFormatter(METRIC, 'en-GB', 'Europe/Vienna').date('2026-03-02')).toBe('2 Mar 2026')
  // 23:30 UTC on 28 March is 00:30 on the 29th in Vienna (UTC+1) and 18:30 in Chicago (UTC-5).
  expect(metric.dateTime('2026-03-28T23:30:00.000Z')).toBe('Mar 29, 2026, 00:30')
  expect(inchPound.dateTime('2026-03-28T23:30:00.000Z')).toBe('Mar 28, 2026, 18:30')
  expect(metric.date('2026-03-28T23:30:00.000Z')).toBe('Mar 29, 2026')
})

test('an unknown zone falls back to UTC and says so, an unknown locale to English, a broken date to its text', () => {
  const odd = createFormatter(METRIC, 'no such locale', 'Mars/Olympus')
  expect(odd.dateTime('2026-03-28T23:30:00.000Z')).toBe('Mar 28, 2026, 23:30 UTC')
  expect(odd.number(0.45, 'velocity')).toBe('0.45')
  expect(odd.date('the ides of March')).toBe('the ides of March')
})

describe('an uncertainty', () => {
  const f = createFormatter({ velocity: 'm/s', flow: 'm3/h', length: 'm', pressure: 'Pa', temperature: 'degC' }, 'en', 'UTC')

  // GUM (JCGM 100:2008) 7.2.6: at most two significant digits, and the figure to the same place; 7.2.2 writes them so
  test('is stated to two significant digits, and its figure to the same place', () => {
    expect(f.uncertainty(0.0312, 'velocity')).toBe('0.031\u00a0m/s')
    expect(f.uncertainty(0.0996, 'velocity')).toBe('0.10\u00a0m/s')
    expect(f.plusMinus(0.45234, 0.0312, 'velocity')).toBe('0.452 ± 0.031\u00a0m/s')
    expect(f.plusMinus(23110 / 3600, 1989 / 3600, 'flow')).toBe('23\u202f100 ± 2000\u00a0m³/h')
    expect(f.plusMinus(98.6, 12.34, 'percent')).toBe('99 ± 12\u00a0%')
    expect(f.uncertainty(0, 'velocity')).toBe('0.00\u00a0m/s')
  })
})

describe('a printed figure never contradicts what was decided', () => {
  const value = (text: string) => Number(text.split('\u00a0')[0]?.replaceAll('\u202f', ''))

  test('a distance and the guard band beside it say how the two were compared', () => {
    // 8/197 and 7.9/197: 0.04064 m/s is 8.0 ft/min and 0.0402 m/s is 7.91 ft/min, to two digits 7.9.
    expect(plain(inchPound.distanceAndBand(0.0401, 0.0402, 'velocity', 'closer').distance)).toBe('7.89 ft/min')
    expect(plain(inchPound.distanceAndBand(0.0401, 0.0402, 'velocity', 'closer').band)).toBe('7.91 ft/min')
    expect(metric.distanceAndBand(0.01, 0.0312, 'velocity', 'closer')).toEqual({ distance: '0.01\u00a0m/s', band: '0.031\u00a0m/s' })
    const size = fc.double({ min: 1e-4, max: 0.2, noNaN: true })
    fc.assert(
      fc.property(size, fc.double({ min: 1e-6, max: 1, noNaN: true }), fc.boolean(), (band, apart, isCloser) => {
        const distance = isCloser ? band * (1 - apart / 2) : band * (1 + apart)
        for (const f of [metric, inchPound]) {
          const shown = f.distanceAndBand(distance, band, 'velocity', isCloser ? 'closer' : 'beyond')
          expect(value(shown.distance) < value(shown.band)).toBe(isCloser)
          if (!isCloser) expect(value(shown.distance)).toBeGreaterThan(value(shown.band))
        }
      }),
    )
  })

  test('a figure that failed at a limit is not rounded onto it', () => {
    expect(metric.quantity(19.96, 'air_change_rate', { heldAgainst: [20] })).toBe('19.96\u00a0/h')
    expect(metric.quantity(20.04, 'air_change_rate', { heldAgainst: [20] })).toBe('20.04\u00a0/h')
    expect(metric.quantity(19.6, 'air_change_rate', { heldAgainst: [20] })).toBe('19.6\u00a0/h')
    expect(metric.quantity(20, 'air_change_rate', { heldAgainst: [20] })).toBe('20.0\u00a0/h')
    expect(metric.plusMinus(19.96, 1.6, 'air_change_rate', { heldAgainst: [20] })).toBe('19.96 ± 1.6\u00a0/h')
    expect(metric.plusMinus(1285 / 3600, 190 / 3600, 'flow', { heldAgainst: [1287 / 3600] })).toBe('1285 ± 190\u00a0m³/h')
    expect(metric.plusMinus(1285 / 3600, 190 / 3600, 'flow', { heldAgainst: [1000 / 3600] })).toBe('1290 ± 190\u00a0m³/h')
  })

  test('what is too small to be printed is not printed as a row of zeros', () => {
    expect(metric.uncertainty(1e-17, 'percent')).toBe('0.0\u00a0%')
    expect(metric.against(1e-17, 0, 'flow').value).toBe('0\u00a0m³/h')
  })
})
