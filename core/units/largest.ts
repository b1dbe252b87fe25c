import type { Unit } from '#core/model/values.ts'

/**
 * The largest magnitude that anybody of the trade writes in a unit (common practice, and generous), for one purpose only. Of the two
 * readings of "1.234" the whole one is struck out when it lies beyond; when both can be, the entry is refused, since a wrong guess
 * would be off by a factor of 1000. So a bound is never drawn to be handy: whatever exists has to lie within. In metres per second, for
 * example, a thousand and more is no air; an air system of 700 000 ft³/min is one, and so is a hall of 150 000 mm.
 */
export const LARGEST_IN_UNIT: Readonly<Record<Unit, number>> = {
  'm/s': 200,
  'ft/min': 40_000,
  // All the air that a large factory moves within itself.
  'm3/s': 3000,
  'm3/h': 10_800_000,
  'L/s': 3_000_000,
  cfm: 6_400_000,
  // A hall; an altitude is larger, and its field says so itself.
  m: 999,
  mm: 999_999,
  ft: 3300,
  // What is measured in inches is the size of a thing, and not of a hall.
  in: 4000,
  m2: 999,
  ft2: 10_000,
  m3: 1_000_000,
  ft3: 35_000_000,
  Pa: 999_999,
  hPa: 9999,
  // The atmosphere is 101.325 kPa, 29.921 inHg or 407 inH2O.
  kPa: 999,
  inH2O: 999,
  inHg: 999,
  degC: 999,
  degF: 999,
  '%': 999,
  '1/h': 10_000,
  s: 999_999,
  min: 16_000,
}
