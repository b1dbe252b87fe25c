import { expect, test } from 'vitest'
import type { Unit } from '#core/model/values.ts'
import { toSi } from '#core/units/units.ts'

// NIST Special Publication 811 (2008 edition), Guide for the Use of the International System of Units, appendix B.8 and B.9:
// factors as printed there, to seven significant digits, or in full where the table marks them exact (bold).
// m3/h and L/s follow from 1 h = 3600 s and 1 L = 1e-3 m3 (same tables, exact).
const table: readonly { from: string; unit: Unit; factor: number; exact: boolean }[] = [
  { from: 'foot to metre', unit: 'ft', factor: 3.048e-1, exact: true },
  { from: 'inch to metre', unit: 'in', factor: 2.54e-2, exact: true },
  { from: 'square foot to square metre', unit: 'ft2', factor: 9.290304e-2, exact: true },
  { from: 'cubic foot to cubic metre', unit: 'ft3', factor: 2.831685e-2, exact: false },
  { from: 'cubic foot per minute to cubic metre per second', unit: 'cfm', factor: 4.719474e-4, exact: false },
  { from: 'foot per minute to metre per second', unit: 'ft/min', factor: 5.08e-3, exact: true },
  { from: 'inch of water, conventional, to pascal', unit: 'inH2O', factor: 2.490889e2, exact: false },
  { from: 'inch of mercury, conventional, to pascal', unit: 'inHg', factor: 3.386389e3, exact: false },
  { from: 'millibar to pascal', unit: 'hPa', factor: 100, exact: true },
  { from: 'kilopascal to pascal', unit: 'kPa', factor: 1000, exact: true },
  { from: 'litre per second to cubic metre per second', unit: 'L/s', factor: 1e-3, exact: true },
  { from: 'cubic metre per hour to cubic metre per second', unit: 'm3/h', factor: 1 / 3600, exact: true },
  { from: 'minute to second', unit: 'min', factor: 60, exact: true },
]

test.each(table)('NIST SP 811: $from', ({ unit, factor, exact }) => {
  const ours = toSi(1, unit)
  // Half a unit in the seventh digit where the table is rounded; the last bit of a double where it is exact.
  expect(Math.abs(ours - factor) / factor).toBeLessThan(exact ? 2.3e-16 : 5e-7)
})

test('NIST SP 811, B.9: degrees Fahrenheit to Celsius by (t - 32) / 1.8', () => {
  for (const fahrenheit of [-40, 0, 32, 68, 70, 98.6, 212]) {
    expect(toSi(fahrenheit, 'degF')).toBeCloseTo((fahrenheit - 32) / 1.8, 12)
  }
  expect(toSi(-40, 'degF')).toBe(-40)
  expect(toSi(212, 'degF')).toBe(100)
})

test('values people know come out as the nearest double', () => {
  // 90 ft/min x 0.00508 = 0.4572 m/s; 1000 cfm = 0.4719474432 m3/s; 3600 m3/h = 1 m3/s; 24 in = 0.6096 m: by hand from the factors.
  expect(toSi(90, 'ft/min')).toBe(0.4572)
  expect(toSi(1000, 'cfm')).toBe(0.4719474432)
  expect(toSi(3600, 'm3/h')).toBe(1)
  expect(toSi(24, 'in')).toBe(0.6096)
  // 0.05 inH2O x 249.08891 Pa = 12.4544455 Pa, which guidance rounds to 12.5 Pa (FDA 2004 example, from memory).
  expect(toSi(0.05, 'inH2O')).toBeCloseTo(12.4544455, 12)
})
