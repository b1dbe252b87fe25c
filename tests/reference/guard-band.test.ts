import { cumulativeStdNormalProbability } from 'simple-statistics'
import { describe, expect, it } from 'vitest'
import { judgeFigure } from '#core/criteria/judge.ts'
import { prepareCriteria } from '#core/criteria/prepare.ts'
import type { CriterionForm } from '#core/model/criteria.ts'
import { aCriterion, aSet, entered, ROOM_ID } from '../core/face-run.ts'

/**
 * JCGM 106:2012, 7.2: with a normal state of knowledge the probability that the true value keeps a lower limit T is Phi((y - T) / u). 8.3: acceptance
 * limit A = T + w, w = r U, r = 1 and k = 2 gives 97.7 % there, simple acceptance 50 %. (Clauses from memory; ILAC-G8:09/2019, seen in public
 * text, states the same: risk of false accept up to 50 % with w = 0, under 2.5 % with w = U.)
 */
const LIMIT = 20
/** u = 0.35, so that with k = 2 U = 0.7 */
const STANDARD_UNCERTAINTY = 0.35
const uncertainty = { expanded: 0.7, coverageFactor: 2, degreesOfFreedom: null }

const perHour = (value: number) => ({ from: 'value', value: entered(value, '1/h') }) as const

/** Air changes of a room, per hour, held against a criterion whose decision rule has this guard band, in multiples of U. */
function judged(value: number, form: CriterionForm, multiple: number) {
  const criterion = aCriterion({ quantity: 'air_changes', scope: 'room', form })
  const set = aSet([criterion], { decisionRule: multiple === 0 ? { kind: 'simple' } : { kind: 'guarded', multiple } })
  const [prepared] = prepareCriteria(set, [], { plane: 'filter_face', requiredMinimumPerHour: null })
  if (!prepared) throw new Error('no criterion')
  const none = { none: null, outside: null, gap: null, leastPossible: null, design: null }
  return judgeFigure(prepared, {
    subjectId: ROOM_ID,
    value,
    uncertainty,
    ...none,
    reversed: 0,
    allBelowRange: false,
    uncovered: [],
    released: [],
  })
}

function probabilityOfKeeping(value: number): number {
  return cumulativeStdNormalProbability((value - LIMIT) / STANDARD_UNCERTAINTY)
}

/** Lowest value, to 1e-6, that a rule lets pass, and the highest that it fails. */
function turningPoints(multiple: number): { passes: number; fails: number } {
  const verdictAt = (value: number) => judged(value, { kind: 'at_least', limit: perHour(LIMIT) }, multiple).verdict
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
    passes: bisect((value) => verdictAt(value) === 'pass'),
    fails: bisect((value) => verdictAt(value) !== 'fail'),
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
    const between = (low: number, high: number): CriterionForm => ({ kind: 'between', low: perHour(low), high: perHour(high) })
    const narrow = judged(20.6, between(20, 21.2), 1)
    expect(narrow).toMatchObject({ verdict: 'inconclusive', expandedUncertainty: 0.7, guardBand: 0.7 })
    expect(narrow.reason.params).toMatchObject({ figure: { certainty: { undecidable: true } } })
    const wide = judged(21, between(20, 22), 1)
    expect(wide).toMatchObject({ verdict: 'pass', guardBand: 0.7 })
    expect(wide.reason.params).toMatchObject({ figure: { certainty: { undecidable: false } } })
  })
})
