import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { methodOf } from '#core/methods/catalogue.ts'
import { STARTING_UNCERTAINTY } from '#core/model/criteria.ts'
import { accuracyHalfWidth } from '#core/uncertainty/accuracy.ts'
import { COVERAGE_95, COVERAGE_K2, combine } from '#core/uncertainty/budget.ts'
import { flowTerms, type MeasuredMean, meanTerms } from '#core/uncertainty/filter-terms.ts'
import type { BudgetInstrument } from '#core/uncertainty/instrument-terms.ts'
import { airChanges, percentOfDesign, sumOf } from '#core/uncertainty/room-terms.ts'
import { contributionOf, rectangularTerm, standardTerm, type Term } from '#core/uncertainty/term.ts'
import { aCalibration, entered } from './face-run.ts'
import { aDuct, roomRun } from './room-run.ts'

const instrument: BudgetInstrument = {
  instrumentId: 'A1',
  certificateId: '2026-11',
  certificate: { expandedPercentOfReading: 0, expandedAbsolute: 0.01, coverageFactor: 2 },
  accuracy: { form: 'greater_of', percentOfReading: 3, absolute: 0.015 },
  curve: null,
  driftHalfWidth: 0.006,
  resolution: 0.01,
}

function contributions(terms: readonly Term[]): Record<string, number> {
  return Object.fromEntries(terms.map((term) => [term.source, contributionOf(term)]))
}

function gridMean(terminalId: string, parts: readonly number[], of: BudgetInstrument = instrument): MeasuredMean {
  const value = parts.reduce((sum, part) => sum + part, 0) / parts.length
  const readings = parts.map((part) => ({ indicated: part, sensitivity: 1 }))
  return { terminalId, value, parts, sampling: { kind: 'face_grid' }, measured: [{ instrument: of, readings }], density: null }
}

describe('accuracy statements', () => {
  it('are a sum, or the greater of two, and use the size of the reading', () => {
    expect(accuracyHalfWidth({ form: 'sum_of', percentOfReading: 3, absolute: 0.01 }, 0.5)).toBeCloseTo(0.025, 12)
    expect(accuracyHalfWidth({ form: 'greater_of', percentOfReading: 3, absolute: 0.01 }, 0.5)).toBeCloseTo(0.015, 12)
    expect(accuracyHalfWidth({ form: 'greater_of', percentOfReading: 3, absolute: 0.01 }, 0.1)).toBe(0.01)
    expect(accuracyHalfWidth({ form: 'sum_of', percentOfReading: 3, absolute: 0.01 }, -0.5)).toBeCloseTo(0.025, 12)
  })
})

describe('budget of a filter mean, by hand', () => {
  // points 0.40 0.42 0.44 0.46: mean 0.43, s = 0.0258199, / sqrt 4 = 0.0129099, 3 degrees of freedom; certificate 0.005; accuracy
  // max(0.0129, 0.015) / sqrt 3 = 0.0086603; resolution 0.005 / sqrt 3 = 0.0028868;
  // u = sqrt(1.66667e-4 + 2.5e-5 + 7.5e-5 + 8.3333e-6) = sqrt(2.75e-4) = 0.0165831; veff = 3 x (2.75 / 1.66667)^2 = 8.1675
  const terms = meanTerms(gridMean('F-1', [0.4, 0.42, 0.44, 0.46])) ?? []
  const budget = combine(0.43, terms, COVERAGE_95)

  it('takes the mean of the half widths of its readings: one error at every point does not average out', () => {
    // greater of 10 % and 0.05: 0.05 at 0.1 and 0.1 at 1 m/s, 0.075 in the mean, / sqrt 3
    const coarse: BudgetInstrument = { ...instrument, accuracy: { form: 'greater_of', percentOfReading: 10, absolute: 0.05 } }
    expect(contributions(meanTerms(gridMean('F-1', [0.1, 1], coarse)) ?? []).accuracy).toBeCloseTo(0.075 / Math.sqrt(3), 12)
  })

  it('has its four terms', () => {
    const found = contributions(terms)
    expect(Object.keys(found).sort()).toEqual(['accuracy', 'calibration', 'resolution', 'spatial'])
    expect(found.calibration).toBeCloseTo(0.005, 12)
    expect(found.accuracy).toBeCloseTo(0.0086603, 7)
    expect(found.resolution).toBeCloseTo(0.0028868, 7)
    expect(found.spatial).toBeCloseTo(0.0129099, 7)
  })

  it('adds up, with 8 degrees of freedom and t = 2.306', () => {
    expect(budget.combined).toBeCloseTo(0.0165831, 7)
    expect(budget.effectiveDegreesOfFreedom).toBeCloseTo(8.1675, 3)
    expect(budget.usedDegreesOfFreedom).toBe(8)
    expect(budget.expanded).toBeCloseTo(2.306 * 0.0165831, 4)
    expect(combine(0.43, terms, COVERAGE_K2).expanded).toBeCloseTo(0.0331662, 7)
  })

  it('does not exist for one point of a grid, while a hood without repeats has one', () => {
    expect(meanTerms(gridMean('F-1', [0.4]))).toBeNull()
    const single: MeasuredMean = { ...gridMean('F-1', [0.4]), sampling: { kind: 'repeats' } }
    expect(contributions(meanTerms(single) ?? [])).not.toHaveProperty('repeat')
    const repeated: MeasuredMean = { ...gridMean('F-1', [0.4, 0.42]), sampling: { kind: 'repeats' } }
    expect(contributions(meanTerms(repeated) ?? []).repeat).toBeCloseTo(0.01, 12)
  })

  it('of a traverse has the rule instead of the scatter', () => {
    const traverse: MeasuredMean = { ...gridMean('D-1', [4, 5, 6]), sampling: { kind: 'traverse', rulePercent: 2 } }
    const found = contributions(meanTerms(traverse) ?? [])
    expect(found.traverse_rule).toBeCloseTo(0.1, 12)
    expect(found).not.toHaveProperty('spatial')
  })

  it('takes two instruments by their shares of the readings', () => {
    const other = { ...instrument, instrumentId: 'A2' }
    const [first, second] = [[0.4, 0.4, 0.4], [0.4]].map((values) => values.map((indicated) => ({ indicated, sensitivity: 1 })))
    const mean: MeasuredMean = {
      ...gridMean('F-1', [0.4, 0.4, 0.4, 0.4]),
      measured: [
        { instrument, readings: first ?? [] },
        { instrument: other, readings: second ?? [] },
      ],
    }
    const found = combine(0.4, meanTerms(mean) ?? [], COVERAGE_K2).components.filter(({ terms: [term] }) => term?.source === 'calibration')
    expect(found.map(({ contribution }) => Number(contribution.toFixed(9)))).toEqual([0.00375, 0.00125])
  })
})

describe('correlation', () => {
  it('two filters with one anemometer do not average its bias away; with two anemometers they do', () => {
    const flat = [0.4, 0.4, 0.4, 0.4]
    const meanOfTwo = (second: BudgetInstrument) => {
      const terms = [gridMean('F-1', flat), gridMean('F-2', flat, second)].map((mean) => meanTerms(mean) ?? [])
      return combine(
        0.4,
        terms.flat().map((term) => ({ ...term, sensitivity: term.sensitivity / 2 })),
        COVERAGE_K2,
      )
    }
    const share = (second: BudgetInstrument) =>
      Math.sqrt(
        meanOfTwo(second)
          .components.filter(({ group }) => group !== null)
          .reduce((sum, { contribution }) => sum + contribution ** 2, 0),
      )
    expect(share(instrument)).toBeCloseTo(Math.hypot(0.005, 0.015 / Math.sqrt(3)), 12)
    expect(share({ ...instrument, instrumentId: 'A2' })).toBeCloseTo(share(instrument) / Math.SQRT2, 12)
    // another certificate of the same instrument is another error
    expect(share({ ...instrument, certificateId: '2027-02' })).toBeCloseTo(share(instrument) / Math.SQRT2, 12)
  })

  it('cancels between equal terms of opposite sign, and leaves what is not shared', () => {
    const result = (id: string) => ({ value: 0.4, terms: meanTerms(gridMean(id, [0.38, 0.42])) ?? [] })
    const difference = sumOf([
      { sign: 1, result: result('F-1') },
      { sign: -1, result: result('F-2') },
    ])
    const { components } = combine(0, difference?.terms ?? [], COVERAGE_95)
    for (const { group, contribution } of components)
      if (group !== null) expect(contribution).toBeCloseTo(0, 15)
      else expect(Math.abs(contribution)).toBeGreaterThan(0)
  })

  it('is summed before Welch and Satterthwaite: a shared term of 4 degrees of freedom keeps 4, however often it is seen', () => {
    const shared = (): Term => standardTerm('calibration', null, 1, 4, 'one certificate')
    expect(combine(0, [shared(), shared(), shared()], COVERAGE_95).effectiveDegreesOfFreedom).toBeCloseTo(4, 12)
    expect(
      combine(
        0,
        [1, 2, 3].map(() => standardTerm('other', null, 1, 4)),
        COVERAGE_95,
      ).effectiveDegreesOfFreedom,
    ).toBeCloseTo(12, 12)
  })

  it('never makes U depend on the order of the terms or on the unit', () => {
    const term = fc.record({
      value: fc.double({ min: 0.001, max: 5, noNaN: true }),
      dof: fc.integer({ min: 1, max: 40 }),
      group: fc.constantFrom(null, 'a', 'b'),
    })
    fc.assert(
      fc.property(fc.array(term, { minLength: 1, maxLength: 8 }), fc.double({ min: 0.001, max: 1000, noNaN: true }), (given, unit) => {
        const terms = given.map(({ value, dof, group }) => standardTerm('other', null, value, dof, group))
        const budget = combine(0, terms, COVERAGE_K2)
        const again = combine(
          0,
          [...terms].reverse().map((one) => ({ ...one, sensitivity: unit })),
          COVERAGE_K2,
        )
        expect(again.expanded / unit).toBeCloseTo(budget.expanded, 9)
        expect(again.effectiveDegreesOfFreedom).toBeCloseTo(budget.effectiveDegreesOfFreedom, 6)
      }),
    )
  })

  it('nothing uncertain has U = 0 and no share', () => {
    const budget = combine(1, [standardTerm('other', null, 0, 3)], COVERAGE_95)
    expect(budget).toMatchObject({ combined: 0, expanded: 0, usedDegreesOfFreedom: Number.POSITIVE_INFINITY })
    expect(budget.components[0]?.sharePercent).toBe(0)
  })

  it('truncates degrees of freedom down, a whole number staying whole, never under 1', () => {
    const equal = (dof: number, count: number) =>
      combine(
        0,
        Array.from({ length: count }, () => standardTerm('other', null, 0.1, dof)),
        COVERAGE_95,
      ).usedDegreesOfFreedom
    for (const count of [2, 3, 5, 7, 11]) expect(equal(3, count)).toBe(3 * count)
    expect(equal(0.5, 1)).toBe(1)
  })
})

describe('flow, room, air changes, percent of design', () => {
  const area = { size: 0.6, relativeUncertainty: 0.01, group: 'model' }

  it('carry relative uncertainties on: in quadrature for one filter', () => {
    const mean = gridMean('F-1', [0.4, 0.42, 0.44, 0.46])
    const flow = flowTerms(mean, area, [{ source: 'correction_factor', factor: 1.05, relativeUncertainty: 0.02, group: null }])
    expect(flow?.flowM3ps).toBeCloseTo(0.43 * 0.6 * 1.05, 12)
    const relative = combine(flow?.flowM3ps ?? 0, flow?.terms ?? [], COVERAGE_K2).combined / (flow?.flowM3ps ?? 0)
    expect(relative).toBeCloseTo(Math.hypot(0.0165831 / 0.43, 0.01, 0.02), 6)
    const rate = airChanges(
      { value: flow?.flowM3ps ?? 0, terms: flow?.terms ?? [] },
      { size: 40, relativeUncertainty: 0.03, group: null },
      'room',
    )
    expect(rate?.value).toBeCloseTo((3600 * 0.2709) / 40, 9)
    expect(combine(0, rate?.terms ?? [], COVERAGE_K2).combined / (rate?.value ?? 0)).toBeCloseTo(Math.hypot(relative, 0.03), 9)
    const share = percentOfDesign({ value: flow?.flowM3ps ?? 0, terms: flow?.terms ?? [] }, 0.3)
    expect(share?.value).toBeCloseTo(90.3, 9)
    expect(combine(0, share?.terms ?? [], COVERAGE_K2).combined / 90.3).toBeCloseTo(relative, 12)
  })

  it('the area of one model is one error over all its filters', () => {
    const flows = ['F-1', 'F-2'].map((id) => flowTerms(gridMean(id, [0.4, 0.4]), area, []))
    const room = sumOf(flows.map((flow) => ({ sign: 1, result: flow && { value: flow.flowM3ps, terms: flow.terms } })))
    const { components } = combine(room?.value ?? 0, room?.terms ?? [], COVERAGE_K2)
    expect(components.find(({ group }) => group === 'model')?.contribution).toBeCloseTo(0.01 * 0.48, 12)
  })

  it('have none where a part has none, a volume is nothing or a design is missing', () => {
    expect(flowTerms(gridMean('F-1', [0.4]), area, [])).toBeNull()
    expect(sumOf([{ sign: 1, result: null }])).toBeNull()
    expect(airChanges({ value: 1, terms: [] }, { size: 0, relativeUncertainty: 0, group: null }, 'room')).toBeNull()
    expect(percentOfDesign({ value: 1, terms: [] }, 0)).toBeNull()
  })

  it('a hood is measured as a flow, with its own factor', () => {
    const mean: MeasuredMean = { ...gridMean('S-1', [0.3, 0.31]), sampling: { kind: 'repeats' } }
    const flow = flowTerms(mean, null, [{ source: 'hood_factor', factor: 1.1, relativeUncertainty: 0.03, group: 'hood swirl' }])
    expect(flow?.flowM3ps).toBeCloseTo(0.3355, 12)
    expect(contributions(flow?.terms ?? []).hood_factor).toBeCloseTo(0.03 * 0.3355, 12)
    expect(contributions(flow?.terms ?? [])).not.toHaveProperty('area')
  })

  it('the density enters by its exponent, and not where nothing was converted', () => {
    const density = (exponent: number) =>
      contributions(meanTerms({ ...gridMean('F-1', [0.5, 0.5]), density: { relativeUncertainty: 0.01, exponent, group: 'visit' } }) ?? [])
        .density
    expect(density(-1)).toBeCloseTo(-0.005, 12)
    expect(density(-0.5)).toBeCloseTo(-0.0025, 12)
    expect(density(0)).toBeUndefined()
  })

  it('a pitot tube passes on half the relative error of its pressure', () => {
    // v = sqrt(2 p / 1.2046): 60.23 Pa is 10 m/s. The certificate's U = 1.2 Pa with k = 2 is u = 0.6 Pa, dv / dp = 10 / (2 x 60.23), so u = 0.049809
    // m/s; half a step of 0.001 Pa is nothing beside it; U = 1.959964 x 0.049809 = 0.097624 m/s (the rule's own term set to nothing).
    const known = {
      quantity: 'velocity_pressure',
      expandedPercentOfReading: 0,
      expandedAbsolute: entered(1.2, 'Pa'),
      coverageFactor: 2,
    } as const
    const expandedAt = (pressurePa: number) => {
      const terminal = { kind: 'duct_section', mounting: 'duct', duct: aDuct({ measures: 'velocity_pressure' }) } as const
      const input = roomRun([{ terminal, readings: [pressurePa, pressurePa, pressurePa, pressurePa] }], {
        calibrations: [aCalibration({ uncertainty: [known] })],
        criteria: [],
        set: { uncertainty: { ...STARTING_UNCERTAINTY, traverseRulePercent: 0 } },
      })
      return methodOf('room_airflow').compute(input).filters[0]?.uncertainty?.meanVelocity?.expanded
    }
    expect(expandedAt(60.23)).toBeCloseTo(0.097624, 5)
    // At zero pressure the root has no slope to give.
    expect(expandedAt(0)).toBe(0)
  })
})

describe('terms', () => {
  it('divide a rectangle by the root of three', () => {
    expect(contributionOf({ ...rectangularTerm('resolution', null, 0.3), sensitivity: -2 })).toBeCloseTo(-0.6 / Math.sqrt(3), 12)
  })
})
