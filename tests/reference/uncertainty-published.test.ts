import { describe, expect, it } from 'vitest'
import { COVERAGE_95, COVERAGE_K2, combine, welchSatterthwaite } from '#core/uncertainty/budget.ts'
import { expandedTerm, rectangularTerm, standardTerm, type Term } from '#core/uncertainty/term.ts'

function sensitive(term: Term, sensitivity: number): Term {
  return { ...term, sensitivity }
}

describe('GUM (JCGM 100:2008) example H.1, end-gauge calibration', () => {
  // Figures of H.1 as in several public texts; the parts of d (5.8, 3.9, 6.7 nm) from memory. nm, first-order model as in H.1.6
  const lengthNm = 50_000_623
  const budgetOfD = combine(
    215,
    [
      standardTerm('repeat', 'mean of five comparisons', 13 / Math.sqrt(5), 24),
      standardTerm('other', 'random effects of the comparator', 3.9, 5),
      standardTerm('other', 'systematic effects of the comparator', 6.7, 8),
    ],
    COVERAGE_95,
  )
  const terms = [
    { ...expandedTerm('calibration', 'standard', 75, 3), degreesOfFreedom: 18 },
    standardTerm('other', 'difference d', budgetOfD.combined, budgetOfD.effectiveDegreesOfFreedom),
    sensitive({ ...rectangularTerm('other', 'difference of expansion', 1e-6), degreesOfFreedom: 50 }, -lengthNm * -0.1),
    sensitive({ ...rectangularTerm('other', 'difference of temperature', 0.05), degreesOfFreedom: 2 }, -lengthNm * 11.5e-6),
  ]
  const budget = combine(lengthNm + budgetOfD.value, terms, { kind: 'student', level: 0.99 })

  it('the difference d has u = 9.7 nm with 25.6 degrees of freedom', () => {
    expect(budgetOfD.combined).toBeCloseTo(9.7, 1)
    expect(budgetOfD.effectiveDegreesOfFreedom).toBeCloseTo(25.6, 0)
  })

  it('the contributions are 25, 9.7, 2.9 and 16.6 nm', () => {
    const sizes = budget.components.map(({ contribution }) => Math.abs(contribution).toFixed(1))
    expect(sizes).toEqual(['25.0', '9.7', '2.9', '16.6'])
  })

  it('l = 50.000 838 mm, uc = 32 nm, 16 degrees of freedom, k99 = 2.92, U99 = 93 nm', () => {
    expect(budget.value).toBe(50_000_838)
    expect(budget.combined.toFixed(0)).toBe('32')
    expect(budget.effectiveDegreesOfFreedom).toBeCloseTo(16.7, 0)
    expect(budget.usedDegreesOfFreedom).toBe(16)
    expect(budget.coverageFactor.toFixed(2)).toBe('2.92')
    // H.1.6 multiplies the rounded 32 nm (93); unrounded it is 92.5 nm
    expect(Math.abs(budget.expanded - 93)).toBeLessThan(1)
  })
})

describe('EA-4/02 example S2, calibration of a 10 kg weight', () => {
  // inputs seen in public text; u = 29.3 mg and U = 59 mg from memory, recomputed
  const third = (halfWidth: number, of: string) => rectangularTerm('other', of, halfWidth)
  const budget = combine(
    10_000_025,
    [
      expandedTerm('calibration', 'reference weight', 45, 2),
      third(15, 'drift of the reference'),
      standardTerm('repeat', 'difference, three weighings', 25 / Math.sqrt(3)),
      third(10, 'eccentricity'),
      third(10, 'buoyancy'),
    ],
    COVERAGE_K2,
  )

  it('u = 29.3 mg, U = 59 mg with k = 2', () => {
    expect(budget.combined.toFixed(1)).toBe('29.3')
    expect(budget.expanded.toFixed(0)).toBe('59')
    expect(budget.coverageFactor).toBe(2)
  })

  it('the shares add up to 100 %', () => {
    expect(budget.components.reduce((sum, { sharePercent }) => sum + sharePercent, 0)).toBeCloseTo(100, 10)
  })
})

describe('Welch and Satterthwaite', () => {
  it('3 with 4 and 4 with 9 degrees of freedom: uc = 5, 12.8, truncated to 12', () => {
    // worked check seen in public text, recomputed: 625 / (81 / 4 + 256 / 9) = 12.84
    const budget = combine(0, [standardTerm('other', 'one', 3, 4), standardTerm('other', 'two', 4, 9)], COVERAGE_95)
    expect(budget.combined).toBe(5)
    expect(budget.effectiveDegreesOfFreedom).toBeCloseTo(625 / (81 / 4 + 256 / 9), 10)
    expect(budget.usedDegreesOfFreedom).toBe(12)
    expect(budget.coverageFactor.toFixed(3)).toBe('2.179')
  })

  it('equal shares add their degrees of freedom, in any unit', () => {
    // first principles: two equal contributions with v each have 2 v
    for (const scale of [1, 1e-9, 1e-90, 1e90])
      expect(
        welchSatterthwaite([
          { contribution: scale, degreesOfFreedom: 7 },
          { contribution: -scale, degreesOfFreedom: 7 },
        ]),
      ).toBeCloseTo(14, 9)
  })
})
