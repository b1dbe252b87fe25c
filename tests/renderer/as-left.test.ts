import { expect, test } from 'vitest'
import type { Entity, EntityBody } from '#core/model/entities.ts'
import { LATER_FIELDS } from '#core/model/later-fields.ts'
import type { Reading } from '#core/model/readings.ts'
import type { FilterResult } from '#core/model/results.ts'
import { carriedCount, carryCandidates, carrySource, stateDiffers, withCarriedGroup } from '#renderer/certifications/carried.ts'
import { repeatsOf } from '#renderer/certifications/repeats.ts'
import { methodFor, methodsFor } from '#renderer/certifications/start-defaults.ts'

const uuid = (n: number) => `01890000-0000-7000-8000-${n.toString(16).padStart(12, '0')}`
const ROOM = uuid(1)

function run(n: number, body: Partial<EntityBody<'run'>> = {}, parentId = uuid(900)): Entity<'run'> {
  return {
    kind: 'run',
    id: uuid(n),
    parentId,
    revision: 1,
    removed: false,
    body: {
      roomId: ROOM,
      zoneId: null,
      method: 'room_airflow',
      phase: 'as_found',
      plane: { kind: 'filter_face', distanceM: 0.15 },
      occupancyState: 'at_rest',
      operatingState: { airHandler: 'normal', doors: 'closed', equipment: 'off' },
      facingDegrees: 0,
      unit: 'm/s',
      averagingTimeS: 5,
      samplesPerPoint: 1,
      conditions: { temperature: null, relativeHumidity: null, pressure: null },
      cautionsRead: [],
      ...LATER_FIELDS.run,
      missing: [],
      state: 'complete',
      note: '',
      ...body,
    },
  }
}

const asLeft = run(50, { phase: 'as_left', state: 'open' })

test('readings are carried from the latest complete as-found run of the same room, method and plane, in the same visit', () => {
  const others = [
    run(10),
    run(12),
    run(13, { state: 'open' }),
    run(14, { method: 'face_velocity_grid' }),
    run(15, { roomId: uuid(2) }),
    run(16, { plane: { kind: 'working_height', heightM: 1 } }),
    run(17, {}, uuid(901)),
    run(18, { phase: 'as_left' }),
  ]
  expect(carrySource(asLeft, others)?.id).toBe(uuid(12))
  expect(carrySource(asLeft, others.slice(2))).toBeNull()
})

// Only what the choice looks at is made.
const filter = (n: number, pointsMeasured: number, closed = false) =>
  ({ terminalId: uuid(n), tag: `T-${n}`, pointsMeasured, closed }) as FilterResult

test('only terminals that were measured as found and have nothing as left can be carried', () => {
  const found = { filters: [filter(1, 8), filter(2, 8), filter(3, 0), filter(4, 8), filter(5, 8, true)] }
  const left = { filters: [filter(1, 0), filter(2, 3), filter(3, 0), filter(4, 0)] }
  const carried = [{ terminalIds: [uuid(4)], fromRunId: uuid(12), reason: 'not adjusted', fanOrMainDamperMoved: false }]
  expect(carryCandidates(found, left, carried).map(({ tag }) => tag)).toEqual(['T-1'])
})

test('one reason serves a group, and a group of the same reason takes more terminals in', () => {
  const first = withCarriedGroup([], { terminalIds: [uuid(1)], fromRunId: uuid(12), reason: 'not adjusted', fanOrMainDamperMoved: false })
  const more = withCarriedGroup(first, { terminalIds: [uuid(2)], fromRunId: uuid(12), reason: 'not adjusted', fanOrMainDamperMoved: false })
  expect(more).toEqual([{ terminalIds: [uuid(1), uuid(2)], fromRunId: uuid(12), reason: 'not adjusted', fanOrMainDamperMoved: false }])
  expect(
    withCarriedGroup(more, { terminalIds: [uuid(3)], fromRunId: uuid(12), reason: 'sealed', fanOrMainDamperMoved: false }),
  ).toHaveLength(2)
  expect(carriedCount({ carried: more })).toBe(2)
})

test('another state of the air handler is seen whatever its spelling', () => {
  const state = (airHandler: string) => ({ operatingState: { airHandler, doors: '', equipment: '' } })
  expect(stateDiffers(state('Normal '), state('normal'))).toBe(false)
  expect(stateDiffers(state('normal'), state('reduced'))).toBe(true)
})

test('repeats are counted terminal by terminal, those with the most first', () => {
  const reading = (number: number, point: number, voided: boolean) =>
    ({
      id: `r:${number}`,
      point,
      typed: '0.4',
      voided: voided ? { at: '', personId: '', reason: 'knocked', replacedBy: null } : null,
    }) as unknown as Reading
  const places = [1, 2].map((n) => ({
    number: n,
    kind: 'filter_point' as const,
    terminalId: uuid(n),
    row: 1,
    column: 1,
    offsetXM: 0,
    offsetYM: 0,
    cellAreaM2: 1,
  }))
  const readings = [reading(1, 1, true), reading(2, 2, true), reading(3, 2, true), reading(4, 2, false)]
  const found = repeatsOf(readings, places, [])
  expect(found.map(({ terminalId, readings: own }) => [terminalId, own.length])).toEqual([
    [uuid(2), 2],
    [uuid(1), 1],
  ])
})

test('a repeat says which point of its terminal it was, and what was read instead', () => {
  const place = (number: number, n: number) => ({
    number,
    kind: 'filter_point' as const,
    terminalId: uuid(n),
    row: 1,
    column: 1,
    offsetXM: 0,
    offsetYM: 0,
    cellAreaM2: 1,
  })
  const reading = (number: number, point: number, replacedBy: string | null, taken = true) =>
    ({
      id: `r:${number}`,
      point,
      typed: String(number),
      voided: taken ? { at: '', personId: '', reason: '', replacedBy } : null,
    }) as unknown as Reading
  // Points 1 and 2 are those of one terminal, 3 is the only one of another.
  const places = [place(1, 1), place(2, 1), place(3, 2)]
  const found = repeatsOf([reading(7, 2, 'r:8'), reading(8, 2, null, false), reading(9, 3, null)], places, [])
  const told = found.map(({ readings: own }) => own.map(({ point, after }) => [point, after?.typed ?? null]))
  expect(told).toEqual([[[2, '8']], [[null, null]]])
})

test('a zone is measured over its plane or its filters, a room by its filters or in full', () => {
  expect(methodsFor(null)).toContain('room_airflow')
  expect(methodFor('room_airflow', uuid(7))).toBe('face_velocity_grid')
  expect(methodFor('plane_velocity_grid', uuid(7))).toBe('plane_velocity_grid')
  expect(methodFor('plane_velocity_grid', null)).toBe('face_velocity_grid')
})
