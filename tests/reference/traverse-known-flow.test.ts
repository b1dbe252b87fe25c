import { describe, expect, it } from 'vitest'
import { velocityPressurePa } from '#core/air/velocity-pressure.ts'
import { layOutTraverse, type RectangularTraverse, type RoundTraverse } from '#core/methods/traverse/layout.ts'
import { traverseFigures, traverseFromPressures } from '#core/methods/traverse/traverse-figures.ts'

/*
 * Ducts whose flow is known exactly. Power law of turbulent flow in a pipe, v = vc (1 - r / R)^(1 / n), integrated by hand:
 *   mean = vc 2 n^2 / ((n + 1)(2 n + 1)); n = 7: 49/60 vc. (Power law: textbook fluid mechanics, n from 6 to 10; from memory.)
 * Rectangular, the product of two such profiles between plane walls: mean = vc (n / (n + 1))^2.
 * A rule's own error is what its few points miss of that mean.
 */
const CENTRE_MPS = 8

function layout(request: RectangularTraverse | RoundTraverse) {
  const laid = layOutTraverse(request)
  if ('problem' in laid) throw new Error(laid.problem)
  return laid
}

function roundError(rule: RoundTraverse['rule'], pointsPerLine: number, n: number): number {
  const diameterM = 0.4
  const { points, areaM2 } = layout({ section: { shape: 'round', diameterM }, rule, lines: 2, pointsPerLine })
  const velocities = points.map(({ offsetXM, offsetYM }) => CENTRE_MPS * (1 - Math.hypot(offsetXM, offsetYM) / (diameterM / 2)) ** (1 / n))
  const exact = ((CENTRE_MPS * 2 * n * n) / ((n + 1) * (2 * n + 1))) * Math.PI * 0.2 ** 2
  return (traverseFigures(velocities, areaM2).flowM3ps ?? Number.NaN) / exact - 1
}

function rectangularError(rule: RectangularTraverse['rule'], lines: number, n: number): number {
  const [widthM, heightM] = [0.8, 0.5]
  const { points, areaM2 } = layout({ section: { shape: 'rectangular', widthM, heightM }, rule, lines, pointsPerLine: lines })
  const profile = (offset: number, side: number) => (1 - Math.abs(offset) / (side / 2)) ** (1 / n)
  const velocities = points.map(({ offsetXM, offsetYM }) => CENTRE_MPS * profile(offsetXM, widthM) * profile(offsetYM, heightM))
  const exact = CENTRE_MPS * (n / (n + 1)) ** 2 * widthM * heightM
  return (traverseFigures(velocities, areaM2).flowM3ps ?? Number.NaN) / exact - 1
}

describe('a traverse of a round duct whose flow is known', () => {
  it.each([6, 7, 8, 9, 10])('log-linear is within 0.5 %% for n = %s', (n) => {
    for (const points of [6, 8, 10]) expect(Math.abs(roundError('log_linear', points, n))).toBeLessThan(0.005)
  })

  it('equal rings read high, by less with every more point: under 1.5 % with 6, 0.7 % with 12', () => {
    const errors = [6, 8, 10, 12].map((points) => roundError('equal_area', points, 7))
    for (const [index, error] of errors.entries()) {
      expect(error).toBeGreaterThan(0)
      expect(error).toBeLessThan(errors[index - 1] ?? 0.015)
    }
    expect(errors.at(-1)).toBeLessThan(0.007)
  })

  it('a flat profile is exact by every rule', () => {
    for (const rule of ['log_linear', 'equal_area'] as const) {
      const { points, areaM2 } = layout({ section: { shape: 'round', diameterM: 0.3 }, rule, lines: null, pointsPerLine: null })
      expect(
        traverseFigures(
          points.map(() => 5),
          areaM2,
        ).flowM3ps,
      ).toBeCloseTo(5 * Math.PI * 0.15 ** 2, 12)
    }
  })
})

describe('a traverse of a rectangular duct whose flow is known', () => {
  it.each([6, 7, 8, 9, 10])('log-Tchebycheff is within 1 %% for n = %s', (n) => {
    for (const lines of [5, 6, 7]) expect(Math.abs(rectangularError('log_tchebycheff', lines, n))).toBeLessThan(0.01)
  })

  it('equal areas read high, and miss more than log-Tchebycheff with as many lines', () => {
    for (const lines of [5, 6, 7]) {
      const error = rectangularError('equal_area', lines, 7)
      expect(error).toBeGreaterThan(Math.abs(rectangularError('log_tchebycheff', lines, 7)))
      expect(error).toBeLessThan(0.04)
    }
  })
})

describe('velocity pressures', () => {
  it('are turned into velocities before they are averaged: the root of the mean pressure would read high', () => {
    // first principles: for 4 and 8 m/s the mean is 6; the root of the mean square is sqrt(40) = 6.325
    const density = 1.2
    const pressures = [4, 8].map((velocity) => velocityPressurePa(velocity, density))
    const found = traverseFromPressures(pressures, density)
    expect(traverseFigures(found?.velocitiesMps ?? [], 1).meanVelocityMps).toBeCloseTo(6, 12)
  })

  it('keep their sign: a point of reversed flow is subtracted and named', () => {
    const found = traverseFromPressures([60, 60, -60, null], 1.2)
    const figures = traverseFigures(found?.velocitiesMps ?? [], 0.5)
    expect(figures.meanVelocityMps).toBeCloseTo(10 / 3, 12)
    expect(figures).toMatchObject({ reversedPoints: [3], complete: false, pointsMeasured: 3, pointsPlanned: 4 })
  })
})
