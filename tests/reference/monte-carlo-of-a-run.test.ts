import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64'
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus'
import { describe, expect, it } from 'vitest'
import { dryAirDensityKgpm3, moistAirDensity } from '#core/air/moist-air-density.ts'
import { methodOf } from '#core/methods/catalogue.ts'
import type { EntityBody } from '#core/model/entities.ts'
import type { Uncertainty } from '#core/model/results.ts'
import { aCalibration, entered } from '../core/face-run.ts'
import { roomRun, someAir } from '../core/room-run.ts'

/*
 * Propagation of distributions (JCGM 101:2008) through a whole run as the program computes it: a room at 1600 m with two supply filters and
 * a return, all by one thermal anemometer. The simulation knows the physics alone (density, area, volume) and draws every error from the
 * distribution that the certificate, the accuracy statement or the criteria set states; it knows nothing of terms, sensitivities and
 * groups. The standard deviation of M draws has itself a relative standard deviation of about 1 / sqrt(2 M). Tolerance: four of
 * these, and 0.3 % for second-order terms that a linear budget leaves out. Spatial scatter is drawn normal with s / sqrt(n). Seeds are fixed.
 */
const DRAWS = 60_000
const TOLERANCE = 4 / Math.sqrt(2 * DRAWS) + 0.003

const SENSES: EntityBody<'instrument'>['senses'] = [
  {
    quantity: 'velocity',
    low: entered(0.05, 'm/s'),
    high: entered(30, 'm/s'),
    resolution: entered(0.01, 'm/s'),
    accuracy: { form: 'sum_of', percentOfReading: 3, absolute: entered(0.01, 'm/s') },
  },
]
const CERTIFICATE = aCalibration({
  uncertainty: [{ quantity: 'velocity', expandedPercentOfReading: 2, expandedAbsolute: entered(0.004, 'm/s'), coverageFactor: 2 }],
})
const AIR = { temperatureC: 22, pressurePa: 83_500, relativeHumidityPercent: 45 }
const STANDARD = { temperature: entered(20, 'degC'), pressure: entered(101_325, 'Pa') }
const supplies = [
  [0.36, 0.38, 0.37, 0.4],
  [0.35, 0.33, 0.36, 0.37],
]
const returned = [0.5, 0.52, 0.49, 0.53]
const AREA = 0.7
const VOLUME = 60

const input = roomRun(
  [
    ...supplies.map((readings) => ({ terminal: { grid: { rows: 2, columns: 2 }, designVelocity: entered(0.45, 'm/s') }, readings })),
    {
      terminal: {
        kind: 'return_grille',
        face: 'grille',
        measuredBy: 'face_grid',
        grid: { rows: 2, columns: 2 },
        grossWidth: entered(0.6, 'm'),
        effectiveArea: entered(0.3, 'm2'),
      },
      readings: returned,
    },
  ],
  {
    instrument: { senses: SENSES, basis: 'standard', standardCondition: STANDARD },
    calibrations: [CERTIFICATE],
    run: { conditions: someAir(AIR.temperatureC, AIR.pressurePa, AIR.relativeHumidityPercent) },
  },
)
const result = methodOf('room_airflow').compute(input)

function createDraws(seed: number) {
  const random = xoroshiro128plus(seed)
  const uniform = () => uniformFloat64(random)
  return {
    normal: (standard: number) => standard * Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform()),
    rectangular: (halfWidth: number) => halfWidth * (2 * uniform() - 1),
  }
}

function meanOf(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length
}

function standardOfMean(values: readonly number[]): number {
  const mean = meanOf(values)
  return Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (values.length - 1) / values.length)
}

const standardDensity = dryAirDensityKgpm3(20, 101_325) ?? Number.NaN

type Visit = {
  /** mean velocity of actual air, m/s */
  readonly velocity: (readings: readonly number[]) => number
  /** actual flow of a terminal, m3/s */
  readonly flow: (readings: readonly number[], areaM2: number, model: 'supply' | 'return') => number
  readonly density: number
  readonly volume: number
}

/** One visit: every error of the starting settings drawn once, scatter and resolution once for each terminal. */
function createVisit(seed: number): () => Visit {
  const { normal, rectangular } = createDraws(seed)
  return () => {
    const calibration = normal(1)
    const accuracy = rectangular(1)
    const areas = { supply: 1 + rectangular(0.01), return: 1 + rectangular(0.01) }
    const density =
      (moistAirDensity({
        temperatureC: AIR.temperatureC + rectangular(0.5),
        pressurePa: AIR.pressurePa + rectangular(200),
        relativeHumidityPercent: AIR.relativeHumidityPercent + rectangular(3),
      })?.densityKgpm3 ?? Number.NaN) *
      (1 + normal(22e-6))
    const velocity = (readings: readonly number[]) => {
      const told = readings.map((value) => value + (calibration * (0.02 * value + 0.004)) / 2 + accuracy * (0.03 * value + 0.01))
      const standard = meanOf(told) + rectangular(0.005) + normal(standardOfMean(readings))
      return (standard * standardDensity) / density
    }
    return {
      density,
      volume: VOLUME * (1 + rectangular(0.01)),
      velocity,
      flow: (readings, areaM2, model) => velocity(readings) * areaM2 * areas[model],
    }
  }
}

const supplyOf = ({ flow }: Visit) => supplies.reduce((sum, readings) => sum + flow(readings, AREA, 'supply'), 0)

function expectAgreement(value: number | null, uncertainty: Uncertainty | null, seed: number, figure: (visit: Visit) => number) {
  if (value === null || uncertainty === null) throw new Error('the run has this figure and its uncertainty')
  const visit = createVisit(seed)
  const draws = Array.from({ length: DRAWS }, () => figure(visit()))
  const mean = meanOf(draws)
  const standard = Math.sqrt(draws.reduce((sum, draw) => sum + (draw - mean) ** 2, 0) / (DRAWS - 1))
  const combined = uncertainty.expanded / uncertainty.coverageFactor
  expect(Math.abs(combined / standard - 1)).toBeLessThan(TOLERANCE)
  expect(Math.abs(mean - value)).toBeLessThan(0.03 * combined)
  const within = draws.filter((draw) => Math.abs(draw - value) <= uncertainty.expanded).length / DRAWS
  // t of few degrees of freedom makes the interval wider than these normal draws need; it holds at least its 95 %
  expect(within).toBeGreaterThan(0.948)
  return combined
}

describe('points that correct, of a certificate that states no drift, against Monte Carlo', () => {
  // Corrections +0.01 at 0.30, +0.03 at 0.40, +0.02 at 0.50; U 0.008, k 2. The points of one certificate share their error; between two of them
  // the line may miss half the difference of their corrections; since its certificate the instrument may have drifted by its accuracy statement.
  const typed = [0.34, 0.36, 0.45, 0.43]
  const corrected = typed.map((value) => value + (value < 0.4 ? 0.01 + 0.2 * (value - 0.3) : 0.03 - 0.1 * (value - 0.4)))
  const point = (reading: number, trueValue: number) => ({
    quantity: 'velocity' as const,
    reading: entered(reading, 'm/s'),
    trueValue: entered(trueValue, 'm/s'),
    expandedUncertainty: entered(0.008, 'm/s'),
    coverageFactor: 2,
  })
  const run = roomRun([{ terminal: { grid: { rows: 2, columns: 2 } }, readings: typed }], {
    instrument: { senses: SENSES, basis: 'actual', correctsByPoints: true },
    calibrations: [aCalibration({ points: [point(0.3, 0.31), point(0.4, 0.43), point(0.5, 0.52)] })],
    run: { conditions: someAir(AIR.temperatureC, AIR.pressurePa, AIR.relativeHumidityPercent) },
  })

  it('agrees for a filter mean', () => {
    const [filter] = methodOf('room_airflow').compute(run).filters
    const uncertainty = filter?.uncertainty?.meanVelocity
    if (!uncertainty) throw new Error('the filter has an uncertainty')
    const { normal, rectangular } = createDraws(106)
    const missed = meanOf(typed.map((value) => (value < 0.4 ? 0.01 : 0.005)))
    const draws = Array.from({ length: DRAWS }, () => {
      const drift = rectangular(1)
      const drifted = meanOf(typed.map((value) => drift * (0.03 * value + 0.01)))
      return meanOf(corrected) + normal(0.004) + rectangular(missed) + drifted + rectangular(0.005) + normal(standardOfMean(corrected))
    })
    const mean = meanOf(draws)
    const standard = Math.sqrt(draws.reduce((sum, draw) => sum + (draw - mean) ** 2, 0) / (DRAWS - 1))
    const combined = uncertainty.expanded / uncertainty.coverageFactor
    expect(filter.meanVelocityMps).toBeCloseTo(meanOf(corrected), 12)
    expect(Math.abs(combined / standard - 1)).toBeLessThan(TOLERANCE)
  })
})

describe('uncertainties of a run against Monte Carlo', () => {
  const { room, filters } = result

  it('agrees for a filter mean and flow of actual air', () => {
    const [first] = filters
    expect(first?.basis).toBe('actual')
    const readings = supplies[0] ?? []
    expectAgreement(first?.flowM3ps ?? null, first?.uncertainty?.flow ?? null, 101, ({ flow }) => flow(readings, AREA, 'supply'))
    expectAgreement(first?.meanVelocityMps ?? null, first?.uncertainty?.meanVelocity ?? null, 102, ({ velocity }) => velocity(readings))
  })

  it('agrees for the room supply of two filters that share one anemometer, and for its air changes', () => {
    const shared = expectAgreement(room.supplyFlowM3ps, room.uncertainty?.supplyFlow ?? null, 103, supplyOf)
    expectAgreement(room.airChangesPerHour, room.uncertainty?.airChanges ?? null, 104, (visit) => (3600 * supplyOf(visit)) / visit.volume)
    const apart = filters
      .filter(({ direction }) => direction === 'supply')
      .reduce((sum, { uncertainty }) => sum + ((uncertainty?.flow?.expanded ?? 0) / (uncertainty?.flow?.coverageFactor ?? 1)) ** 2, 0)
    // independent anemometers would average their bias away; one does not
    expect(Math.sqrt(apart)).toBeLessThan(0.85 * shared)
  })

  it('agrees for the offset of standard flow, in which the shared errors partly cancel', () => {
    expectAgreement(room.balance?.offsetM3ps ?? null, room.uncertainty?.offset ?? null, 105, (visit) => {
      const offset = supplyOf(visit) - visit.flow(returned, 0.3, 'return')
      return (offset * visit.density) / standardDensity
    })
  })
})
