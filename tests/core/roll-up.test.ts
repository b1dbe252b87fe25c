import { describe, expect, it } from 'vitest'
import { countVerdicts, worstOfCounts, worstVerdict } from '#core/criteria/roll-up.ts'
import type { Verdict } from '#core/model/criteria.ts'

describe('roll-up of verdicts', () => {
  it('takes the worst of fail, not valid, not tested, inconclusive, pass', () => {
    const order: Verdict[] = ['pass', 'inconclusive', 'not_tested', 'not_valid', 'fail']
    for (const [index, verdict] of order.entries()) {
      const upTo = order.slice(0, index + 1)
      expect(worstVerdict(upTo)).toBe(verdict)
      expect(worstVerdict([...upTo].reverse())).toBe(verdict)
      expect(worstOfCounts(countVerdicts(upTo))).toBe(verdict)
    }
  })

  it('leaves out what is not applicable, and reads not tested when nothing is left', () => {
    expect(worstVerdict(['not_applicable', 'pass'])).toBe('pass')
    expect(worstVerdict(['not_applicable'])).toBe('not_tested')
    expect(worstVerdict([])).toBe('not_tested')
    expect(worstOfCounts(countVerdicts(['not_applicable', 'not_applicable']))).toBe('not_tested')
  })

  it('counts every kind', () => {
    expect(countVerdicts(['pass', 'pass', 'fail', 'not_applicable'])).toEqual({
      pass: 2,
      fail: 1,
      inconclusive: 0,
      not_tested: 0,
      not_valid: 0,
      not_applicable: 1,
    })
  })
})
