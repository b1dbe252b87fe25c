import { expect, test } from 'vitest'
import type { Location, Reading } from '#core/model/readings.ts'
import { carriedReadings } from '#renderer/readings/carried-view.ts'

const TERMINAL = '01890000-0000-7000-8000-000000000001'

const location = (number: number, row: number, column: number): Location => ({
  number,
  kind: 'filter_point',
  terminalId: TERMINAL,
  row,
  column,
  offsetXM: 0,
  offsetYM: 0,
  cellAreaM2: 0.09,
})
const reading = (point: number, typed: string, voided: boolean) =>
  ({
    id: `${TERMINAL}:${point}`,
    point,
    sample: 1,
    typed,
    flags: ['below_range'],
    voided: voided ? { at: '', personId: '', reason: '', replacedBy: null } : null,
  }) as unknown as Reading
const told = (found: ReturnType<typeof carriedReadings>) =>
  [...found.values()].map(({ place, typed, flags }) => [place.point, typed, flags.join(' ')])

test('as-found readings stand at the same places of the as-left run, marked as carried; voided ones do not', () => {
  // The as-left run numbers its points anew: row 1 column 1 was point 1 and is point 11.
  const own = [location(11, 1, 1), location(12, 1, 2)]
  const theirs = [location(1, 1, 1), location(2, 1, 2)]
  const readings = [reading(1, '0.39', true), reading(1, '0.36', false), reading(2, '0.38', false), reading(7, '0.99', false)]
  expect(told(carriedReadings(own, theirs, readings))).toEqual([
    [11, '0.36', 'below_range carried'],
    [12, '0.38', 'below_range carried'],
  ])
})

test('a grid that differs from the as-found one shows none: no reading is laid where it was not taken', () => {
  const own = [location(11, 1, 1), location(12, 2, 1)]
  const theirs = [location(1, 1, 1), location(2, 1, 2)]
  expect(carriedReadings(own, theirs, [reading(1, '0.36', false)]).size).toBe(0)
})
