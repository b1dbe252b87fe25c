import { describe, expect, it } from 'vitest'
import { compareRevisions, saysTheSame } from '#core/criteria/compare-revisions.ts'
import { startingCriteriaSets } from '#core/criteria/starting-sets.ts'
import { say } from '#core/messages/say.ts'
import type { CriteriaSet } from '#core/model/criteria.ts'
import { createFormatter } from '#core/units/format.ts'

const formatter = createFormatter({ velocity: 'm/s', flow: 'm3/h', length: 'm', pressure: 'Pa', temperature: 'degC' }, 'en', 'UTC')
const [starting] = startingCriteriaSets()
if (!starting) throw new Error('there are sets to start from')
const [first, second, third, fourth, ...others] = starting.criteria
if (!first || !second || !third || !fourth) throw new Error('a starting set has criteria')

const after: CriteriaSet = {
  ...starting,
  name: 'Ours',
  decisionRule: { kind: 'guarded', multiple: 1 },
  uncertainty: { ...starting.uncertainty, areaPercent: 2 },
  criteria: [
    { ...first, form: { kind: 'within_percent_of_design', percent: 15 } },
    { ...second, source: 'Site rule', basis: 'standard' },
    { ...third, on: !third.on },
    ...others,
    { ...first, key: 'another', title: 'Another' },
  ],
}

describe('two revisions of a criteria set', () => {
  it('differ in limits, wording, switches, added and removed criteria, and in the set itself', () => {
    const difference = compareRevisions(starting, after)
    expect(difference.fields).toEqual(['name', 'decisionRule', 'uncertainty'])
    expect(difference.criteria.map(({ key, before, after: is, fields }) => [key, before !== null, is !== null, fields])).toEqual([
      [first.key, true, true, ['form']],
      [second.key, true, true, ['basis', 'source']],
      [third.key, true, true, ['on']],
      ['another', false, true, []],
      [fourth.key, true, false, []],
    ])
  })

  it('have before and after in words', () => {
    const { criteria } = compareRevisions(starting, after)
    const [limit] = criteria
    const words = (code: string, params: Record<string, unknown>) => say('en', formatter, code, params)
    expect(words('criteria.value', { criterion: limit?.before, field: 'form' })).toBe('within 20 % of design')
    expect(words('criteria.value', { criterion: limit?.after, field: 'form' })).toBe('within 15 % of design')
    expect(words('criteria.set_value', { set: starting, field: 'decisionRule' })).toContain('Simple acceptance')
    expect(words('criteria.set_value', { set: after, field: 'decisionRule' })).toContain('guard band 1 × U')
    expect(words('criteria.set_value', { set: after, field: 'uncertainty' })).toContain('area 2 %')
  })

  it('that say the same differ in nothing', () => {
    expect(saysTheSame(compareRevisions(starting, structuredClone(starting)))).toBe(true)
    expect(saysTheSame(compareRevisions(starting, after))).toBe(false)
  })
})
