import { describe, expect, test } from 'vitest'
import type { FilterResult, ZoneResult } from '#core/model/results.ts'
import { countsOf, leftOpen } from '#renderer/certifications/left-open.ts'

const uuid = (n: number) => `01890000-0000-7000-8000-${n.toString(16).padStart(12, '0')}`
const terminal = (n: number, pointsMeasured: number, more: Partial<FilterResult> = {}) =>
  // Only what the list of open terminals looks at.
  ({ terminalId: uuid(n), tag: `T-${n}`, closed: false, carried: false, pointsMeasured, pointsPlanned: 4, ...more }) as FilterResult
const plane = (pointsMeasured: number) =>
  // Only what the list of open terminals looks at.
  ({ zoneId: uuid(50), name: 'Core', pointsMeasured, pointsPlanned: 6 }) as ZoneResult
const reason = (...ids: number[]) => [{ terminalIds: ids.map(uuid), cause: 'inaccessible' as const, note: '' }]

describe('what keeps an as-left run open', () => {
  test('every terminal counts once: measured, carried, left out with a reason, or open; a closed one is a recorded zero', () => {
    const filters = [
      terminal(1, 4),
      terminal(2, 4, { carried: true }),
      terminal(3, 0),
      terminal(4, 2),
      terminal(5, 0, { closed: true }),
      terminal(6, 4),
    ]
    expect(countsOf({ filters, zones: [] }, reason(3))).toEqual({ measured: 2, carried: 1, excused: 1, open: 1 })
    expect(leftOpen({ filters, zones: [] }, reason(3)).map(({ tag }) => tag)).toEqual(['T-4'])
  })

  test('a reason given for a terminal that was measured after all changes nothing', () => {
    expect(countsOf({ filters: [terminal(1, 4)], zones: [] }, reason(1))).toEqual({ measured: 1, carried: 0, excused: 0, open: 0 })
  })

  test('a plane with points left out asks for a reason of its own', () => {
    expect(leftOpen({ filters: [], zones: [plane(4)] }, [])).toEqual([{ terminalId: uuid(50), tag: 'Core', measured: 4, planned: 6 }])
    expect(leftOpen({ filters: [], zones: [plane(4)] }, reason(50))).toEqual([])
    expect(leftOpen({ filters: [], zones: [plane(6)] }, [])).toEqual([])
  })
})
