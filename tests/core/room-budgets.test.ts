import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { budgetOf } from '#core/methods/airflow/uncertainty/budget-of.ts'
import { methodOf } from '#core/methods/catalogue.ts'
import type { RunInput } from '#core/methods/method.ts'
import type { BudgetFigure } from '#core/model/budgets.ts'
import type { CriterionQuantity } from '#core/model/criteria.ts'
import type { EntityBody } from '#core/model/entities.ts'
import type { Basis, Quantity, Unit } from '#core/model/values.ts'
import { aCalibration, aCriterion, entered, ROOM_ID, terminalId } from './face-run.ts'
import { aDuct, aMeter, type GivenTerminal, roomRun, sensing, someAir } from './room-run.ts'

const UNIT: Partial<Record<Quantity, Unit>> = { velocity: 'm/s', flow: 'm3/s', velocity_pressure: 'Pa', pressure_difference: 'Pa' }
const QUANTITIES = [
  sensing('velocity', 0.01, 50),
  sensing('flow', 0.001, 5),
  sensing('velocity_pressure', 0, 2000),
  sensing('pressure_difference', -500, 2000),
]
const SENSES: EntityBody<'instrument'>['senses'] = QUANTITIES.map((one) => ({
  ...one,
  accuracy: { form: 'sum_of', percentOfReading: 2, absolute: entered(0.004, UNIT[one.quantity] ?? 'm/s') },
}))
const CERTIFICATE = aCalibration({
  uncertainty: QUANTITIES.map(({ quantity }) => ({
    quantity,
    expandedPercentOfReading: 1,
    expandedAbsolute: entered(0.002, UNIT[quantity] ?? 'm/s'),
    coverageFactor: 2,
  })),
})
const STANDARD_AIR = { temperature: entered(20, 'degC'), pressure: entered(101_325, 'Pa') }
const HIGH_UP = someAir(23, 83_500, 40)

const grid = { rows: 2, columns: 2 }
const supply = (readings: readonly number[]): GivenTerminal => ({ terminal: { grid, designVelocity: entered(0.45, 'm/s') }, readings })
const hoodReturn = (repeats: readonly number[]): GivenTerminal => ({
  terminal: { kind: 'return_grille', face: 'louvre', correctionFactor: { factor: 1.03, reason: 'edge', uncertaintyPercent: 1.5 } },
  readings: [repeats],
})
const pitotDuct = (pressures: readonly number[]): GivenTerminal => ({
  terminal: {
    kind: 'duct_section',
    mounting: 'duct',
    duct: aDuct({ measures: 'velocity_pressure', direction: 'exhaust', countsInRoom: true }),
  },
  readings: pressures,
})
const elementExhaust = (pressure: number): GivenTerminal => ({
  terminal: {
    kind: 'exhaust_grille',
    face: 'grille',
    measuredBy: 'flow_element',
    flowElement: { kind: 'stated', flowAtOnePascal: entered(0.012, 'm3/s'), statedDensityKgpm3: 1.2, uncertaintyPercent: null },
  },
  readings: [pressure],
})

function aRoom(terminals: readonly GivenTerminal[], basis: Basis = 'standard', more: Parameters<typeof roomRun>[1] = {}): RunInput {
  const instrument = aMeter({
    senses: SENSES,
    basis,
    standardCondition: STANDARD_AIR,
    hoodFactors: [
      { face: 'louvre', low: entered(0, 'm3/s'), high: entered(5, 'm3/s'), factor: 0.95, uncertaintyPercent: 3, reason: 'duct traverse' },
    ],
  })
  return roomRun(terminals, { instrument, calibrations: [CERTIFICATE], ...more, run: { conditions: HIGH_UP, ...more.run } })
}

function expectBudgets(input: RunInput) {
  const result = methodOf(input.run.method).compute(input)
  const check = (
    subjectId: string,
    figure: BudgetFigure,
    value: number | null,
    kept: { expanded: number; degreesOfFreedom: number | null } | null,
  ) => {
    const budget = budgetOf(input, subjectId, figure)
    expect(budget === null).toBe(kept === null)
    if (!budget || !kept) return
    expect(budget.value / (value ?? Number.NaN)).toBeCloseTo(1, 9)
    expect(budget.expanded / kept.expanded).toBeCloseTo(1, 9)
    expect(budget.usedDegreesOfFreedom).toBe(kept.degreesOfFreedom)
  }
  for (const filter of result.filters) {
    check(filter.terminalId, 'mean_velocity', filter.meanVelocityMps, filter.uncertainty?.meanVelocity ?? null)
    check(filter.terminalId, 'flow', filter.flowM3ps, filter.uncertainty?.flow ?? null)
  }
  const { room } = result
  check(ROOM_ID, 'flow', room.supplyFlowM3ps, room.uncertainty?.supplyFlow ?? null)
  check(ROOM_ID, 'air_changes', room.airChangesPerHour, room.uncertainty?.airChanges ?? null)
  check(ROOM_ID, 'offset', room.balance?.offsetM3ps ?? null, room.uncertainty?.offset ?? null)
  return result
}

const velocities = fc.array(fc.double({ min: 0.2, max: 0.8, noNaN: true }), { minLength: 4, maxLength: 4 })
const pressures = fc.array(fc.double({ min: 5, max: 60, noNaN: true }), { minLength: 4, maxLength: 4 })
const flows = fc.array(fc.double({ min: 0.05, max: 0.4, noNaN: true }), { minLength: 1, maxLength: 3 })

describe('uncertainty of a whole room', () => {
  it('is the same in results and budgets, for every way of measuring and what the instrument indicates', () => {
    const basis = fc.constantFrom<Basis>('standard', 'actual', 'as_indicated')
    fc.assert(
      fc.property(
        velocities,
        velocities,
        flows,
        pressures,
        fc.double({ min: 1, max: 50, noNaN: true }),
        basis,
        (a, b, hood, duct, element, indicates) => {
          expectBudgets(aRoom([supply(a), supply(b), hoodReturn(hood), pitotDuct(duct), elementExhaust(element)], indicates))
        },
      ),
      { numRuns: 60 },
    )
  })

  it('shared errors partly cancel in supply less return: as many percent of the supply would be far more', () => {
    const result = expectBudgets(aRoom([supply([0.45, 0.45, 0.45, 0.45]), supply([0.45, 0.45, 0.45, 0.45])]))
    const both = expectBudgets(
      aRoom([
        supply([0.45, 0.45, 0.45, 0.45]),
        supply([0.45, 0.45, 0.45, 0.45]),
        { terminal: { kind: 'return_grille', face: 'grille', grid, measuredBy: 'face_grid' }, readings: [0.45, 0.45, 0.45, 0.45] },
      ]),
    )
    const ofSupply = result.room.uncertainty?.supplyFlow?.expanded ?? 0
    const ofOffset = both.room.uncertainty?.offset?.expanded ?? Number.NaN
    // one of two equal flows is taken away again: what all three share is halved
    expect(ofOffset / ofSupply).toBeLessThan(0.6)
    expect(ofOffset).toBeGreaterThan(0)
  })

  it('the density that made standard flow of a thermal reading actual is not in its standard offset again', () => {
    const sources = (basis: Basis) =>
      budgetOf(aRoom([supply([0.4, 0.42, 0.44, 0.46]), hoodReturn([0.1, 0.11])], basis), ROOM_ID, 'offset')?.lines.map(
        ({ source }) => source,
      )
    expect(sources('standard')).not.toContain('density')
    // a rotating vane shows actual air: its mass needs the density
    expect(sources('actual')).toContain('density')
  })

  it('two densities have two errors where the air at the instrument was recorded separately', () => {
    const apart = { run: { instrumentConditions: someAir(24, 83_400, 38) } }
    const terminals = [supply([0.4, 0.42, 0.44, 0.46]), hoodReturn([0.1, 0.11]), pitotDuct([20, 21, 22, 23]), elementExhaust(10)]
    const relative = (basis: Basis, index: number, more = {}) => {
      const budget = budgetOf(aRoom(terminals, basis, more), terminalId(index), 'flow')
      const lines = budget?.lines.filter(({ source }) => source === 'density') ?? []
      return lines.flatMap(({ terms }) => terms.map(({ sensitivity }) => sensitivity / (budget?.value ?? Number.NaN)))
    }
    // thermal: the display speaks of mass, the filter's density alone makes it actual; a vane: rho_i / rho_f; a pressure: sqrt(rho_i) / rho_f
    expect(relative('standard', 0, apart)).toEqual([expect.closeTo(-1, 9)])
    expect(relative('actual', 0, apart).toSorted((a, b) => a - b)).toEqual([expect.closeTo(-1, 9), expect.closeTo(1, 9)])
    for (const index of [2, 3])
      expect(relative('standard', index, apart).toSorted((a, b) => a - b)).toEqual([expect.closeTo(-1, 9), expect.closeTo(0.5, 9)])
    // one air at both: one density, and what is done with it twice partly cancels
    expect(relative('actual', 0)).toEqual([])
    expect(relative('standard', 2)).toEqual([expect.closeTo(-0.5, 9)])
    for (const basis of ['standard', 'actual', 'as_indicated'] as const) expectBudgets(aRoom(terminals, basis, apart))
  })

  it('each way has its own terms', () => {
    const input = aRoom([supply([0.4, 0.42, 0.44, 0.46]), hoodReturn([0.1, 0.11]), pitotDuct([20, 21, 22, 23]), elementExhaust(10)])
    const sources = (index: number) =>
      (budgetOf(input, terminalId(index), 'flow')?.lines.map(({ source }) => source) ?? []).toSorted((one, other) =>
        one.localeCompare(other),
      )
    expect(sources(0)).toEqual(['accuracy', 'area', 'calibration', 'density', 'resolution', 'spatial'])
    expect(sources(1)).toEqual(['accuracy', 'calibration', 'correction_factor', 'density', 'hood_factor', 'repeat', 'resolution'])
    expect(sources(2)).toEqual(['accuracy', 'area', 'calibration', 'density', 'resolution', 'traverse_rule'])
    expect(sources(3)).toEqual(['accuracy', 'calibration', 'density', 'flow_element', 'resolution'])
  })

  it('a flow element is as wrong as it states, else as the criteria set says, beside the instrument', () => {
    // half widths of 2 % (of the set) and 5 % (its own), rectangles: 2 / sqrt 3 = 1.1547 %, 5 / sqrt 3 = 2.8868 % of the flow
    const uncertain = (uncertaintyPercent: number | null) => {
      const { terminal, readings } = elementExhaust(10)
      const flowElement = terminal?.flowElement ? { ...terminal.flowElement, uncertaintyPercent } : null
      const budget = budgetOf(
        aRoom([supply([0.4, 0.42, 0.44, 0.46]), { terminal: { ...terminal, flowElement }, readings }]),
        terminalId(1),
        'flow',
      )
      const line = budget?.lines.find(({ source }) => source === 'flow_element')
      return { percent: (100 * (line?.contribution ?? Number.NaN)) / (budget?.value ?? Number.NaN), says: line?.origin[0]?.code }
    }
    expect(uncertain(null).percent).toBeCloseTo(1.1547, 4)
    expect(uncertain(null).says).toBe('budget.origin.flow_element')
    expect(uncertain(5).percent).toBeCloseTo(2.8868, 4)
    expect(uncertain(5).says).toBe('budget.origin.own_flow_element')
    expect(uncertain(0).percent).not.toBeGreaterThan(0)
  })

  it('judges the offset by it, in flow and in percent of supply, on every basis', () => {
    const offset = (quantity: CriterionQuantity, basis: Basis, unit: Unit, at: number) =>
      aCriterion({
        key: `${quantity}_${basis}`,
        quantity,
        scope: 'room',
        basis,
        form: { kind: 'at_least', limit: { from: 'value', value: entered(at, unit) } },
      })
    const bases: readonly Basis[] = ['as_indicated', 'standard', 'actual']
    const input = aRoom([supply([0.44, 0.45, 0.46, 0.45]), hoodReturn([0.2, 0.21])], 'standard', {
      criteria: bases.flatMap((basis) => [offset('air_offset', basis, 'm3/s', 0), offset('air_offset_percent', basis, '%', 0)]),
      set: { decisionRule: { kind: 'guarded', multiple: 1 } },
    })
    const { roomCriteria } = methodOf('room_airflow').compute(input)
    expect(roomCriteria).toHaveLength(6)
    for (const { expandedUncertainty, guardBand, verdict } of roomCriteria) {
      expect(expandedUncertainty).toBeGreaterThan(0)
      expect(guardBand).toBe(expandedUncertainty)
      expect(verdict).toBe('pass')
    }
  })
})
