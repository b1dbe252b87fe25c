import { cumulativeStdNormalProbability } from 'simple-statistics'
import { describe, expect, it } from 'vitest'
import { compareLimit } from '#core/criteria/compare-limit.ts'
import { COVERAGE_K2, combine, guardBandOf } from '#core/uncertainty/budget.ts'
import { standardTerm } from '#core/uncertainty/term.ts'

/**
 * JCGM 106:2012, 7.2: with a normal state of knowledge the probability that the true value keeps a lower limit T is Phi((y - T) / u). 8.3: acceptance
 * limit A = T + w, w = r U, r = 1 and k = 2 gives 97.7 % there, simple acceptance 50 %. (Clauses from memory; ILAC-G8:09/2019, seen in public
 * text, states the same: risk of false accept up to 50 % with w = 0, under 2.5 % with w = U.)
 */
const LIMIT = 20
const budget = combine(21, [standardTerm('other', null, 0.35)], COVERAGE_K2)

function probabilityOfKeeping(value: number): number {
  return cumulativeStdNormalProbability((value - LIMIT) / budget.combined)
}

/** Lowest value, to 1e-6, that a rule lets pass, and the highest that it fails. */
function turningPoints(multiple: number): { passes: number; fails: number } {
  const band = guardBandOf(budget, multiple)
  const bisect = (isHigh: (value: number) => boolean) => {
    let [low, high] = [LIMIT - 5, LIMIT + 5]
    while (high - low > 1e-7) {
      const middle = (low + high) / 2
      if (isHigh(middle)) high = middle
      else low = middle
    }
    return high
  }
  return {
    passes: bisect((value) => compareLimit(value, LIMIT, null, band).verdict === 'pass'),
    fails: bisect((value) => compareLimit(value, LIMIT, null, band).verdict !== 'fail'),
  }
}

describe('guard bands against JCGM 106', () => {
  it('guarded acceptance with w = U: at the acceptance limit the true value keeps the limit with 97.7 %', () => {
    const { passes, fails } = turningPoints(1)
    expect(passes).toBeCloseTo(LIMIT + 0.7, 5)
    expect(fails).toBeCloseTo(LIMIT - 0.7, 5)
    expect(probabilityOfKeeping(passes)).toBeCloseTo(0.977, 3)
    expect(1 - probabilityOfKeeping(fails)).toBeCloseTo(0.977, 3)
  })

  it('simple acceptance: 50 % at the limit, and nothing between pass and fail', () => {
    const { passes, fails } = turningPoints(0)
    expect(passes).toBeCloseTo(LIMIT, 5)
    expect(fails).toBeCloseTo(LIMIT, 5)
    expect(probabilityOfKeeping(passes)).toBeCloseTo(0.5, 3)
  })

  it('w = 0.83 U has the 95 % of a one-sided test', () => {
    // JCGM 106, 8.3.2: 1.65 / 2 = 0.825 (from memory); Phi(1.66) = 0.9515
    expect(probabilityOfKeeping(turningPoints(0.83).passes)).toBeCloseTo(0.9515, 3)
  })

  it('between two limits closer than twice the band nothing can pass, and it says so', () => {
    const band = guardBandOf(budget, 1)
    expect(compareLimit(20.6, 20, 21.2, band)).toMatchObject({ verdict: 'inconclusive', undecidable: true })
    expect(compareLimit(21, 20, 22, band)).toMatchObject({ verdict: 'pass', undecidable: false })
  })
})
