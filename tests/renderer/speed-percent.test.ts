import fc from 'fast-check'
import { expect, test } from 'vitest'
import { percentThatReaches } from '#renderer/what-if/speed-percent.ts'

test('the speed to a limit is rounded so that it reaches the limit', () => {
  // 600 m3/h from 570 asks for 100 x (600/570 - 1) = 5.2632 %: 5.26 % would leave 599.98 m3/h, and 5.27 % gives 600.04.
  expect(percentThatReaches(600 / 570)).toBe(5.27)
  // 600 m3/h from 630 asks for -4.7619 %: -4.76 % would leave 600.01 m3/h above, and -4.77 % gives 599.95.
  expect(percentThatReaches(600 / 630)).toBe(-4.77)
  expect(percentThatReaches(1.05)).toBe(5)
  expect(percentThatReaches(0.9)).toBe(-10)
  expect(percentThatReaches(1)).toBe(0)
})

test('never short of the ratio, and never more than a hundredth of a percent beyond', () => {
  fc.assert(
    fc.property(fc.double({ min: 0.2, max: 5, noNaN: true }), (ratio) => {
      const reached = 1 + percentThatReaches(ratio) / 100
      const beyond = ratio >= 1 ? reached - ratio : ratio - reached
      expect(beyond).toBeGreaterThanOrEqual(-1e-9 * ratio)
      expect(beyond).toBeLessThan(1.0001e-4)
    }),
  )
})
