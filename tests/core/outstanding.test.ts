import { describe, expect, it } from 'vitest'
import { filtersLeft, missingFilters, type RunToFinish } from '#core/history/outstanding.ts'
import { uuid } from './face-run.ts'

const filter = (n: number, measured: number, more: { closed?: boolean } = {}) => ({
  terminalId: uuid(n),
  tag: `T-${n}`,
  closed: false,
  pointsMeasured: measured,
  pointsPlanned: 9,
  ...more,
})
const run = (
  phase: 'as_found' | 'as_left',
  state: RunToFinish['state'],
  filters: RunToFinish['filters'],
  more: Partial<RunToFinish> = {},
) => ({
  phase,
  state,
  filters,
  missing: [],
  ...more,
})
const left = (...runs: RunToFinish[]) =>
  filtersLeft(runs).map(({ filters }) => filters.map(({ tag, planned, measured }) => [tag, planned - measured]))

describe('what is left to measure in a room', () => {
  it('are the points of open runs without a reading', () => {
    expect(left(run('as_found', 'open', [filter(1, 9), filter(2, 4), filter(3, 0)]))).toEqual([
      [
        ['T-2', 5],
        ['T-3', 9],
      ],
    ])
    expect(left(run('as_found', 'complete', [filter(1, 4)]), run('as_found', 'signed', [filter(2, 4)]))).toEqual([[], []])
  })

  it('are not points that were given up for a reason, nor those of closed filters', () => {
    const missing = [{ terminalIds: [uuid(1)], cause: 'inaccessible' as const, note: '' }]
    expect(left(run('as_found', 'open', [filter(1, 4), filter(2, 0, { closed: true })], { missing }))).toEqual([[]])
    expect(missingFilters([filter(1, 4), filter(2, 3)], missing).map(({ tag }) => tag)).toEqual(['T-2'])
  })

  it('are not points of an as-found run whose filters were measured as left', () => {
    const found = run('as_found', 'open', [filter(1, 4), filter(2, 9)])
    expect(left(found, run('as_left', 'complete', [filter(1, 9), filter(2, 9)]))).toEqual([[], []])
    expect(left(run('as_left', 'complete', [filter(1, 9), filter(2, 9)]), found)).toEqual([[], []])
    // A filter that the as-left run does not hold is still to do.
    expect(left(run('as_found', 'open', [filter(1, 4), filter(2, 8)]), run('as_left', 'complete', [filter(1, 9)]))).toEqual([
      [['T-2', 1]],
      [],
    ])
  })

  it('count once, in the run that will decide', () => {
    const found = run('as_found', 'open', [filter(1, 4)])
    const again = run('as_found', 'open', [filter(1, 0)])
    expect(left(found, again)).toEqual([[], [['T-1', 9]]])
    expect(left(found, run('as_left', 'open', [filter(1, 2)]))).toEqual([[], [['T-1', 7]]])
  })

  it('are those of a retest that was begun after a complete run', () => {
    expect(left(run('as_found', 'complete', [filter(1, 9)]), run('as_left', 'open', [filter(1, 3)]))).toEqual([[], [['T-1', 6]]])
    expect(left(run('as_left', 'complete', [filter(1, 9)]), run('as_left', 'open', [filter(1, 3)]))).toEqual([[], [['T-1', 6]]])
  })
})
