import { describe, expect, it } from 'vitest'
import { studentTQuantile, twoSidedCoverageFactor } from '#core/statistics/t-quantile.ts'

describe('two-sided coverage factor from Student t', () => {
  // published table of t, 95 % two-sided (statistics course tables in public text), three decimals
  it.each([
    [1, 12.706],
    [2, 4.303],
    [3, 3.182],
    [4, 2.776],
    [5, 2.571],
    [6, 2.447],
    [7, 2.365],
    [8, 2.306],
    [9, 2.262],
    [10, 2.228],
    [16, 2.12],
    [20, 2.086],
    [30, 2.042],
  ])('95 %% with %s degrees of freedom is %s', (dof, t) => {
    expect(twoSidedCoverageFactor(dof, 0.95).toFixed(3)).toBe(t.toFixed(3))
  })

  // GUM (JCGM 100:2008) table G.2 and EA-4/02, 95.45 %, two decimals (from memory)
  it.each([
    [1, 13.97],
    [2, 4.53],
    [3, 3.31],
    [4, 2.87],
    [5, 2.65],
    [6, 2.52],
    [7, 2.43],
    [8, 2.37],
    [9, 2.32],
    [10, 2.28],
    [20, 2.13],
    [50, 2.05],
  ])('95.45 %% with %s degrees of freedom is %s', (dof, t) => {
    expect(twoSidedCoverageFactor(dof, 0.9545).toFixed(2)).toBe(t.toFixed(2))
  })

  it('99 % with 16 degrees of freedom is 2.921, the normal distribution has 1.960, 2.576 and 2.000', () => {
    expect(twoSidedCoverageFactor(16, 0.99)).toBeCloseTo(2.921, 3)
    expect(twoSidedCoverageFactor(Number.POSITIVE_INFINITY, 0.95)).toBeCloseTo(1.959963984540054, 9)
    expect(twoSidedCoverageFactor(Number.POSITIVE_INFINITY, 0.99)).toBeCloseTo(2.5758293035489, 9)
    expect(twoSidedCoverageFactor(Number.POSITIVE_INFINITY, 0.9545).toFixed(3)).toBe('2.000')
  })

  it('follows the closed forms for 1 and 2 degrees of freedom', () => {
    // first principles: 1 is the Cauchy distribution, t = tan(pi (p - 1/2)); 2: t = (2p - 1) sqrt(2 / (4 p (1 - p)))
    for (const p of [0.6, 0.9, 0.975, 0.995]) {
      expect(studentTQuantile(p, 1)).toBeCloseTo(Math.tan(Math.PI * (p - 0.5)), 8)
      expect(studentTQuantile(p, 2)).toBeCloseTo((2 * p - 1) * Math.sqrt(2 / (4 * p * (1 - p))), 8)
    }
  })

  it('has none without degrees of freedom or a probability, and remembers nothing wrong', () => {
    for (const dof of [0, -1, Number.NaN]) expect(twoSidedCoverageFactor(dof, 0.95)).toBeNaN()
    for (const p of [0, 1, -1, 2]) expect(studentTQuantile(p, 5)).toBeNaN()
    for (let dof = 1; dof < 1200; dof += 1) expect(twoSidedCoverageFactor(dof, 0.95)).toBeGreaterThan(twoSidedCoverageFactor(dof + 1, 0.95))
    expect(twoSidedCoverageFactor(10, 0.95)).toBe(studentTQuantile(0.975, 10))
  })
})
