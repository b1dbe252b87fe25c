import { describe, expect, it } from 'vitest'
import { methodOf } from '#core/methods/catalogue.ts'
import type { CriteriaSet, Criterion } from '#core/model/criteria.ts'
import type { EntityBody } from '#core/model/entities.ts'
import { roomQuestions } from '#core/rooms/what-if-of-run.ts'
import { aCalibration, aCriterion, entered } from './face-run.ts'
import { aMeter, type GivenTerminal, roomRun } from './room-run.ts'

/*
 * The advice is held against the calculation itself: the readings of the filter are multiplied as it says, and the room is evaluated again.
 */
const senses: EntityBody<'instrument'>['senses'] = [
  {
    quantity: 'velocity',
    low: entered(0.01, 'm/s'),
    high: entered(50, 'm/s'),
    resolution: entered(0.01, 'm/s'),
    accuracy: { form: 'sum_of', percentOfReading: 3, absolute: entered(0.02, 'm/s') },
  },
  {
    quantity: 'flow',
    low: entered(0.01, 'm3/s'),
    high: entered(5, 'm3/s'),
    resolution: entered(0.001, 'm3/s'),
    accuracy: { form: 'sum_of', percentOfReading: 3, absolute: entered(0.002, 'm3/s') },
  },
]
const meter = aMeter({ senses })

const grid = (readings: readonly number[]): GivenTerminal => ({ terminal: { grid: { rows: 2, columns: 2 } }, readings })
const hood = (flow: number, terminal: GivenTerminal['terminal'] = {}): GivenTerminal => ({
  terminal: { face: 'swirl', ...terminal },
  readings: [flow],
})

const airChanges = (limit: string): Criterion =>
  aCriterion({
    quantity: 'air_changes',
    scope: 'room',
    basis: 'actual',
    form: { kind: 'at_least', limit: { from: 'value', value: { si: Number(limit), typed: limit, unit: '1/h' } } },
  })

type Given = { readonly set?: Partial<CriteriaSet>; readonly criteria: Criterion[] }

function evaluated(terminals: readonly GivenTerminal[], { set, criteria }: Given) {
  const input = roomRun(terminals, { instrument: meter, calibrations: [aCalibration()], criteria, ...(set ? { set } : {}) })
  const result = methodOf('room_airflow').compute(input)
  return { result, question: roomQuestions(result, input.terminals)[0] }
}

function typedIn(terminals: readonly GivenTerminal[], given: Given) {
  const { question, result } = evaluated(terminals, given)
  const remedies = question?.answer?.remedies ?? []
  const after = remedies.map(({ terminalId, fromM3ps, toM3ps }) => {
    const place = result.filters.findIndex((filter) => filter.terminalId === terminalId)
    const raised = terminals.map((one, index) =>
      index === place ? { ...one, readings: one.readings.map((si) => (typeof si === 'number' ? (si * toM3ps) / fromM3ps : si)) } : one,
    )
    return evaluated(raised, given).result.roomCriteria[0]
  })
  return { question, before: result.roomCriteria[0], after }
}

const guarded = (comparison: CriteriaSet['comparison'] = 'absolute'): Partial<CriteriaSet> => ({
  decisionRule: { kind: 'guarded', multiple: 1 },
  comparison,
})
const byGrid = [grid([0.4, 0.42, 0.44, 0.45]), grid([0.38, 0.4, 0.42, 0.43]), grid([0.41, 0.44, 0.44, 0.47])]
const byHood = [hood(0.155), hood(0.15), hood(0.166)]

describe('what a what-if advises, typed in', () => {
  const rules: readonly [string, Partial<CriteriaSet>][] = [
    ['simple', {}],
    ['rounded', { comparison: 'rounded_to_limit' }],
    ['guarded', guarded()],
    ['guarded and rounded', guarded('rounded_to_limit')],
  ]
  for (const [name, set] of rules)
    for (const [way, terminals] of [
      ['grids', byGrid],
      ['hoods', byHood],
    ] as const)
      it(`passes, whichever filter is raised: ${name}, by ${way}`, () => {
        const now = evaluated(terminals, { criteria: [airChanges('1')] }).result.roomCriteria[0]?.value ?? Number.NaN
        const limit = String(Math.ceil(now * 1.05))
        const { before, after, question } = typedIn(terminals, { set, criteria: [airChanges(limit)] })
        expect(before?.verdict).not.toBe('pass')
        expect(question?.undecidable).toBe(false)
        expect(after).toHaveLength(3)
        expect(after.map((one) => one?.verdict)).toEqual(['pass', 'pass', 'pass'])
        // On the safe side, and no more than a twentieth of the limit beyond its guard band.
        for (const one of after) expect((one?.value ?? 0) - Number(limit) - (one?.guardBand ?? 0)).toBeLessThan(0.05 * Number(limit) + 0.5)
      })

  it('lacks nothing where the room passes by rounding', () => {
    const now = evaluated(byHood, { criteria: [airChanges('1')] }).result.roomCriteria[0]?.value ?? Number.NaN
    const limit = String(Math.round(now) - now > 0 ? Math.round(now) : Math.ceil(now))
    const scaled = byHood.map(({ terminal, readings }) => ({
      terminal,
      readings: readings.map((si) => (typeof si === 'number' ? (si * (Number(limit) - 0.4)) / now : si)),
    }))
    const { question, before } = typedIn(scaled, { set: { comparison: 'rounded_to_limit' }, criteria: [airChanges(limit)] })
    expect(before?.verdict).toBe('pass')
    expect(question?.answer).toMatchObject({ changeM3ps: 0, remedies: [] })
  })

  it('keeps a hood terminal to its own limits of flow, on the basis that they name', () => {
    const within: Criterion = aCriterion({
      key: 'flow',
      quantity: 'flow',
      scope: 'filter',
      basis: 'as_indicated',
      form: { kind: 'within_percent_of_design', percent: 15 },
    })
    const designed = byHood.map(({ readings }) => hood(Number(readings[0]), { designFlow: entered(0.16, 'm3/s') }))
    const now = evaluated(designed, { criteria: [airChanges('1')] }).result.roomCriteria[0]?.value ?? Number.NaN
    // 15 % over 0.16 m3/s are 0.184; a room that needs 10 % more of 0.471 m3/s needs 0.0471, and no hood has that to spare: 0.166 + 0.0471 = 0.213.
    const { question } = typedIn(designed, { criteria: [airChanges(String(now * 1.1)), within] })
    expect(question?.answer?.remedies.map(({ hindrance }) => hindrance)).toEqual(Array(3).fill('above_velocity_limit'))
    // 2 % more, 0.0094, all of them have.
    const little = typedIn(designed, { criteria: [airChanges(String(now * 1.02)), within] })
    expect(little.question?.answer?.remedies.map(({ hindrance }) => hindrance)).toEqual([null, null, null])
  })

  it('offers no change where the instrument cannot decide', () => {
    const now = evaluated(byHood, { criteria: [airChanges('1')] }).result.roomCriteria[0]?.value ?? Number.NaN
    const value = (by: number) => ({ from: 'value' as const, value: entered(now * by, '1/h') })
    const between = aCriterion({
      quantity: 'air_changes',
      scope: 'room',
      basis: 'actual',
      form: { kind: 'between', low: value(1.01), high: value(1.02) },
    })
    const { question, before } = typedIn(byHood, { set: guarded(), criteria: [between] })
    expect(before?.verdict).toBe('inconclusive')
    expect(question).toMatchObject({ undecidable: true, answer: null })
  })
})
