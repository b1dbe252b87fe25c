import { describe, expect, it } from 'vitest'
import { withCarried } from '#core/methods/airflow/carried-readings.ts'
import { budgetOf } from '#core/methods/airflow/uncertainty/budget-of.ts'
import { methodOf } from '#core/methods/catalogue.ts'
import type { EntityBody } from '#core/model/entities.ts'
import { entered, faceRun, terminalId, uuid } from './face-run.ts'
import { aDuct, aMeter, roomRun, someAir } from './room-run.ts'

const STANDARD_AIR = { temperature: entered(20, 'degC'), pressure: entered(101_325, 'Pa') }

describe('the density of a budget', () => {
  const senses: EntityBody<'instrument'>['senses'] = [
    {
      quantity: 'velocity',
      low: entered(0.05, 'm/s'),
      high: entered(30, 'm/s'),
      resolution: entered(0.01, 'm/s'),
      accuracy: { form: 'sum_of', percentOfReading: 2, absolute: entered(0.01, 'm/s') },
    },
  ]
  const lineWith = (pressurePa: number | null) =>
    budgetOf(
      faceRun({
        filters: [{ readings: [0.4, 0.4, 0.4, 0.4] }],
        instrument: { senses, basis: 'standard', standardCondition: STANDARD_AIR },
        run: { conditions: someAir(22, pressurePa, 45) },
        criteria: [],
        facilityAltitudeM: 1600,
      }),
      terminalId(0),
      'mean_velocity',
    )?.lines.find(({ source }) => source === 'density')

  it('holds what is known of a pressure: the meter, or the weather where nobody measured', () => {
    // Standard atmosphere at 1600 m: 101 325 x (1 - 0.0065 x 1600 / 288.15)^5.2559 = 83 524 Pa (ISO 2533); 3 % of it are 2505.7 Pa.
    expect(lineWith(83_524)?.origin[0]?.params).toMatchObject({ figure: { pressurePa: 200, pressureFrom: 'measured' } })
    const origin = lineWith(null)?.origin[0]?.params as { figure: { pressurePa: number } } | undefined
    expect(origin).toMatchObject({ figure: { pressureFrom: 'altitude' } })
    expect(origin?.figure.pressurePa).toBeCloseTo(2505.7, 0)
  })

  it('is worth 1.74 % from the altitude and 0.18 % by the meter', () => {
    // Dry parts by the ideal gas: pressure 3 / sqrt 3 = 1.732 %, temperature 0.5 / 295.15 / sqrt 3 = 0.098 %, humidity below 0.02 %; with the
    // meter 200 / 83 524 / sqrt 3 = 0.138 %. Water in the air adds less than a hundredth of that. In squares: 1.735 % and 0.17 %.
    const relative = (pressurePa: number | null) => lineWith(pressurePa)?.terms[0]?.value ?? Number.NaN
    expect(100 * relative(null)).toBeCloseTo(1.74, 1)
    expect(100 * relative(83_524)).toBeCloseTo(0.17, 1)
    expect(relative(null) / relative(83_524)).toBeGreaterThan(9)
  })
})

describe('carried terminals', () => {
  const FOUND = uuid(0xe1)
  const stated = { form: 'sum_of', percentOfReading: 2, absolute: entered(0.5, 'Pa') } as const
  const meter = aMeter({
    basis: 'actual',
    standardCondition: STANDARD_AIR,
    senses: [
      { quantity: 'velocity_pressure', low: entered(0, 'Pa'), high: entered(2000, 'Pa'), resolution: entered(0.1, 'Pa'), accuracy: stated },
      { quantity: 'flow', low: entered(0, 'm3/s'), high: entered(5, 'm3/s'), resolution: entered(0.001, 'm3/s'), accuracy: null },
    ],
  })
  const duct = { kind: 'duct_section', mounting: 'duct', duct: aDuct({ measures: 'velocity_pressure' }) } as const
  const hood = { face: 'swirl' } as const
  const inAir = (readings: (number | null)[], conditions: ReturnType<typeof someAir>, run: Partial<EntityBody<'run'>> = {}) =>
    roomRun(
      [
        { terminal: duct, readings },
        { terminal: hood, readings: [0.2] },
      ],
      { instrument: meter, criteria: [], run: { conditions, ...run } },
    )

  it('keep the uncertainty of the air that their readings were taken in', () => {
    const found = inAir([50, 52, 54, 56], someAir(15, 84_000, 40))
    const carried = [{ terminalIds: [terminalId(0)], fromRunId: FOUND, reason: 'untouched', fanOrMainDamperMoved: false }]
    const left = inAir([null, null, null, null], someAir(30, 101_325, 40), { phase: 'as_left', carried })
    const flowOf = (input: typeof left) => methodOf('room_airflow').compute(input).filters[0]
    const [before, after] = [flowOf(found), flowOf(withCarried(left, [{ terminalIds: [terminalId(0)], from: found }]))]
    expect(after?.flowM3ps).toBe(before?.flowM3ps)
    expect(before?.uncertainty?.flow?.expanded).toBeGreaterThan(0)
    expect(after?.uncertainty?.flow).toEqual(before?.uncertainty?.flow)
    const told = budgetOf(withCarried(left, [{ terminalIds: [terminalId(0)], from: found }]), terminalId(0), 'flow')
    expect(told?.expanded).toBeCloseTo(before?.uncertainty?.flow?.expanded ?? Number.NaN, 12)
  })
})

describe('a hood whose readings are corrected by points', () => {
  it('is corrected by the factor of the flow that it showed', () => {
    // Shown 0.29, true 0.31 by the certificate: the factor up to 0.3 belongs to what was shown. 0.31 x 1.1 = 0.341.
    const point = (reading: number, trueValue: number) => ({
      quantity: 'flow' as const,
      reading: entered(reading, 'm3/s'),
      trueValue: entered(trueValue, 'm3/s'),
      expandedUncertainty: entered(0.002, 'm3/s'),
      coverageFactor: 2,
    })
    const factor = (low: number, high: number, by: number, percent: number) => ({
      face: 'swirl' as const,
      low: entered(low, 'm3/s'),
      high: entered(high, 'm3/s'),
      factor: by,
      uncertaintyPercent: percent,
      reason: 'traverse of the branch',
    })
    const [calibration] = faceRun({ filters: [] }).calibrations
    if (!calibration) throw new Error('a certificate is given')
    const calibrations = [{ ...calibration.body, points: [point(0.1, 0.12), point(0.5, 0.52)] }]
    const hoodFactors = [factor(0.1, 0.3, 1.1, 2), factor(0.3, 0.4, 1.02, 6)]
    const run = (shown: number) =>
      roomRun([{ terminal: { face: 'swirl' }, readings: [shown] }], {
        instrument: aMeter({ correctsByPoints: true, hoodFactors }),
        calibrations,
        criteria: [],
      })
    const inside = methodOf('room_airflow').compute(run(0.29)).filters[0]
    expect(inside?.flowM3ps).toBeCloseTo(0.341, 9)
    // Shown 0.45, beyond both ranges: (0.45 + 0.02) x 1.02 = 0.4794, and 6 % half width, the larger, whatever the range.
    const input = run(0.45)
    const beyond = methodOf('room_airflow').compute(input).filters[0]
    expect(beyond?.flowM3ps).toBeCloseTo(0.4794, 9)
    expect(beyond?.notes).toContainEqual({ code: 'note.outside_hood_factors', params: { readings: 1 } })
    const line = budgetOf(run(0.05), terminalId(0), 'flow')?.lines.find(({ source }) => source === 'hood_factor')
    expect(line?.terms[0]?.value).toBeCloseTo(0.06 / Math.sqrt(3), 12)
  })
})
