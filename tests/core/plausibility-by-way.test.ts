import { describe, expect, it } from 'vitest'
import { questionReading } from '#core/methods/airflow/plausibility.ts'
import { type QuestionAt, questionAt } from '#core/methods/airflow/plausibility-by-way.ts'
import { anInstrument } from './face-run.ts'
import { aMeter } from './room-run.ts'

/* Limits are common practice: nothing is refused, only asked. */

function ask(given: Partial<QuestionAt> & Pick<QuestionAt, 'quantity' | 'way' | 'si'>) {
  const unit = given.quantity === 'velocity' ? 'm/s' : given.quantity === 'flow' ? 'm3/s' : 'Pa'
  const base = { typed: String(given.si), unit, neighbours: [], designVelocityMps: null, designFlowM3ps: null } as const
  return questionAt({ ...base, mayBeNegative: false, instrument: anInstrument(aMeter()), ...given })
}
const codeOf = (given: Parameters<typeof ask>[0]) => ask(given)?.code ?? null

it('a face is asked about as ever', () => {
  const shared = { si: 4.5, typed: '4.5', unit: 'm/s', instrument: null } as const
  const old = questionReading({ ...shared, neighboursMps: [0.45], designVelocityMps: null })
  expect(old).not.toBeNull()
  for (const way of ['face_grid', null] as const) expect(ask({ quantity: 'velocity', way, ...shared, neighbours: [0.45] })).toEqual(old)
})

describe('a hood', () => {
  const hood = { quantity: 'flow', way: 'hood' } as const

  it('is held against its design, else against the others: three times or a quarter is asked about', () => {
    expect(codeOf({ ...hood, si: 0.29, designFlowM3ps: 0.1 })).toBeNull()
    expect(ask({ ...hood, si: 0.31, designFlowM3ps: 0.1 })).toMatchObject({
      code: 'question.far_from_expected',
      params: { expected: { si: 0.1, isDesign: true } },
    })
    expect(codeOf({ ...hood, si: 0.024, neighbours: [0.1, 0.1, 0.11] })).toBe('question.far_from_expected')
    expect(codeOf({ ...hood, si: 0.026, neighbours: [0.1, 0.1, 0.11] })).toBeNull()
    expect(codeOf({ ...hood, si: 0.3 })).toBeNull()
  })

  it('may show a return as negative, and a supply not', () => {
    expect(codeOf({ ...hood, si: -0.1, mayBeNegative: true, designFlowM3ps: 0.1 })).toBeNull()
    expect(codeOf({ ...hood, si: -0.1 })).toBe('question.wrong_way')
  })

  it('is asked about outside its range', () => {
    expect(codeOf({ ...hood, si: 6 })).toBe('question.over_range')
    expect(codeOf({ ...hood, si: 0.0005 })).toBe('question.under_range')
  })
})

describe('a duct', () => {
  it('carries velocities that no face has', () => {
    const point = { quantity: 'velocity', way: 'duct_traverse' } as const
    expect(codeOf({ ...point, si: 8, neighbours: [7, 9] })).toBeNull()
    expect(codeOf({ ...point, si: 31 })).toBe('question.unusual_duct_velocity')
    expect(codeOf({ ...point, si: 0.8, neighbours: [7, 9] })).toBe('question.decimal_sign_off')
    expect(codeOf({ ...point, si: 1.9, neighbours: [7, 9] })).toBe('question.far_from_expected')
  })

  it('asks about a pressure under 5 Pa or 3 m/s, which at 1.2046 kg/m3 is 5.42 Pa', () => {
    const point = { quantity: 'velocity_pressure', way: 'duct_traverse' } as const
    expect(codeOf({ ...point, si: 5.4 })).toBe('question.weak_for_pitot')
    expect(codeOf({ ...point, si: 5.5 })).toBeNull()
  })

  it('lets pressures differ by the square of what velocities may', () => {
    const point = { quantity: 'velocity_pressure', way: 'duct_traverse', neighbours: [100] } as const
    expect(codeOf({ ...point, si: 890 })).toBeNull()
    expect(codeOf({ ...point, si: 910 })).toBe('question.decimal_sign_off')
    expect(codeOf({ ...point, si: 6.2 })).toBe('question.decimal_sign_off')
    expect(codeOf({ ...point, si: 6.3 })).toBeNull()
  })
})
