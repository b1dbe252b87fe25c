import { describe, expect, it } from 'vitest'
import { equalRingPlaces } from '#core/methods/traverse/equal-area.ts'
import { LOG_LINEAR } from '#core/methods/traverse/log-linear.ts'
import { LOG_TCHEBYCHEFF, logTchebycheffLines } from '#core/methods/traverse/log-tchebycheff.ts'

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length
}

/** Distance to the nearer wall as a share of the half side or radius. */
function fromWall(places: readonly number[]): number[] {
  return places.map((place) => 2 * Math.min(place, 1 - place))
}

describe('log-Tchebycheff places of a rectangular side', () => {
  // table of the rule as in public text, three decimals
  it.each([
    [5, [0.074, 0.288, 0.5, 0.712, 0.926]],
    [6, [0.061, 0.235, 0.437, 0.563, 0.765, 0.939]],
    [7, [0.053, 0.203, 0.366, 0.5, 0.634, 0.797, 0.947]],
  ] as const)('%s lines are the published ones', (lines, places) => {
    expect(LOG_TCHEBYCHEFF[lines]).toEqual(places)
  })

  it('average ln(distance to the wall) to its exact mean, -1, within 0.02: what the rule was made for', () => {
    // first principles: the mean of ln(s) over 0 < s < 1 is -1. Found -0.985, -0.998, -0.988
    for (const places of Object.values(LOG_TCHEBYCHEFF))
      expect(Math.abs(mean(fromWall(places).map((distance) => Math.log(distance))) + 1)).toBeLessThan(0.02)
  })

  it('has 5 lines under 30 in, 6 up to 36 in, 7 above', () => {
    // 30 in = 762 mm, 36 in = 914.4 mm; the boundaries themselves have 6 (public text on the rule)
    for (const [inches, lines] of [
      [4, 5],
      [29, 5],
      [30, 6],
      [33, 6],
      [36, 6],
      [37, 7],
      [80, 7],
    ] as const)
      expect(logTchebycheffLines(inches * 0.0254)).toBe(lines)
    expect(logTchebycheffLines(0.759)).toBe(5)
    expect(logTchebycheffLines(0.76)).toBe(6)
    expect(logTchebycheffLines(0.915)).toBe(6)
    expect(logTchebycheffLines(0.916)).toBe(7)
    expect(logTchebycheffLines(0)).toBeNull()
  })
})

describe('log-linear places on a diameter', () => {
  // ISO 3966 / ASHRAE Standard 111 (from memory; the same digits are in public text, some of which misprints the last of eight as 0.981)
  it.each([
    [6, [0.032, 0.135, 0.321, 0.679, 0.865, 0.968]],
    [8, [0.021, 0.117, 0.184, 0.345, 0.655, 0.816, 0.883, 0.979]],
    [10, [0.019, 0.077, 0.153, 0.217, 0.361, 0.639, 0.783, 0.847, 0.923, 0.981]],
  ] as const)('%s points are the published ones', (points, places) => {
    expect(LOG_LINEAR[points]).toEqual(places)
  })

  it('agree with the radii of the rule, r / R, to their three decimals', () => {
    // radii from memory: 3 .3586 .7302 .9358; 4 .3100 .6320 .7660 .9580; 5 .2776 .5658 .6950 .8470 .9622
    const radii = { 6: [0.9358, 0.7302, 0.3586], 8: [0.958, 0.766, 0.632, 0.31], 10: [0.9622, 0.847, 0.695, 0.5658, 0.2776] } as const
    for (const points of [6, 8, 10] as const)
      radii[points].forEach((radius, index) => {
        expect(LOG_LINEAR[points][index]).toBeCloseTo((1 - radius) / 2, 3)
      })
  })

  it('average ln(y) over the circle to its exact mean, -3/2, within 0.005, and y to 1/3 within 0.01: what the rule was made for', () => {
    // first principles: over a circle of radius 1 with y = 1 - r the mean of ln y is -3/2 and of y is 1/3. Found: -1.5005, -1.4983, -1.4971
    // and 0.3253, 0.3335, 0.3308; the places are rounded to three decimals
    for (const places of Object.values(LOG_LINEAR)) {
      expect(Math.abs(mean(fromWall(places).map((y) => Math.log(y))) + 1.5)).toBeLessThan(0.005)
      expect(Math.abs(mean(fromWall(places)) - 1 / 3)).toBeLessThan(0.01)
    }
  })

  it('would not, with the misprinted 0.981 for the last of eight', () => {
    const misprinted = [...LOG_LINEAR[8].slice(0, 7), 0.981]
    expect(Math.abs(mean(fromWall(misprinted).map((y) => Math.log(y))) + 1.5)).toBeGreaterThan(0.005)
  })
})

describe('symmetry', () => {
  it('every place has its mirror image: x(i) + x(n + 1 - i) = 1', () => {
    const all = [...Object.values(LOG_TCHEBYCHEFF), ...Object.values(LOG_LINEAR), equalRingPlaces(12) ?? []]
    for (const places of all)
      places.forEach((place, index) => {
        expect(place + (places[places.length - 1 - index] ?? Number.NaN)).toBeCloseTo(1, 12)
      })
  })
})

describe('equal rings', () => {
  // 40 CFR 60, appendix A-1, Method 1, table 1-2, percent of the diameter from the wall (2 to 10 points seen in public text, 12 recomputed)
  it.each([
    [2, [14.6, 85.4]],
    [4, [6.7, 25.0, 75.0, 93.3]],
    [6, [4.4, 14.6, 29.6, 70.4, 85.4, 95.6]],
    [8, [3.2, 10.5, 19.4, 32.3, 67.7, 80.6, 89.5, 96.8]],
    [10, [2.6, 8.2, 14.6, 22.6, 34.2, 65.8, 77.4, 85.4, 91.8, 97.4]],
    [12, [2.1, 6.7, 11.8, 17.7, 25.0, 35.6, 64.4, 75.0, 82.3, 88.2, 93.3, 97.9]],
  ])('%s points are those of the table', (points, percents) => {
    expect(equalRingPlaces(points)?.map((place) => Number((100 * place).toFixed(1)))).toEqual(percents)
  })

  it('are not the log-linear places', () => {
    for (const points of [6, 8, 10] as const)
      expect(equalRingPlaces(points)?.map((place) => Number(place.toFixed(3)))).not.toEqual(LOG_LINEAR[points])
  })

  it('exist for even numbers from 2 to 24 only', () => {
    for (const points of [0, 1, 3, 2.5, 26, -4, Number.NaN]) expect(equalRingPlaces(points)).toBeNull()
  })
})
