import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { axisTicks } from '#renderer/compare/axis-ticks.ts'

describe('ticks of an axis', () => {
  test('stand at round figures with the decimals they need', () => {
    expect(axisTicks([0.36, 0.54, 0.41])).toEqual({ ticks: [0.35, 0.4, 0.45, 0.5, 0.55], decimals: 2 })
    expect(axisTicks([1690, 2070, 1900])).toEqual({ ticks: [1600, 1700, 1800, 1900, 2000, 2100], decimals: 0 })
    expect(axisTicks([])).toEqual({ ticks: [], decimals: 0 })
  })

  test('hold every value, rise evenly and stay few', () => {
    fc.assert(
      fc.property(fc.array(fc.double({ min: 0, max: 30_000, noNaN: true }), { minLength: 1, maxLength: 12 }), (values) => {
        fc.pre(Math.max(...values) === 0 || Math.max(...values) - Math.min(...values) > 1e-3)
        const { ticks } = axisTicks(values)
        const first = ticks[0] ?? Number.NaN
        const last = ticks.at(-1) ?? Number.NaN
        const slack = (last - first) * 1e-9
        expect(first).toBeLessThanOrEqual(Math.min(...values) + slack)
        expect(last).toBeGreaterThanOrEqual(Math.max(...values) - slack)
        expect(ticks.length).toBeGreaterThanOrEqual(2)
        expect(ticks.length).toBeLessThanOrEqual(7)
        for (let at = 2; at < ticks.length; at += 1) {
          const [a, b, c] = [ticks[at - 2] ?? 0, ticks[at - 1] ?? 0, ticks[at] ?? 0]
          expect(Math.abs(c - b - (b - a))).toBeLessThanOrEqual((b - a) * 1e-6)
        }
      }),
    )
  })
})
