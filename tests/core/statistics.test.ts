import fc from 'fast-check'
import { expect, test } from 'vitest'
import { spreadOf } from '#core/methods/airflow/set-figures.ts'
import { mean, relativeStandardDeviationPercent, sampleStandardDeviation } from '#core/statistics/statistics.ts'

/** As the points of a filter are looked at, about their own mean. */
const largestDeviationPercent = (values: readonly number[]) => spreadOf(values, mean(values)).largestDeviationPercent

test('a filter worked by hand', () => {
  // 0.40 0.45 0.50: mean 0.45; deviations -0.05 0 0.05, squares sum 0.005, over 2 = 0.0025, root 0.05; 100 x 0.05 / 0.45 = 11.11 %.
  const values = [0.4, 0.45, 0.5]
  expect(mean(values)).toBeCloseTo(0.45, 14)
  expect(sampleStandardDeviation(values)).toBeCloseTo(0.05, 14)
  expect(relativeStandardDeviationPercent(values)).toBeCloseTo(100 / 9, 11)
  expect(largestDeviationPercent(values)).toBeCloseTo(100 / 9, 11)
})

test('nothing where nothing can be said', () => {
  expect(mean([])).toBeNull()
  expect(sampleStandardDeviation([0.45])).toBeNull()
  expect(relativeStandardDeviationPercent([0.45])).toBeNull()
  expect(largestDeviationPercent([0.45])).toBeNull()
  for (const reversed of [
    [-0.1, 0.1],
    [-0.4, -0.5],
    [0, 0],
  ]) {
    expect(relativeStandardDeviationPercent(reversed)).toBeNull()
    expect(largestDeviationPercent(reversed)).toBeNull()
  }
})

const velocities = fc.array(fc.double({ min: 0.01, max: 2, noNaN: true }), { minLength: 2, maxLength: 60 })

test('the order of readings does not matter within 1e-12', () => {
  fc.assert(
    fc.property(velocities, (values) => {
      const sorted = [...values].sort((a, b) => a - b)
      expect(Math.abs((mean(values) ?? 0) - (mean(sorted) ?? 0))).toBeLessThanOrEqual(1e-12)
      expect(Math.abs((sampleStandardDeviation(values) ?? 0) - (sampleStandardDeviation(sorted) ?? 0))).toBeLessThanOrEqual(1e-12)
    }),
  )
})

test('scaling every value leaves spread and deviation in percent as they are', () => {
  fc.assert(
    fc.property(velocities, fc.double({ min: 0.1, max: 10, noNaN: true }), (values, factor) => {
      const scaled = values.map((value) => value * factor)
      const close = (a: number | null, b: number | null) => expect(Math.abs((a ?? 0) - (b ?? 0))).toBeLessThanOrEqual(1e-9)
      close(relativeStandardDeviationPercent(scaled), relativeStandardDeviationPercent(values))
      close(largestDeviationPercent(scaled), largestDeviationPercent(values))
    }),
  )
})
