import fc from 'fast-check'
import { expect, test } from 'vitest'
import type { EntityBody } from '#core/model/entities.ts'
import { LATER_FIELDS } from '#core/model/later-fields.ts'
import { calibrationStanding, daysBetween, dueDate, lastDayOfMonth, localDate } from '#core/planning/dates.ts'
import { sweepOrder } from '#core/planning/sweep.ts'
import { NO_POINTS, workload } from '#core/planning/workload.ts'

test('a three by three grid is swept there and back', () => {
  expect(sweepOrder(3, 3).map(({ row, column }) => `${row}${column}`)).toEqual(['11', '12', '13', '23', '22', '21', '31', '32', '33'])
})

test('a sweep visits every cell once and moves one step at a time', () => {
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 12 }), fc.integer({ min: 1, max: 12 }), (rows, columns) => {
      const path = sweepOrder(rows, columns)
      expect(new Set(path.map(({ row, column }) => `${row} ${column}`)).size).toBe(rows * columns)
      for (const [index, place] of path.entries()) {
        const before = path[index - 1]
        if (before) expect(Math.abs(place.row - before.row) + Math.abs(place.column - before.column)).toBe(1)
      }
    }),
  )
})

test('workload of a room by hand', () => {
  // 12 filters of 8 points, one sample, 5 s: 96 readings x 12 s = 1152 s, 11 moves x 45 s = 495 s, together 27.45 min, and 10 min to
  // set up. One change of gown 15 min. Rates are the project's own starting values.
  const room = { ...NO_POINTS, roomId: 'a', filters: 12, points: 96, samplesPerPoint: 1, averagingTimeS: 5 }
  const done = { ...NO_POINTS, roomId: 'b', samplesPerPoint: 1, averagingTimeS: 10 }
  const plan = workload([room, done], { gowningChanges: 1 })
  expect(plan.terminals).toBe(12)
  expect(plan.readings).toBe(96)
  expect(plan.minutes).toBeCloseTo(27.45 + 10 + 15, 10)
  expect(plan.reportMinutes).toBe(20)
  expect(plan.rooms[1]).toEqual({ roomId: 'b', terminals: 0, readings: 0, minutes: 0 })
  // 10 s of averaging makes it 17 s for each reading: 96 x 5 s = 480 s more.
  expect(workload([{ ...room, averagingTimeS: 10 }]).minutes - workload([room]).minutes).toBeCloseTo(8, 10)
})

test('workload under hoods, in a duct and at a flow element by hand', () => {
  // 3 hoods x 2 min = 6 min; one duct of 25 points: 10 min + 25 x 20 s = 18 min 20 s; a flow element of one reading: 12 s. Together 24 min 32 s,
  // and 10 min to set up.
  const room = { roomId: 'a', filters: 1, points: 1, hoods: 3, ducts: 1, ductPoints: 25, samplesPerPoint: 1, averagingTimeS: 5 }
  const once = workload([room])
  expect(once).toMatchObject({ terminals: 5, readings: 29 })
  expect(once.minutes).toBeCloseTo(24 + 32 / 60 + 10, 10)
  // A second sample each: 12 s more under each hood and at the element, 20 s more at each point of the duct: 48 s + 500 s.
  const twice = workload([{ ...room, samplesPerPoint: 2 }])
  expect(twice.readings).toBe(58)
  expect(twice.minutes - once.minutes).toBeCloseTo(548 / 60, 10)
})

test('due dates count whole months and stop at the end of a short one', () => {
  expect(dueDate('2026-03-15', 6)).toBe('2026-09-15')
  expect(dueDate('2026-08-31', 6)).toBe('2027-02-28')
  expect(dueDate('2027-08-31', 6)).toBe('2028-02-29')
  expect(dueDate('2026-12-31', 12)).toBe('2027-12-31')
  expect(lastDayOfMonth('2028-02')).toBe('2028-02-29')
  expect(daysBetween('2026-02-27', '2026-03-01')).toBe(2)
  expect(daysBetween('2026-03-28', '2026-03-30')).toBe(2)
  expect(daysBetween('2026-03-01', '2026-02-27')).toBe(-2)
  expect(() => dueDate('2026-02-30', 6)).toThrow(RangeError)
})

test('the date is the one on the wall at the site', () => {
  const at = Date.parse('2026-06-30T22:30:00.000Z')
  expect(localDate(at, 'Europe/Vienna')).toBe('2026-07-01')
  expect(localDate(at, 'UTC')).toBe('2026-06-30')
  expect(localDate(at, 'Pacific/Kiritimati')).toBe('2026-07-01')
  expect(localDate(at, 'America/Los_Angeles')).toBe('2026-06-30')
  expect(() => localDate(at, 'Mars/Olympus')).toThrow(RangeError)
})

const certificate = (calibratedOn: string, dueOn: string, more: Partial<EntityBody<'calibration'>> = {}): EntityBody<'calibration'> => ({
  certificateNumber: calibratedOn,
  laboratory: '',
  calibratedOn,
  dueOn,
  range: null,
  foundInTolerance: null,
  ...LATER_FIELDS.calibration,
  release: null,
  note: '',
  ...more,
})

test('an instrument is in calibration from the day of the certificate to the due date, both included', () => {
  const certificates = [certificate('2025-03-10', '2026-03-10')]
  const on = (date: string) => calibrationStanding(certificates, date).state
  expect(on('2025-03-09')).toBe('before_first')
  expect(on('2025-03-10')).toBe('valid')
  expect(on('2026-03-10')).toBe('valid')
  expect(on('2026-03-11')).toBe('past_due')
  expect(calibrationStanding([], '2026-01-01').state).toBe('none')
})

test('a gap is released by the next certificate when it found the instrument in tolerance, or a later one that carries a deviation', () => {
  const first = certificate('2025-03-10', '2026-03-10')
  const next = (more: Partial<EntityBody<'calibration'>>) => [certificate('2026-04-20', '2027-04-20', more), first]
  expect(calibrationStanding(next({}), '2026-03-15').state).toBe('past_due')
  expect(calibrationStanding(next({ foundInTolerance: false }), '2026-03-15').state).toBe('past_due')
  expect(calibrationStanding(next({ foundInTolerance: true }), '2026-03-15').state).toBe('released')
  const release = { number: 'DEV-7', reason: 'checked against the spare' }
  expect(calibrationStanding(next({ release }), '2026-03-15')).toMatchObject({ state: 'released', releasedBy: { release } })
  expect(calibrationStanding(next({}), '2026-04-20').state).toBe('valid')
  // Later than the next one, only a deviation still says anything about the gap.
  const afterNext = (more: Partial<EntityBody<'calibration'>>) => [...next({}), certificate('2027-04-20', '2028-04-20', more)]
  expect(calibrationStanding(afterNext({ foundInTolerance: true }), '2026-03-15').state).toBe('past_due')
  expect(calibrationStanding(afterNext({ release, foundInTolerance: true }), '2026-03-15')).toMatchObject({ deviation: 'DEV-7' })
})
