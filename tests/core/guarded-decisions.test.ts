import { describe, expect, it } from 'vitest'
import { type Evidence, judgeFigure } from '#core/criteria/judge.ts'
import { prepareCriteria } from '#core/criteria/prepare.ts'
import { say } from '#core/messages/say.ts'
import type { Criterion, CriterionForm, DecisionRule } from '#core/model/criteria.ts'
import type { Uncertainty } from '#core/model/results.ts'
import { createFormatter } from '#core/units/format.ts'
import { aCriterion, aSet, entered, uuid } from './face-run.ts'

const formatter = createFormatter(
  { velocity: 'm/s', flow: 'm3/h', length: 'm', pressure: 'Pa', temperature: 'degC' },
  'en',
  'Europe/Vienna',
)
const limit = (value: number) => ({ from: 'value', value: entered(value, 'm/s') }) as const
const between: CriterionForm = { kind: 'between', low: limit(0.36), high: limit(0.54) }
const SURE: Uncertainty = { expanded: 0.03, coverageFactor: 2.04, degreesOfFreedom: 29 }
const GUARDED: DecisionRule = { kind: 'guarded', multiple: 1 }

function judged(
  value: number,
  {
    form = between,
    rule = GUARDED,
    uncertainty = SURE,
    evidence = {},
    criterion = {},
  }: {
    form?: CriterionForm
    rule?: DecisionRule
    uncertainty?: Uncertainty | null
    evidence?: Partial<Evidence>
    criterion?: Partial<Criterion>
  } = {},
) {
  const one = aCriterion({ quantity: 'face_velocity', scope: 'filter', form, ...criterion })
  const [prepared] = prepareCriteria(aSet([one], { decisionRule: rule }), [], { plane: 'filter_face', requiredMinimumPerHour: null })
  if (!prepared) throw new Error('a criterion was given')
  const result = judgeFigure(prepared, {
    subjectId: uuid(1),
    value,
    none: null,
    outside: null,
    gap: null,
    leastPossible: null,
    uncertainty,
    design: null,
    reversed: 0,
    allBelowRange: false,
    uncovered: [],
    released: [],
    ...evidence,
  })
  return { ...result, words: say('en', formatter, result.reason.code, result.reason.params) }
}

describe('guarded decisions', () => {
  it('says how the distance stands to the guard band, with as many digits as that takes', () => {
    // 0.36 + 0.0298: to the digits of a velocity both the distance and the band are 0.03 m/s, yet it is the closer one.
    const close = judged(0.3898, { form: { kind: 'at_least', limit: limit(0.36) } })
    expect(close.verdict).toBe('inconclusive')
    expect(close.words).toContain('0.0298\u00a0m/s inside, which is less than the guard band')
    expect(close.words).toContain('guard band 0.0300\u00a0m/s')
    const passed = judged(0.3902, { form: { kind: 'at_least', limit: limit(0.36) } })
    expect(passed.verdict).toBe('pass')
    expect(passed.words).toContain('; 0.03\u00a0m/s inside.')
    expect(passed.words).toContain('guard band 0.030\u00a0m/s')
  })

  // limits 0.36 and 0.54, U = 0.03, w = U: pass 0.39 to 0.51, fail below 0.33 and above 0.57
  it.each([
    [0.32, 'fail'],
    [0.33, 'inconclusive'],
    [0.36, 'inconclusive'],
    [0.385, 'inconclusive'],
    [0.39, 'pass'],
    [0.45, 'pass'],
    [0.51, 'pass'],
    [0.53, 'inconclusive'],
    [0.57, 'inconclusive'],
    [0.58, 'fail'],
  ] as const)('%f m/s reads %s', (value, verdict) => {
    expect(judged(value)).toMatchObject({ verdict, expandedUncertainty: 0.03, coverageFactor: 2.04, guardBand: 0.03 })
  })

  it('take the multiple of the set: w = 0.5 U passes from 0.375 on', () => {
    const half: DecisionRule = { kind: 'guarded', multiple: 0.5 }
    expect(judged(0.375, { rule: half })).toMatchObject({ verdict: 'pass', guardBand: 0.015 })
    expect(judged(0.374, { rule: half }).verdict).toBe('inconclusive')
  })

  it('name the rule, U and k in words, whatever the verdict', () => {
    for (const value of [0.32, 0.37, 0.45]) {
      const { words } = judged(value)
      expect(words).toContain('guarded acceptance and rejection, guard band 1 × U')
      expect(words).toContain('U = 0.030\u00a0m/s (k = 2.04), guard band 0.030\u00a0m/s')
    }
    expect(judged(0.37).words).toMatch(/^Inconclusive\. .*0\.01\u00a0m\/s inside, which is less than the guard band/)
    expect(judged(0.35).words).toMatch(/0\.01\u00a0m\/s too low, which is less than the guard band/)
  })

  it('say that an instrument cannot decide limits that lie no farther apart than two guard bands', () => {
    const coarse = { expanded: 0.1, coverageFactor: 2, degreesOfFreedom: null }
    const result = judged(0.45, { uncertainty: coarse })
    expect(result.verdict).toBe('inconclusive')
    expect(result.words).toContain('this instrument cannot decide this limit')
    expect(judged(0.45).words).not.toContain('cannot decide')
  })

  it('read not tested without an uncertainty', () => {
    const result = judged(0.45, { uncertainty: null })
    expect(result).toMatchObject({ verdict: 'not_tested', guardBand: null, reason: { code: 'reason.no_uncertainty' } })
    expect(result.words).toContain('guarded acceptance and rejection, guard band 1 × U')
  })

  it('are not made on a spread, which is accepted simply, and says so', () => {
    const result = judged(14.9, {
      form: { kind: 'spread_at_most', percent: 15 },
      uncertainty: null,
      criterion: { quantity: 'velocity_spread' },
    })
    expect(result).toMatchObject({ verdict: 'pass', guardBand: null, expandedUncertainty: null })
    expect(result.words).toContain('simple acceptance, since a spread has no expanded uncertainty')
  })

  it('are made on an offset in percent, which has an uncertainty', () => {
    const form: CriterionForm = { kind: 'at_least', limit: { from: 'value', value: entered(5, '%') } }
    const uncertainty = { expanded: 2, coverageFactor: 2, degreesOfFreedom: null }
    expect(judged(6, { form, uncertainty, criterion: { quantity: 'air_offset_percent', scope: 'room' } }).verdict).toBe('inconclusive')
  })

  it('fail an incomplete set only where the bound lies beyond the guard band', () => {
    const gap = { measured: 3, planned: 8, aboveRange: 0, terminals: ['F-1'], more: 0, cause: null }
    const missing = (leastPossible: number, uncertainty: Uncertainty | null = SURE) =>
      judged(0.6, { evidence: { gap, leastPossible }, uncertainty }).verdict
    expect(missing(0.56)).toBe('not_tested')
    expect(missing(0.58)).toBe('fail')
    expect(missing(0.58, null)).toBe('not_tested')
  })

  it('say under a calibration that does not cover that they would be inconclusive', () => {
    const uncovered = [{ instrument: 'Probe', serialNumber: '1', kind: 'past_due', on: '2026-03-02', dueOn: '2026-02-28' }] as const
    const result = judged(0.37, { evidence: { uncovered } })
    expect(result).toMatchObject({ verdict: 'not_valid', would: null })
    expect(result.words).toContain('Otherwise it would read inconclusive.')
  })
})

describe('simple acceptance', () => {
  it('shows U and k and moves no limit', () => {
    const result = judged(0.37, { rule: { kind: 'simple' } })
    expect(result).toMatchObject({ verdict: 'pass', expandedUncertainty: 0.03, coverageFactor: 2.04, guardBand: null })
    expect(result.words).toContain('U = 0.030\u00a0m/s (k = 2.04).')
    expect(result.words).toContain('simple acceptance.')
  })

  it('is named also where nothing was compared', () => {
    const gap = { measured: 3, planned: 8, aboveRange: 0, terminals: ['F-1'], more: 0, cause: null }
    expect(judged(0.4, { rule: { kind: 'simple' }, evidence: { gap } }).words).toContain('Decision rule: simple acceptance.')
  })
})
