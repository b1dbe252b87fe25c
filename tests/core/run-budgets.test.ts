import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { say } from '#core/messages/say.ts'
import { budgetOf } from '#core/methods/airflow/uncertainty/budget-of.ts'
import { methodOf } from '#core/methods/catalogue.ts'
import type { RunInput } from '#core/methods/method.ts'
import type { BudgetFigure } from '#core/model/budgets.ts'
import { STARTING_UNCERTAINTY } from '#core/model/criteria.ts'
import type { EntityBody } from '#core/model/entities.ts'
import type { RunResult, Uncertainty } from '#core/model/results.ts'
import { createFormatter } from '#core/units/format.ts'
import {
  aCalibration,
  aCriterion,
  aZone,
  entered,
  faceRun,
  type GivenRun,
  INSTRUMENT_ID,
  ROOM_ID,
  terminalId,
  uuid,
  ZONE_ID,
} from './face-run.ts'

const formatter = createFormatter(
  { velocity: 'm/s', flow: 'm3/h', length: 'm', pressure: 'Pa', temperature: 'degC' },
  'en',
  'Europe/Vienna',
)

const ACCURACY: EntityBody<'instrument'>['senses'][number]['accuracy'] = {
  form: 'greater_of',
  percentOfReading: 3,
  absolute: entered(0.015, 'm/s'),
}
const SENSES: EntityBody<'instrument'>['senses'] = [
  { quantity: 'velocity', low: entered(0.05, 'm/s'), high: entered(30, 'm/s'), resolution: entered(0.01, 'm/s'), accuracy: ACCURACY },
]
const CERTIFICATE = aCalibration({
  uncertainty: [{ quantity: 'velocity', expandedPercentOfReading: 1.5, expandedAbsolute: entered(0.004, 'm/s'), coverageFactor: 2 }],
})
const STANDARD_AIR = { temperature: entered(21.1, 'degC'), pressure: entered(101_325, 'Pa') }
const CONDITIONS = {
  temperature: entered(22, 'degC'),
  relativeHumidity: entered(45, '%'),
  pressure: entered(84_000, 'Pa'),
}

function aRunOf(given: GivenRun): RunInput {
  return faceRun({
    instrument: { senses: SENSES, standardCondition: STANDARD_AIR },
    calibrations: [CERTIFICATE],
    run: { conditions: CONDITIONS },
    ...given,
  })
}

/** Combined standard uncertainty of the first mean: U depends on the degrees of freedom as well. */
function combinedOf({ filters }: RunResult): number {
  const { expanded = Number.NaN, coverageFactor = Number.NaN } = filters[0]?.uncertainty?.meanVelocity ?? {}
  return expanded / coverageFactor
}

function compute(input: RunInput): RunResult {
  return methodOf(input.run.method).compute(input)
}

function expectSame(input: RunInput, subjectId: string, figure: BudgetFigure, value: number | null, kept: Uncertainty | null) {
  const budget = budgetOf(input, subjectId, figure)
  expect(budget === null).toBe(kept === null)
  if (!budget || !kept) return
  expect(budget.value).toBeCloseTo(value ?? Number.NaN, 10)
  expect(budget.expanded / kept.expanded).toBeCloseTo(1, 10)
  expect(budget.coverageFactor).toBeCloseTo(kept.coverageFactor, 12)
  expect(budget.usedDegreesOfFreedom).toBe(kept.degreesOfFreedom)
}

function expectAllSame(input: RunInput) {
  const result = compute(input)
  for (const filter of result.filters) {
    const { meanVelocity, flow, percentOfDesign } = filter.uncertainty ?? { meanVelocity: null, flow: null, percentOfDesign: null }
    expectSame(input, filter.terminalId, 'mean_velocity', filter.meanVelocityMps, meanVelocity)
    expectSame(input, filter.terminalId, 'flow', filter.flowM3ps, flow)
    expectSame(input, filter.terminalId, 'percent_of_design', filter.percentOfDesign, percentOfDesign)
  }
  for (const zone of result.zones) expectSame(input, zone.zoneId, 'mean_velocity', zone.meanVelocityMps, zone.uncertainty)
  const { room } = result
  const { supplyFlow, airChanges, percentOfDesign } = room.uncertainty ?? { supplyFlow: null, airChanges: null, percentOfDesign: null }
  expectSame(input, ROOM_ID, 'flow', room.supplyFlowM3ps, supplyFlow)
  expectSame(input, ROOM_ID, 'air_changes', room.airChangesPerHour, airChanges)
  expectSame(input, ROOM_ID, 'percent_of_design', room.percentOfDesign, percentOfDesign)
  return result
}

const velocities = fc.array(fc.double({ min: 0.05, max: 1.2, noNaN: true }), { minLength: 1, maxLength: 9 })
const aFilter = fc.record({
  readings: velocities,
  other: fc.boolean(),
  correction: fc.boolean(),
  areaPercent: fc.option(fc.double({ min: 0, max: 5, noNaN: true })),
  area: fc.constantFrom(0.6, 0.7),
  design: fc.option(fc.constantFrom(0.4, 0.45)),
})

const SECOND = uuid(0xc9)

describe('uncertainty in results and the budget that is shown', () => {
  it('are the same, whatever the filters, instruments, corrections and design values', () => {
    fc.assert(
      fc.property(fc.array(aFilter, { minLength: 1, maxLength: 4 }), fc.boolean(), fc.boolean(), (filters, conditioned, fixed) => {
        const input = aRunOf({
          filters: filters.map(({ readings, other, correction, areaPercent, area, design }) => ({
            readings: readings.map((si) => ({ si, instrumentId: other ? SECOND : INSTRUMENT_ID })),
            terminal: {
              effectiveArea: entered(area, 'm2'),
              areaUncertaintyPercent: areaPercent,
              correctionFactor: correction ? { factor: 0.97, reason: 'screen', uncertaintyPercent: null } : null,
              designVelocity: design === null ? null : entered(design, 'm/s'),
            },
          })),
          criteria: [],
          set: fixed ? { uncertainty: { ...STARTING_UNCERTAINTY, coverage: { kind: 'fixed', factor: 2 } } } : {},
          run: conditioned ? { conditions: CONDITIONS } : {},
        })
        const [first] = input.instruments
        if (!first) throw new Error('one instrument is given')
        const vane = { ...first.body, basis: 'actual' as const, serialNumber: 'FG-0002' }
        const calibration = input.calibrations.map((one) => ({ ...one, id: uuid(0x880), instrumentId: SECOND }))
        expectAllSame({
          ...input,
          instruments: [first, { id: SECOND, revision: 1, body: vane }],
          calibrations: [...input.calibrations, ...calibration],
        })
      }),
      { numRuns: 150 },
    )
  })

  it('are the same where calibration points correct the readings', () => {
    const point = (reading: number, trueValue: number) => ({
      quantity: 'velocity' as const,
      reading: entered(reading, 'm/s'),
      trueValue: entered(trueValue, 'm/s'),
      expandedUncertainty: entered(0.008, 'm/s'),
      coverageFactor: 2,
    })
    const certificate = aCalibration({
      points: [point(0.2, 0.21), point(0.4, 0.43), point(0.6, 0.62)],
      drift: [{ quantity: 'velocity', halfWidth: entered(0.01, 'm/s') }],
    })
    const given = { senses: SENSES, standardCondition: STANDARD_AIR, correctsByPoints: true }
    const input = aRunOf({
      filters: [{ readings: [0.31, 0.4, 0.52, 0.7] }, { readings: [0.3, 0.35] }],
      instrument: given,
      calibrations: [certificate],
    })
    const result = expectAllSame(input)
    expect(result.filters[0]?.uncertainty?.meanVelocity).not.toBeNull()
    const sources = budgetOf(input, terminalId(0), 'mean_velocity')?.lines.map(({ source }) => source)
    expect(sources).toEqual(expect.arrayContaining(['calibration', 'drift', 'interpolation', 'resolution', 'spatial', 'density']))
    expect(sources).not.toContain('accuracy')
  })

  it('are the same where points correct and no drift is stated: the accuracy statement stands in its place', () => {
    const point = (reading: number, trueValue: number) => ({
      quantity: 'velocity' as const,
      reading: entered(reading, 'm/s'),
      trueValue: entered(trueValue, 'm/s'),
      expandedUncertainty: entered(0.004, 'm/s'),
      coverageFactor: 2,
    })
    const points = [point(0.2, 0.21), point(0.4, 0.43), point(0.6, 0.62)]
    const readings = fc.array(fc.double({ min: 0.1, max: 1, noNaN: true }), { minLength: 2, maxLength: 6 })
    fc.assert(
      fc.property(readings, (typed) => {
        const given = (drift: EntityBody<'calibration'>['drift']) =>
          aRunOf({
            filters: [{ readings: typed }],
            instrument: { senses: SENSES, standardCondition: STANDARD_AIR, correctsByPoints: true },
            calibrations: [aCalibration({ points, drift })],
          })
        const silent = combinedOf(expectAllSame(given([])))
        const none = [{ quantity: 'velocity' as const, halfWidth: entered(0, 'm/s') }]
        const stated = combinedOf(expectAllSame(given(none)))
        expect(stated).toBeLessThan(silent)
        const drift = budgetOf(given([]), terminalId(0), 'mean_velocity')?.lines.find(({ source }) => source === 'drift')
        const accuracy = budgetOf(
          aRunOf({
            filters: [{ readings: typed }],
            instrument: { senses: SENSES, standardCondition: STANDARD_AIR },
            calibrations: [aCalibration({ points })],
          }),
          terminalId(0),
          'mean_velocity',
        )?.lines.find(({ source }) => source === 'accuracy')
        expect(drift?.origin[0]?.code).toBe('budget.origin.drift_not_stated')
        expect(drift?.contribution).toBeCloseTo(accuracy?.contribution ?? Number.NaN, 12)
      }),
      { numRuns: 60 },
    )
  })

  it('are the same for zones with settings of their own', () => {
    const own = { ...STARTING_UNCERTAINTY, areaPercent: 4, coverage: { kind: 'fixed', factor: 3 } } as const
    const input = aRunOf({
      filters: [{ readings: [0.4, 0.42, 0.44], terminal: { zoneId: ZONE_ID } }, { readings: [0.5, 0.52, 0.51] }],
      zones: [{ id: ZONE_ID, revision: 1, body: aZone() }],
      criteria: [],
    })
    const zoneCriteria = new Map([
      [ZONE_ID, { id: uuid(0xd1), revision: 1, body: { ...(input.criteriaSet?.body ?? never()), uncertainty: own } }],
    ])
    const result = expectAllSame({ ...input, zoneCriteria })
    expect(result.zones[0]?.uncertainty?.coverageFactor).toBe(3)
  })
})

function never(): never {
  throw new Error('criteria were given')
}

describe('what a budget says', () => {
  const filter = (readings: number[]) => ({ readings, terminal: { designVelocity: entered(0.45, 'm/s') } })

  it('two filters with one anemometer do not average its bias away', () => {
    // filters without scatter: calibration, accuracy and density alone matter, and the room is no surer than its filters
    const input = aRunOf({ filters: [filter([0.45, 0.45, 0.45, 0.45]), filter([0.45, 0.45, 0.45, 0.45])] })
    const result = compute(input)
    const one = result.filters[0]
    const relative = (one?.uncertainty?.flow?.expanded ?? 0) / (one?.flowM3ps ?? 1)
    const room = (result.room.uncertainty?.supplyFlow?.expanded ?? 0) / (result.room.supplyFlowM3ps ?? 1)
    // resolution alone is independent: 0.5 % of the variance of a filter
    expect(room / relative).toBeGreaterThan(0.97)
    expect(room / relative).toBeLessThanOrEqual(1)
  })

  it('by hand: one filter, four points, everything stated', () => {
    // 0.40 0.42 0.44 0.46 as indicated, no conditions: u^2 = spatial 1.66667e-4 + certificate ((0.015 x 0.43 + 0.004) / 2)^2 = 2.7301e-5
    // + accuracy (0.015 / sqrt 3)^2 = 7.5e-5 + resolution 8.3333e-6 = 2.77301e-4; veff = 3 (2.77301 / 1.66667)^2 = 8.30, t(8) = 2.306
    const input = aRunOf({ filters: [filter([0.4, 0.42, 0.44, 0.46])], run: {} })
    const [one] = compute(input).filters
    expect(one?.uncertainty?.meanVelocity?.degreesOfFreedom).toBe(8)
    expect(one?.uncertainty?.meanVelocity?.coverageFactor).toBeCloseTo(2.306, 3)
    expect(one?.uncertainty?.meanVelocity?.expanded).toBeCloseTo(2.306 * Math.sqrt(2.77301e-4), 5)
  })

  it('is not given for a face with one point, nor where nothing states how wrong the instrument may be', () => {
    const single = aRunOf({ filters: [filter([0.45])] })
    expect(compute(single).filters[0]?.uncertainty).toBeNull()
    expect(budgetOf(single, terminalId(0), 'mean_velocity')).toBeNull()
    const unstated = aRunOf({ filters: [filter([0.44, 0.46])], instrument: {}, calibrations: [aCalibration()] })
    expect(compute(unstated).filters[0]?.uncertainty).toBeNull()
    expect(compute(unstated).room.uncertainty).toBeNull()
  })

  it('a closed terminal is a recorded zero and adds nothing', () => {
    const open = aRunOf({ filters: [filter([0.44, 0.46])] })
    const closed = aRunOf({ filters: [filter([0.44, 0.46]), { readings: [], terminal: { closed: { reason: 'not in use' } } }] })
    expect(compute(closed).room.uncertainty?.supplyFlow).toEqual(compute(open).room.uncertainty?.supplyFlow)
  })

  it('shares add up to 100 %, and every term says where it comes from', () => {
    const input = aRunOf({ filters: [filter([0.4, 0.42, 0.44, 0.46]), filter([0.41, 0.43, 0.47, 0.46])] })
    const budget = budgetOf(input, ROOM_ID, 'air_changes')
    expect(budget?.lines.reduce((sum, { sharePercent }) => sum + sharePercent, 0)).toBeCloseTo(100, 8)
    for (const line of budget?.lines ?? []) {
      expect(line.origin.length).toBeGreaterThan(0)
      for (const { code, params } of line.origin) expect(say('en', formatter, code, params)).toMatch(/\.$/)
      expect(line.terms.length).toBeGreaterThan(0)
    }
    expect(budget?.lines.map(({ source }) => source).sort()).toEqual(
      ['accuracy', 'area', 'calibration', 'density', 'resolution', 'spatial', 'volume'].sort(),
    )
  })

  it('judges by it: a guarded rule near the limit is inconclusive, and U and k are kept', () => {
    const atLeast = aCriterion({
      quantity: 'face_velocity',
      scope: 'filter',
      form: { kind: 'at_least', limit: { from: 'value', value: entered(0.36, 'm/s') } },
    })
    const at = (value: number) =>
      compute(
        aRunOf({
          filters: [filter([value - 0.01, value, value + 0.01])],
          criteria: [atLeast],
          set: { decisionRule: { kind: 'guarded', multiple: 1 } },
          run: {},
        }),
      )
    const near = at(0.37)
    expect(near.filters[0]?.criteria[0]).toMatchObject({ verdict: 'inconclusive' })
    expect(near.verdict).toBe('inconclusive')
    expect(near.filters[0]?.criteria[0]?.expandedUncertainty).toBe(near.filters[0]?.uncertainty?.meanVelocity?.expanded)
    expect(at(0.45).verdict).toBe('pass')
    expect(at(0.25).verdict).toBe('fail')
  })
})
