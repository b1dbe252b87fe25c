import { describe, expect, test } from 'vitest'
import { startingCriteriaSets } from '#core/criteria/starting-sets.ts'
import { type CriteriaSet, type Criterion, type CriterionOverride, CriterionQuantity, CriterionScope } from '#core/model/criteria.ts'
import { checkCriteriaSet, checkOverriddenCriteria, FORMS_OF, SCOPES_OF } from '#core/model/criteria-rules.ts'
import { checkStoredBody } from '#core/model/stored-rules.ts'
import { aCriterion } from './face-run.ts'

const [unidirectional, mixed] = startingCriteriaSets()
if (!unidirectional || !mixed) throw new Error('two starting sets')
const spread = { kind: 'spread_at_most', percent: 20 } as const

function setOf(quantity: Criterion['quantity'], scope: Criterion['scope']): CriteriaSet {
  const [first] = mixed?.criteria ?? []
  if (!first || !mixed) throw new Error('no criterion')
  // The form is not what is looked at here.
  return { ...mixed, criteria: [{ ...first, quantity, scope }] }
}
const scopeProblems = (set: CriteriaSet) =>
  checkCriteriaSet(set)
    .filter(({ code }) => code === 'rule.scope_does_not_fit')
    .map(({ field }) => field)

describe('what a criterion can be judged for', () => {
  // Worked out by hand from what each quantity is: a figure of the whole room, of a set of points, or of one point.
  test.each([
    ['air_changes', ['room']],
    ['outside_air_changes', ['room']],
    ['flow', ['filter', 'zone', 'room']],
    ['face_velocity', ['point', 'filter', 'zone', 'room']],
    ['velocity_spread', ['filter', 'zone', 'room']],
    ['largest_deviation', ['filter', 'zone', 'room']],
    ['filter_to_filter_spread', ['zone', 'room']],
    ['air_offset', ['room']],
    ['air_offset_percent', ['room']],
  ] as const)('%s: %j', (quantity, scopes) => {
    for (const scope of CriterionScope.options) {
      const refused = scopeProblems(setOf(quantity, scope))
      expect(refused, scope).toEqual((scopes as readonly string[]).includes(scope) ? [] : ['criteria.0.scope'])
    }
  })

  test('every quantity has a scope and a form', () => {
    for (const quantity of CriterionQuantity.options) {
      expect(SCOPES_OF[quantity].length).toBeGreaterThan(0)
      expect(FORMS_OF[quantity].length).toBeGreaterThan(0)
    }
  })

  test('a largest deviation is a figure already, and no form of each point: that is asked of the velocity', () => {
    const criterion = aCriterion({
      key: 'each',
      quantity: 'largest_deviation',
      scope: 'filter',
      form: { kind: 'each_within_percent_of_mean', percent: 20, of: 'filter' },
    })
    const asked = { ...setOf('largest_deviation', 'filter'), criteria: [criterion] }
    expect(checkCriteriaSet(asked).map(({ code }) => code)).toEqual(['rule.form_does_not_fit'])
    const ofPoints = { ...asked, criteria: [{ ...criterion, quantity: 'face_velocity' as const, scope: 'point' as const }] }
    expect(checkCriteriaSet(ofPoints)).toEqual([])
  })

  test('the sets to start from have meaning throughout', () => {
    for (const set of startingCriteriaSets()) expect(checkCriteriaSet(set)).toEqual([])
  })

  test('a set that stands in a file already is not refused for a rule that came later', () => {
    const set = setOf('air_changes', 'filter')
    expect(scopeProblems(set)).toEqual(['criteria.0.scope'])
    expect(checkStoredBody('criteria_set', set)).toEqual([])
  })
})

describe('overrides held against the criteria of their set', () => {
  const own = (key: string, form: CriterionOverride['form'] = null): CriterionOverride => ({ key, form, on: true, reason: 'Site rule 12.' })
  const fields = (overrides: CriterionOverride[], known: CriterionOverride[] = []) =>
    checkOverriddenCriteria(overrides, unidirectional.criteria, known).map(({ field, code }) => `${field} ${code}`)

  test('name one of them, in a form that fits its quantity', () => {
    expect(fields([own('zone_spread', spread), own('zone_mean_design')])).toEqual([])
    expect(fields([own('zone_spread'), own('air_changes_minimum')])).toEqual(['overrides.1.key rule.unknown_criterion'])
    expect(fields([own('zone_mean_design', spread)])).toEqual(['overrides.0.form rule.form_does_not_fit'])
  })

  test('without a set there is nothing to override', () => {
    expect(checkOverriddenCriteria([own('zone_spread')], [], [])).toHaveLength(1)
  })

  test('what stood there before is left alone', () => {
    const lost = own('of_a_former_revision', spread)
    expect(fields([lost, own('zone_mean_design', spread)], [lost, own('zone_mean_design', spread)])).toEqual([])
    expect(fields([lost, own('zone_mean_design', spread)], [lost])).toEqual(['overrides.1.form rule.form_does_not_fit'])
  })
})
