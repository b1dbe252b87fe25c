import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64'
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus'
import { describe, expect, it } from 'vitest'
import { moistAirDensity } from '#core/air/moist-air-density.ts'
import { COVERAGE_95, combine } from '#core/uncertainty/budget.ts'
import { densityUncertainty } from '#core/uncertainty/density.ts'
import { flowTerms, type MeasuredMean } from '#core/uncertainty/filter-terms.ts'
import type { BudgetInstrument } from '#core/uncertainty/instrument-terms.ts'
import { airChanges, percentOfDesign, sumOf, type Uncertain } from '#core/uncertainty/room-terms.ts'

/*
 * Propagation of distributions (JCGM 101:2008): the measurement is simulated with its errors drawn, through the plain formulas of flow and air
 * changes, knowing nothing of terms, sensitivities and groups. The standard deviation of M draws has itself a relative standard deviation of
 * about 1 / sqrt(2 M): 0.16 % for 200 000. Tolerance: four of these, and 0.2 % for the second-order terms that a linear budget leaves out
 * (factors of some 2 % each). Spatial scatter is drawn normal with the s / sqrt(n) of the budget. Seeds are fixed.
 */
const DRAWS = 200_000
const TOLERANCE = 4 / Math.sqrt(2 * DRAWS) + 0.002

function createDraws(seed: number) {
  const random = xoroshiro128plus(seed)
  const uniform = () => uniformFloat64(random)
  return {
    /** Box and Muller */
    normal: (standard: number) => standard * Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform()),
    rectangular: (halfWidth: number) => halfWidth * (2 * uniform() - 1),
  }
}

function spreadOf(draw: () => number): { mean: number; standard: number; within: (low: number, high: number) => number } {
  const values = Array.from({ length: DRAWS }, draw)
  const mean = values.reduce((sum, value) => sum + value, 0) / DRAWS
  const standard = Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (DRAWS - 1))
  return { mean, standard, within: (low, high) => values.filter((value) => value >= low && value <= high).length / DRAWS }
}

const anemometer: BudgetInstrument = {
  instrumentId: 'anemometer',
  certificateId: 'certificate',
  certificate: { expandedPercentOfReading: 1.5, expandedAbsolute: 0.004, coverageFactor: 2 },
  accuracy: { form: 'sum_of', percentOfReading: 3, absolute: 0.01 },
  curve: null,
  driftHalfWidth: 0,
  resolution: 0.01,
}
const DENSITY_FACTOR = 1.2
const DENSITY_RELATIVE = 0.006
const AREA = { size: 0.605, relativeUncertainty: 0.01, group: 'area of the model' }
const filters = [
  { id: 'first', indicated: [0.38, 0.4, 0.39, 0.41, 0.42, 0.38, 0.4, 0.43] },
  { id: 'second', indicated: [0.36, 0.37, 0.35, 0.38, 0.36, 0.39, 0.37, 0.36] },
]
const grille = { id: 'return', indicated: [0.5, 0.52, 0.49, 0.53] }

function meanOf(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length
}

function standardOfMean(values: readonly number[]): number {
  const mean = meanOf(values)
  return Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (values.length - 1) / values.length)
}

function budgetFlow({ id, indicated }: { id: string; indicated: readonly number[] }): Uncertain {
  const parts = indicated.map((value) => value * DENSITY_FACTOR)
  const mean: MeasuredMean = {
    terminalId: id,
    value: meanOf(parts),
    parts,
    sampling: { kind: 'face_grid' },
    measured: [{ instrument: anemometer, readings: indicated.map((value) => ({ indicated: value, sensitivity: DENSITY_FACTOR })) }],
    density: { relativeUncertainty: DENSITY_RELATIVE, exponent: -1, group: 'density of the visit' },
  }
  const flow = flowTerms(mean, AREA, [])
  if (!flow) throw new Error('a grid of several points has terms')
  return { value: flow.flowM3ps, terms: flow.terms }
}

/** One simulated visit: errors of the instrument, the filter model and the conditions once, the rest per terminal. */
function createVisit(seed: number) {
  const { normal, rectangular } = createDraws(seed)
  return (): ((terminal: { indicated: readonly number[] }) => number) => {
    const calibration = normal(1)
    const accuracy = rectangular(1)
    const density = 1 + normal(DENSITY_RELATIVE)
    const area = AREA.size * (1 + normal(AREA.relativeUncertainty))
    return ({ indicated }) => {
      const trueValues = indicated.map((value) => value + calibration * ((0.015 * value + 0.004) / 2) + accuracy * (0.03 * value + 0.01))
      const velocity = meanOf(trueValues) + rectangular(0.005) + normal(standardOfMean(indicated))
      return ((velocity * DENSITY_FACTOR) / density) * area
    }
  }
}

function expectAgreement(result: Uncertain | null, draw: () => number) {
  if (!result) throw new Error('a complete result has terms')
  const budget = combine(result.value, result.terms, COVERAGE_95)
  const spread = spreadOf(draw)
  expect(Math.abs(budget.combined / spread.standard - 1)).toBeLessThan(TOLERANCE)
  expect(Math.abs(spread.mean - result.value)).toBeLessThan(0.02 * budget.combined)
  // rectangles have no tails, so the interval holds at least its 95 % (less four binomial deviations, 0.2 %)
  expect(spread.within(result.value - budget.expanded, result.value + budget.expanded)).toBeGreaterThan(0.948)
  return { budget, spread }
}

describe('analytic budget against Monte Carlo', () => {
  const supply = sumOf(filters.map((filter) => ({ sign: 1, result: budgetFlow(filter) })))

  it('agrees for the flow of one filter', () => {
    const visit = createVisit(20_260_301)
    const [first] = filters
    if (first) expectAgreement(budgetFlow(first), () => visit()(first))
    expect.assertions(3)
  })

  it('agrees for a room whose filters share the anemometer, the model and the conditions', () => {
    const visit = createVisit(20_260_302)
    const { spread } = expectAgreement(supply, () => {
      const flowOf = visit()
      return filters.reduce((sum, filter) => sum + flowOf(filter), 0)
    })
    // and would not, if the shared errors were taken as independent
    const independent = filters.reduce((sum, filter) => sum + combine(0, budgetFlow(filter).terms, COVERAGE_95).combined ** 2, 0)
    expect(Math.sqrt(independent) / spread.standard).toBeLessThan(0.85)
  })

  it('agrees for supply less return: the shared errors partly cancel', () => {
    const visit = createVisit(20_260_303)
    const offset = sumOf([
      ...filters.map((filter) => ({ sign: 1 as const, result: budgetFlow(filter) })),
      { sign: -1, result: budgetFlow(grille) },
    ])
    const { budget } = expectAgreement(offset, () => {
      const flowOf = visit()
      return filters.reduce((sum, filter) => sum + flowOf(filter), 0) - flowOf(grille)
    })
    expect(budget.combined).toBeLessThan(combine(0, supply?.terms ?? [], COVERAGE_95).combined)
  })

  it('agrees for air changes with an uncertain volume, and for percent of design', () => {
    const { normal } = createDraws(20_260_304)
    const visit = createVisit(20_260_305)
    const room = supply && airChanges(supply, { size: 36, relativeUncertainty: 0.012, group: null }, 'room')
    expectAgreement(room, () => {
      const flowOf = visit()
      return (3600 * filters.reduce((sum, filter) => sum + flowOf(filter), 0)) / (36 * (1 + normal(0.012)))
    })
    const again = createVisit(20_260_306)
    expectAgreement(supply && percentOfDesign(supply, 0.6), () => {
      const flowOf = again()
      return (100 * filters.reduce((sum, filter) => sum + flowOf(filter), 0)) / 0.6
    })
  })

  it('agrees for the density of moist air with unmeasured humidity', () => {
    const { normal, rectangular } = createDraws(20_260_307)
    const state = { temperatureC: 21, pressurePa: 98_000, relativeHumidityPercent: null }
    const found = densityUncertainty(state, { temperatureK: 0.4, pressurePa: 250, relativeHumidityPercent: 0 })
    const density = (t: number, p: number, rh: number) =>
      moistAirDensity({ temperatureC: 21 + t, pressurePa: 98_000 + p, relativeHumidityPercent: 50 + rh })?.densityKgpm3 ?? Number.NaN
    const spread = spreadOf(() => density(normal(0.4), normal(250), rectangular(50)))
    expect(Math.abs((found?.relative ?? 0) / (spread.standard / density(0, 0, 0)) - 1)).toBeLessThan(TOLERANCE)
  })
})
