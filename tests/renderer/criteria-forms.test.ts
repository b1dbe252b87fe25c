import { describe, expect, test } from 'vitest'
import { startingCriteriaSets } from '#core/criteria/starting-sets.ts'
import { CriteriaSet } from '#core/model/criteria.ts'
import type { Entered, Unit } from '#core/model/values.ts'
import { draftOfCriterion, keyOfTitle, NEW_CRITERION, unitOfLimits, withQuantity } from '#renderer/criteria/criterion-form.ts'
import { formOfSet, setOfForm, setProblems } from '#renderer/criteria/set-form.ts'

const METRIC = { velocity: 'm/s', flow: 'm3/h', length: 'm', pressure: 'Pa', temperature: 'degC' } as const
const value = (si: number, unit: Unit): Entered => ({ si, typed: String(si), unit })
const fields = (problems: readonly { field: string }[]) => problems.map((problem) => problem.field)
const [starting] = startingCriteriaSets()
if (!starting) throw new Error('there are sets to start from')

describe('the form of a criteria set', () => {
  test('every starting set goes through the form unchanged, and nothing is wrong with it', () => {
    for (const set of startingCriteriaSets()) {
      const form = formOfSet(set)
      expect(setOfForm(form)).toEqual(set)
      expect(CriteriaSet.parse(setOfForm(form))).toEqual(set)
      expect(setProblems(form)).toEqual([])
    }
  })

  test('a guarded rule keeps its multiple; one that is no number or beyond 2 is said at its field', () => {
    const guarded = { ...starting, decisionRule: { kind: 'guarded' as const, multiple: 1.5 } }
    expect(setOfForm(formOfSet(guarded))).toEqual(guarded)
    expect(fields(setProblems({ ...formOfSet(guarded), multiple: '3' }))).toEqual(['multiple'])
    expect(fields(setProblems({ ...formOfSet(guarded), multiple: 'much' }))).toEqual(['multiple'])
    expect(setProblems({ ...formOfSet(guarded), multiple: '1,5' })).toEqual([])
  })

  test('numbers of the uncertainty settings that are none, or out of range, are said at their field', () => {
    const form = formOfSet(starting)
    const typed = (uncertainty: Partial<typeof form.uncertainty>) => ({ ...form, uncertainty: { ...form.uncertainty, ...uncertainty } })
    expect(fields(setProblems(typed({ areaPercent: 'one', pressurePa: '-1' })))).toEqual([
      'uncertainty.areaPercent',
      'uncertainty.pressurePa',
    ])
    expect(fields(setProblems(typed({ coverageKind: 'fixed', factor: '9' })))).toEqual(['uncertainty.factor'])
    expect(setOfForm(typed({ volumePercent: '2,5', coverageKind: 'fixed', factor: '2' }))?.uncertainty).toMatchObject({
      volumePercent: 2.5,
      coverage: { kind: 'fixed', factor: 2 },
    })
  })

  test('three decimals with either sign are decimals where the whole number can be none, and asked about where both can', () => {
    const form = formOfSet(starting)
    for (const multiple of ['1.645', '1,645']) {
      const guarded = { ...form, decision: 'guarded' as const, multiple }
      expect(setProblems(guarded)).toEqual([])
      expect(setOfForm(guarded)?.decisionRule).toEqual({ kind: 'guarded', multiple: 1.645 })
    }
    const typed = (uncertainty: Partial<typeof form.uncertainty>) => ({ ...form, uncertainty: { ...form.uncertainty, ...uncertainty } })
    for (const factor of ['1.960', '1,960'])
      expect(setOfForm(typed({ coverageKind: 'fixed', factor }))?.uncertainty.coverage).toEqual({ kind: 'fixed', factor: 1.96 })
    // 1500 Pa and 1.5 Pa are both pressures that a budget could take.
    expect(setProblems(typed({ pressurePa: '1,500' }))).toEqual([
      { field: 'uncertainty.pressurePa', code: 'units.ambiguous', params: { typed: '1,500', whole: '1500', fraction: '1,5000' } },
    ])
    expect(setOfForm(typed({ pressurePa: '1,5000' }))?.uncertainty.pressurePa).toBe(1.5)
  })

  test('a percentage keeps the zeros it was typed with', () => {
    const draft = { ...NEW_CRITERION, title: 'Mean', percent: { si: 15, typed: '15.0', unit: '%' as const } }
    const set = setOfForm({ ...formOfSet(starting), criteria: [draft] })
    expect(set?.criteria[0]?.form).toEqual({ kind: 'within_percent_of_design', percent: 15, percentTyped: '15.0' })
    if (!set) return
    expect(setOfForm(formOfSet(set))).toEqual(set)
    const plain = setOfForm({ ...formOfSet(set), criteria: [{ ...draft, percent: value(20, '%') }] })
    expect(plain?.criteria[0]?.form).toEqual({ kind: 'within_percent_of_design', percent: 20 })
  })

  test('a new criterion says what is missing, at its own line', () => {
    const form = { ...formOfSet(starting), criteria: [...formOfSet(starting).criteria, { ...NEW_CRITERION, line: 99 }] }
    const index = form.criteria.length - 1
    expect(fields(setProblems(form))).toEqual([`criteria.${index}.title`, `criteria.${index}.percent`])
    expect(setOfForm(form)).toBeNull()
  })

  test('limits the wrong way round, of another dimension, and a key that stands twice', () => {
    const between = { ...NEW_CRITERION, title: 'Velocity', formKind: 'between' as const, low: value(0.54, 'm/s'), high: value(0.36, 'm/s') }
    const form = { ...formOfSet(starting), criteria: [between] }
    expect(fields(setProblems(form))).toEqual(['criteria.0.high'])
    const wrongUnit = { ...between, formKind: 'at_least' as const, low: value(20, 'Pa') }
    expect(fields(setProblems({ ...form, criteria: [wrongUnit] }))).toEqual(['criteria.0.low'])
    const atMost = { ...between, formKind: 'at_most' as const, high: value(20, 'Pa') }
    expect(fields(setProblems({ ...form, criteria: [atMost] }))).toEqual(['criteria.0.high'])
    const twice = { ...between, low: value(0.36, 'm/s'), high: value(0.54, 'm/s') }
    expect(fields(setProblems({ ...form, criteria: [twice, { ...twice, line: 1 }] }))).toEqual(['criteria.1.key'])
  })

  test('a percentage of design is above zero and at most 100', () => {
    const of = (si: number) => ({ ...formOfSet(starting), criteria: [{ ...NEW_CRITERION, title: 'Mean', percent: value(si, '%') }] })
    expect(fields(setProblems(of(0)))).toEqual(['criteria.0.percent'])
    expect(fields(setProblems(of(120)))).toEqual(['criteria.0.percent'])
    expect(setProblems(of(100))).toEqual([])
  })
})

describe('editing a criterion', () => {
  test('another quantity takes a form that fits it and drops limits of another dimension', () => {
    const velocity = { ...NEW_CRITERION, formKind: 'at_least' as const, low: value(0.36, 'm/s') }
    const airChanges = withQuantity(velocity, 'air_changes')
    expect(airChanges).toMatchObject({ formKind: 'at_least', low: null })
    expect(unitOfLimits(airChanges, METRIC)).toBe('1/h')
    expect(withQuantity(velocity, 'velocity_spread').formKind).toBe('spread_at_most')
    expect(withQuantity({ ...airChanges, low: value(20, '1/h') }, 'outside_air_changes').low).toEqual(value(20, '1/h'))
  })

  test('another quantity is judged for what has such a figure; a scope that does not fit is said at its field', () => {
    expect(withQuantity({ ...NEW_CRITERION, scope: 'point' }, 'air_changes').scope).toBe('room')
    expect(withQuantity({ ...NEW_CRITERION, scope: 'zone' }, 'velocity_spread').scope).toBe('zone')
    const form = formOfSet(starting)
    const odd = {
      ...NEW_CRITERION,
      line: 99,
      title: 'Odd',
      quantity: 'velocity_spread',
      scope: 'point',
      formKind: 'spread_at_most',
    } as const
    const problems = setProblems({ ...form, criteria: [...form.criteria, { ...odd, percent: value(15, '%') }] })
    expect(problems).toMatchObject([{ field: `criteria.${form.criteria.length}.scope`, code: 'rule.scope_does_not_fit' }])
  })

  test('a bare limit is typed in the unit of the one beside it', () => {
    expect(unitOfLimits({ ...NEW_CRITERION, low: value(70, 'ft/min') }, METRIC)).toBe('ft/min')
    expect(unitOfLimits({ ...NEW_CRITERION, quantity: 'flow' }, METRIC)).toBe('m3/h')
    expect(unitOfLimits({ ...NEW_CRITERION, quantity: 'flow' }, { ...METRIC, flow: 'cfm' })).toBe('cfm')
  })

  test('a key out of a heading', () => {
    expect(keyOfTitle('Filter mean velocity')).toBe('filter_mean_velocity')
    expect(keyOfTitle('  Größe ≥ 5 % ')).toBe('gro_e_5')
    expect(keyOfTitle('x'.repeat(90))).toHaveLength(60)
  })

  test('lines of a form keep the criterion they were made of', () => {
    const [first] = starting.criteria
    if (!first) throw new Error('a starting set has criteria')
    expect(draftOfCriterion(first, 3)).toMatchObject({ line: 3, key: first.key, title: first.title })
  })
})
