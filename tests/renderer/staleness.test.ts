import { expect, test } from 'vitest'
import { contract } from '#core/api/contract.ts'
import { type Change, staleAfter } from '#renderer/app/staleness.ts'

const runId = '0198a0a0-0000-7000-8000-000000000001'
const changes: Change[] = [
  { what: 'file' },
  { what: 'entities', kinds: ['room'], ids: [runId] },
  { what: 'entities', kinds: ['person'], ids: [runId] },
  { what: 'readings', runId },
  { what: 'run', runId },
  { what: 'job', job: { id: runId, kind: 'check', state: 'running', progress: 0, result: null, failure: null } },
]

test('whatever goes stale is a path of the contract', () => {
  for (const change of changes) {
    for (const { path } of staleAfter(change)) {
      const found = path.reduce<unknown>(
        (at, name) => (typeof at === 'object' && at !== null ? Reflect.get(at, name) : undefined),
        contract,
      )
      expect(found, path.join('.')).toBeDefined()
    }
  }
})

test('another file makes everything stale', () => {
  expect(staleAfter({ what: 'file' })).toContainEqual({ path: [], afterMs: 0 })
})

test('readings touch their own run at once and the dear figures of the whole visit only when the typing rests', () => {
  const stale = staleAfter({ what: 'readings', runId })
  const run = stale.find((part) => part.path.join('.') === 'runs.get')
  const overview = stale.find((part) => part.path.join('.') === 'evaluation.overview')
  expect(run?.input).toEqual({ runId })
  expect(overview?.afterMs).toBeGreaterThan(run?.afterMs ?? Number.POSITIVE_INFINITY)
  expect(stale.some((part) => part.path.join('.') === 'entities')).toBe(false)
})

test('a changed room makes runs stale, because they may now be behind; a changed person does not', () => {
  const touchesRuns = (kind: 'room' | 'person') =>
    staleAfter({ what: 'entities', kinds: [kind], ids: [runId] }).some((part) => part.path[0] === 'runs')
  expect(touchesRuns('room')).toBe(true)
  expect(touchesRuns('person')).toBe(false)
})
