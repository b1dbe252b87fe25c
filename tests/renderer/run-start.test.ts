import { describe, expect, test } from 'vitest'
import { missingFilters } from '#core/history/outstanding.ts'
import type { Entity, EntityBody } from '#core/model/entities.ts'
import { LATER_FIELDS } from '#core/model/later-fields.ts'
import type { FilterResult, RoomState } from '#core/model/results.ts'
import { withReason } from '#renderer/certifications/missing-points.ts'
import { filtersPlanned, isDone, progressOf } from '#renderer/certifications/room-lines.ts'
import { lastRunOf, startChoices } from '#renderer/certifications/start-defaults.ts'
import { aRoom } from '#tests/core/face-run.ts'

const uuid = (n: number) => `01890000-0000-7000-8000-${n.toString(16).padStart(12, '0')}`
const ROOM = uuid(1)

function run(n: number, body: Partial<EntityBody<'run'>> = {}): Entity<'run'> {
  return {
    kind: 'run',
    id: uuid(n),
    parentId: uuid(900),
    revision: 1,
    removed: false,
    body: {
      roomId: ROOM,
      zoneId: null,
      method: 'face_velocity_grid',
      phase: 'as_found',
      plane: { kind: 'filter_face', distanceM: 0.2 },
      occupancyState: 'in_operation',
      operatingState: { airHandler: 'normal', doors: 'closed', equipment: 'off' },
      facingDegrees: 270,
      unit: 'ft/min',
      averagingTimeS: 5,
      samplesPerPoint: 2,
      conditions: { temperature: null, relativeHumidity: null, pressure: null },
      cautionsRead: [],
      ...LATER_FIELDS.run,
      missing: [],
      state: 'open',
      note: '',
      ...body,
    },
  }
}

const SET = uuid(80)
const citing: Entity<'criteria_set'> = {
  kind: 'criteria_set',
  id: SET,
  parentId: null,
  revision: 1,
  removed: false,
  body: {
    name: 'Set',
    decisionRule: { kind: 'simple' },
    ...LATER_FIELDS.criteria_set,
    comparison: 'absolute',
    ...LATER_FIELDS.criteria_set,
    note: '',
    criteria: [
      {
        key: 'a',
        title: 'A',
        quantity: 'face_velocity',
        scope: 'filter',
        form: { kind: 'within_percent_of_design', percent: 20 },
        plane: 'any',
        basis: 'as_indicated',
        on: true,
        alert: null,
        source: 'ISO 14644-3',
      },
    ],
  },
}

const room: Entity<'room'> = {
  kind: 'room',
  id: ROOM,
  parentId: uuid(901),
  revision: 1,
  removed: false,
  body: aRoom({ airflowType: 'unidirectional', occupancyState: 'at_rest', criteriaSetId: SET }),
}

const METRIC = { velocity: 'm/s', flow: 'm3/h', pressure: 'Pa' } as const

describe('what a new run starts with', () => {
  test('is set as the room was measured last, but never with too short an averaging time', () => {
    const choices = startChoices({
      room,
      places: [citing],
      zoneId: null,
      here: [],
      last: run(5),
      method: 'face_velocity_grid',
      display: METRIC,
    })
    expect(choices).toMatchObject({
      phase: 'as_found',
      plane: { kind: 'filter_face', distanceM: 0.2 },
      occupancyState: 'in_operation',
      facingDegrees: 270,
      unit: 'ft/min',
      averagingTimeS: 10,
      samplesPerPoint: 2,
    })
  })

  test('is set from the room and the project where nothing was measured before', () => {
    const choices = startChoices({ room, places: [], zoneId: null, here: [], last: null, method: 'face_velocity_grid', display: METRIC })
    expect(choices).toMatchObject({
      phase: 'as_found',
      occupancyState: 'at_rest',
      facingDegrees: 0,
      unit: 'm/s',
      averagingTimeS: 5,
      samplesPerPoint: 1,
    })
  })

  test('is as left once the as-found run of the same scope is complete', () => {
    const phaseAfter = (here: Entity<'run'>[], zoneId: string | null = null) =>
      startChoices({ room, places: [], zoneId, here, last: null, method: 'face_velocity_grid', display: METRIC }).phase
    expect(phaseAfter([run(5)])).toBe('as_found')
    expect(phaseAfter([run(5, { state: 'complete' })])).toBe('as_left')
    expect(phaseAfter([run(5, { state: 'signed' })])).toBe('as_left')
    expect(phaseAfter([run(5, { state: 'complete' })], uuid(7))).toBe('as_found')
  })

  test('takes the newest run of the same zone, else of the room', () => {
    const runs = [run(5), run(7, { zoneId: uuid(70) }), run(6), run(8, { roomId: uuid(2) })]
    expect(lastRunOf(runs, ROOM, null)?.id).toBe(uuid(6))
    expect(lastRunOf(runs, ROOM, uuid(70))?.id).toBe(uuid(7))
    expect(lastRunOf(runs, ROOM, uuid(71))?.id).toBe(uuid(7))
    expect(lastRunOf(runs, uuid(3), null)).toBeNull()
  })
})

describe('points left out', () => {
  const filter = (n: number, measured: number, closed = false): FilterResult =>
    // Only what the list of missing points looks at.
    ({ terminalId: uuid(n), tag: `T-${n}`, closed, pointsMeasured: measured, pointsPlanned: 8 }) as FilterResult

  test('are listed by filter, without closed ones and those that have a reason', () => {
    const filters = [filter(1, 8), filter(2, 7), filter(3, 0), filter(4, 0, true)]
    expect(missingFilters(filters, []).map(({ tag, measured }) => [tag, measured])).toEqual([
      ['T-2', 7],
      ['T-3', 0],
    ])
    expect(missingFilters(filters, [{ terminalIds: [uuid(3)], cause: 'inaccessible', note: '' }]).map(({ tag }) => tag)).toEqual(['T-2'])
  })

  test('one reason serves a group, and a filter has one reason at a time', () => {
    const first = withReason([], { terminalIds: [uuid(1), uuid(2)], cause: 'inaccessible', note: 'crane' })
    expect(first).toHaveLength(1)
    const joined = withReason(first, { terminalIds: [uuid(3)], cause: 'inaccessible', note: 'crane' })
    expect(joined).toEqual([{ terminalIds: [uuid(1), uuid(2), uuid(3)], cause: 'inaccessible', note: 'crane' }])
    const moved = withReason(joined, { terminalIds: [uuid(2)], cause: 'obstructed', note: '' })
    expect(moved).toEqual([
      { terminalIds: [uuid(1), uuid(3)], cause: 'inaccessible', note: 'crane' },
      { terminalIds: [uuid(2)], cause: 'obstructed', note: '' },
    ])
  })
})

describe('how far a visit is', () => {
  const state = (
    roomId: string,
    runs: { current: boolean; state: 'open' | 'complete' }[],
    verdict: RoomState['verdict'] = 'pass',
  ): RoomState =>
    // Only what the progress looks at.
    ({ roomId, runs, verdict, filtersPlanned: 4, filtersMeasured: runs.length > 0 ? 3 : 0 }) as RoomState

  test('a room is done when it was measured and no run of it is open', () => {
    expect(isDone(state(ROOM, []))).toBe(false)
    expect(isDone(state(ROOM, [{ current: true, state: 'open' }]))).toBe(false)
    expect(
      isDone(
        state(ROOM, [
          { current: true, state: 'complete' },
          { current: false, state: 'open' },
        ]),
      ),
    ).toBe(false)
    expect(
      isDone(
        state(ROOM, [
          { current: true, state: 'complete' },
          { current: false, state: 'complete' },
        ]),
      ),
    ).toBe(true)
  })

  test('counts the filters of rooms that have no run yet as planned', () => {
    const rooms = [state(ROOM, [{ current: true, state: 'complete' }], 'fail'), state(uuid(2), [])]
    const planned = [{ roomId: uuid(2), filters: 11 }]
    expect(filtersPlanned(state(uuid(2), []), planned)).toBe(11)
    // The visit's own verdict and counts are not looked at.
    const visit = { rooms } as Parameters<typeof progressOf>[0]
    expect(progressOf(visit, planned)).toEqual({ rooms: 2, done: 1, failing: 1, filters: 15, measured: 3 })
  })
})
