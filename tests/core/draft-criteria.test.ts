import { expect, test } from 'vitest'
import { differencesUnder, underDraft, underPresentCalculation } from '#core/history/draft-criteria.ts'
import { methodOf } from '#core/methods/catalogue.ts'
import type { RunResult } from '#core/model/results.ts'
import { aCriterion, entered, faceRun } from './face-run.ts'

const least = (key: string, at: number) =>
  aCriterion({
    key,
    quantity: 'face_velocity',
    scope: 'filter',
    form: { kind: 'at_least', limit: { from: 'value', value: entered(at, 'm/s') } },
  })
const input = faceRun({ filters: [{ readings: [0.4, 0.42, 0.44, 0.46] }], criteria: [least('one', 0.4), least('other', 0.3)] })
const set = input.criteriaSet
if (!set) throw new Error('criteria were given')
const present = methodOf(input.run.method).compute(input)

/** As an earlier version of the calculation is taken to have judged it: the first criterion failed. */
const judged: RunResult = {
  ...present,
  calculationVersion: 1,
  filters: present.filters.map((filter) => ({
    ...filter,
    criteria: filter.criteria.map((criterion) => (criterion.key === 'one' ? { ...criterion, verdict: 'fail' as const } : criterion)),
  })),
}

test('a difference that the calculation alone makes in a run judged by an earlier version is marked as such', () => {
  const draft = { ...set.body, criteria: [least('one', 0.4), least('other', 0.5)] }
  const after = underDraft(input, set.id, draft)
  const rows = (before: RunResult) =>
    differencesUnder(before, after, 'R', underPresentCalculation(input, before)).flatMap(({ criteria }) =>
      criteria.map(({ key, asJudged, underDraft, calculationChanged }) => [key, asJudged, underDraft, calculationChanged]),
    )
  expect(rows(judged)).toEqual([
    ['one', 'fail', 'pass', true],
    ['other', 'pass', 'fail', false],
  ])
  expect(rows(present)).toEqual([['other', 'pass', 'fail', false]])
  expect(underPresentCalculation(input, present)).toBeNull()
})
