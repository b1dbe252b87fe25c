import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { moistAirDensity } from '#core/air/moist-air-density.ts'
import { computeFaceVelocityGrid } from '#core/methods/airflow/face-velocity-grid.ts'
import type { EntityBody } from '#core/model/entities.ts'
import { aCalibration, aCriterion, anInstrument, entered, faceRun, type GivenRun, uuid } from './face-run.ts'
import { someAir } from './room-run.ts'

/* House rule A1 (basis) on whole runs; conversions themselves are tested in basis-conversion.test.ts. */

const STANDARD = { temperature: entered(20, 'degC'), pressure: entered(101_325, 'Pa') }
const onPoints = aCriterion({
  quantity: 'face_velocity',
  scope: 'point',
  basis: 'actual',
  form: { kind: 'at_least', limit: { from: 'value', value: entered(0.36, 'm/s') } },
})
const onZone = aCriterion({
  key: 'near',
  quantity: 'face_velocity',
  scope: 'zone',
  basis: 'actual',
  form: { kind: 'each_within_percent_of_mean', percent: 20, of: 'zone' },
})

function run(given: Partial<GivenRun>) {
  return computeFaceVelocityGrid(faceRun({ filters: [{ readings: [0.4, 0.5] }], ...given }))
}

describe('which figure a criterion sees', () => {
  it('is actual as read for a rotating vane, whether or not anybody recorded the air', () => {
    const result = run({ instrument: { basis: 'actual' }, criteria: [onPoints, onZone] })
    expect(result.basis).toBe('actual')
    expect(result.filters[0]?.criteria.map(({ verdict, basis }) => [verdict, basis])).toEqual([
      ['pass', 'actual'],
      ['pass', 'actual'],
    ])
  })

  it.each([
    ['conditions', { basis: 'standard' as const, standardCondition: STANDARD }, undefined, 'reason.no_conditions'],
    ['a standard condition', { basis: 'standard' as const }, someAir(20, 90_000, 50), 'reason.no_standard_condition'],
    [
      'what the display speaks of',
      { basis: 'as_indicated' as const, standardCondition: STANDARD },
      someAir(20, 90_000, 50),
      'reason.basis_not_stated',
    ],
  ])('is none without %s, and the reason says so', (_what, instrument, conditions, code) => {
    const result = run({ instrument, criteria: [onPoints, onZone], ...(conditions ? { run: { conditions } } : {}) })
    expect(result.basis).toBe('as_indicated')
    expect(result.filters[0]).toMatchObject({ basis: 'as_indicated', meanVelocityMps: 0.45, byBasis: { actual: null } })
    for (const one of result.filters[0]?.criteria ?? []) expect([one.verdict, one.reason.code]).toEqual(['not_tested', code])
  })

  it('is none while nothing was read, and then the reading is what lacks', () => {
    const result = run({ filters: [{ readings: [null, null] }], instrument: { basis: 'standard' }, criteria: [onPoints] })
    expect(result.filters[0]?.criteria[0]?.reason.code).toBe('reason.no_reading')
  })

  it('rests on two instruments each by its own display', () => {
    const input = faceRun({
      filters: [{ readings: [0.4, { si: 0.4, instrumentId: uuid(0xc1) }] }],
      instrument: { basis: 'standard', standardCondition: STANDARD },
      run: { conditions: someAir(20, 83_523, 0) },
    })
    const vane = { id: uuid(0xc1), revision: 1, body: anInstrument({ basis: 'actual', serialNumber: 'FG-0002' }) }
    const calibrations = [...input.calibrations, { id: uuid(0x8ff), revision: 1, instrumentId: vane.id, body: aCalibration() }]
    const result = computeFaceVelocityGrid({ ...input, instruments: [...input.instruments, vane], calibrations })
    // Dry air at one temperature: densities go as pressures (compressibility 1e-4). Thermal 0.4 x 101 325 / 83 523 = 0.48526; vane 0.4.
    expect(result.filters[0]?.pointMeansMps[0]?.meanMps).toBeCloseTo(0.48526, 3)
    expect(result.filters[0]?.pointMeansMps[1]?.meanMps).toBe(0.4)
    expect(result.filters[0]?.byBasis?.as_indicated.meanVelocityMps).toBeCloseTo(0.4, 12)
    expect(result.filters[0]?.meanVelocityMps).toBeCloseTo(0.44263, 3)
  })

  it('keeps the mass where the instrument stands in other air than the filter', () => {
    const conditions = someAir(30, 100_000, 0)
    const result = run({ instrument: { basis: 'actual' }, run: { conditions, instrumentConditions: someAir(20, null, null) } })
    const at = (temperatureC: number) =>
      moistAirDensity({ temperatureC, pressurePa: 100_000, relativeHumidityPercent: 0 })?.densityKgpm3 ?? 0
    expect(result.filters[0]?.meanVelocityMps).toBeCloseTo((0.45 * at(20)) / at(30), 12)
    expect(result.air?.atInstrumentKgpm3).toBeCloseTo(at(20), 12)
  })
})

describe('property: with one thermal instrument', () => {
  it('every velocity and flow scales by one factor, and no spread changes', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0.1, max: 2, noNaN: true }), { minLength: 2, maxLength: 12 }),
        fc.double({ min: 60_000, max: 110_000, noNaN: true }),
        (readings, pressurePa) => {
          const result = run({
            filters: [{ readings }],
            instrument: { basis: 'standard', standardCondition: STANDARD },
            run: { conditions: someAir(20, pressurePa, 50) },
          })
          const bare = run({ filters: [{ readings }], instrument: { basis: 'standard', standardCondition: STANDARD } })
          const [filter, shown] = [result.filters[0], bare.filters[0]]
          const factor = (result.air?.standardKgpm3 ?? 0) / (result.air?.actualKgpm3 ?? 1)
          expect((filter?.meanVelocityMps ?? 0) / (shown?.meanVelocityMps ?? 1)).toBeCloseTo(factor, 9)
          expect((filter?.flowM3ps ?? 0) / (shown?.flowM3ps ?? 1)).toBeCloseTo(factor, 9)
          expect(filter?.relativeStandardDeviationPercent ?? -1).toBeCloseTo(shown?.relativeStandardDeviationPercent ?? -2, 8)
          expect(filter?.byBasis?.as_indicated.meanVelocityMps).toBe(shown?.meanVelocityMps)
          expect(filter?.byBasis?.standard?.meanVelocityMps).toBe(shown?.meanVelocityMps)
        },
      ),
    )
  })
})

describe('calibration points', () => {
  const points: EntityBody<'calibration'>['points'] = [
    [0.2, 0.22],
    [0.4, 0.44],
    [1, 1.04],
  ].map(([reading = 0, trueValue = 0]) => ({
    quantity: 'velocity' as const,
    reading: entered(reading, 'm/s'),
    trueValue: entered(trueValue, 'm/s'),
    expandedUncertainty: entered(0.01, 'm/s'),
    coverageFactor: 2,
  }))
  const instrument = { basis: 'actual' as const, correctsByPoints: true }

  it('correct a reading before anything else, and it is said', () => {
    // 0.4 -> 0.44; 0.7 lies half-way between 0.4 (+0.04) and 1 (+0.04): 0.74; 1.2 lies beyond: 1.24. Mean (0.44 + 0.74 + 1.24) / 3.
    const result = run({ filters: [{ readings: [0.4, 0.7, 1.2] }], instrument, calibrations: [aCalibration({ points })] })
    expect(result.filters[0]?.meanVelocityMps).toBeCloseTo(2.42 / 3, 12)
    expect(result.filters[0]?.notes).toContainEqual({ code: 'note.points_corrected', params: { readings: 3, beyond: 1 } })
  })

  it('do nothing where the instrument does not ask for it, or the certificate in force that day has none', () => {
    const calibrations = [aCalibration({ points })]
    expect(run({ instrument: { basis: 'actual' }, calibrations }).filters[0]?.meanVelocityMps).toBe(0.45)
    const later = aCalibration({ points, calibratedOn: '2026-06-01', dueOn: '2027-05-31' })
    expect(run({ instrument, calibrations: [aCalibration(), later] }).filters[0]?.meanVelocityMps).toBe(0.45)
  })

  it('leave the range to the value as indicated', () => {
    const high = {
      senses: [
        {
          quantity: 'velocity' as const,
          low: entered(0.05, 'm/s'),
          high: entered(1.2, 'm/s'),
          resolution: entered(0.01, 'm/s'),
          accuracy: null,
        },
      ],
    }
    const result = run({ filters: [{ readings: [1.2] }], instrument: { ...instrument, ...high }, calibrations: [aCalibration({ points })] })
    expect(result.filters[0]?.meanVelocityMps).toBeCloseTo(1.24, 12)
    expect(result.filters[0]?.notes.map(({ code }) => code)).not.toContain('note.above_range')
  })
})
