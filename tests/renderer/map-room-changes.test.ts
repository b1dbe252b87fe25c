import { v7 } from 'uuid'
import { describe, expect, test } from 'vitest'
import { EntityChange } from '#core/api/entities.ts'
import type { Entity, EntityBody } from '#core/model/entities.ts'
import { checkBody } from '#core/model/rules.ts'
import { freshDoor, freshRoom, freshTerminal, freshZone, proposed, proposedEffectiveArea } from '#renderer/rooms/edit/fresh-bodies.ts'
import { merged, withChanges } from '#renderer/rooms/edit/pending-changes.ts'
import { resized } from '#renderer/rooms/edit/resized-face.ts'
import { copiedRoom, created, edited, gatheredInto, newTerminals, removedZone, replacedElement } from '#renderer/rooms/edit/room-changes.ts'
import type { RoomPlan } from '#renderer/rooms/room-plan.ts'

const facilityId = v7()
const roomId = v7()
const zoneId = v7()

function entity<K extends 'room' | 'zone' | 'terminal' | 'filter_element' | 'facility'>(
  kind: K,
  id: string,
  parentId: string | null,
  body: EntityBody<K>,
): Entity<K> {
  // Kind and body agree by K, as in the editor itself.
  return { kind, id, parentId, revision: 3, removed: false, body } as Entity<K>
}

const room = entity('room', roomId, facilityId, {
  ...freshRoom('F-107', 'Corridor'),
  shape: { kind: 'rectangle', x: 2, y: 1, width: 6, depth: 2 },
})
const zone = entity(
  'zone',
  zoneId,
  roomId,
  freshZone(
    'Core',
    [
      { x: 2, y: 1 },
      { x: 5, y: 1 },
      { x: 5, y: 3 },
      { x: 2, y: 3 },
    ],
    room.body,
  ),
)
const inside = entity('terminal', v7(), roomId, freshTerminal('F-107-01', { x: 3, y: 2 }, zoneId))
const outside = entity('terminal', v7(), roomId, freshTerminal('R-1', { x: 7, y: 2 }, null))
const facility = entity('facility', facilityId, null, { name: 'Filling', address: '', northDegrees: 0, altitudeM: null, note: '' })
const plan: RoomPlan = { facility, room, neighbours: [], doors: [], zones: [zone], terminals: [inside, outside], elements: [] }

describe('a similar room by copying', () => {
  const copy = copiedRoom(plan, { number: 'F-108', name: 'Corridor east', facilityId, shift: { x: 7.5, y: 0 } }, v7)
  const bodies = copy.changes.map((change) => change.body)

  test('has everything under new identities, moved by the shift, tags renumbered with the room', () => {
    expect(copy.changes.map((change) => change.kind)).toEqual(['room', 'zone', 'terminal', 'terminal'])
    expect(new Set([...copy.changes.map((change) => change.id), roomId, zoneId, inside.id, outside.id]).size).toBe(8)
    expect(bodies[0]).toMatchObject({ number: 'F-108', shape: { x: 9.5, y: 1, width: 6, depth: 2 } })
    expect(bodies[2]).toMatchObject({ tag: 'F-108-01', x: 10.5, y: 2 })
    expect(bodies[3]).toMatchObject({ tag: 'R-1', x: 14.5, y: 2, zoneId: null })
  })

  test('its filters belong to its own zone, and every change is one the contract takes', () => {
    expect(bodies[2]).toMatchObject({ zoneId: copy.changes[1]?.id })
    for (const change of copy.changes) expect(EntityChange.safeParse(change).error).toBeUndefined()
  })
})

describe('zones and what lies in them', () => {
  test('filters whose centre lies inside join, those outside leave, the others are not touched', () => {
    const wide = [
      { x: 6, y: 1 },
      { x: 8, y: 1 },
      { x: 8, y: 3 },
      { x: 6, y: 3 },
    ]
    expect(
      gatheredInto(zoneId, wide, plan.terminals).map((change) => [
        change.id,
        change.body && 'zoneId' in change.body ? change.body.zoneId : undefined,
      ]),
    ).toEqual([
      [inside.id, null],
      [outside.id, zoneId],
    ])
    expect(gatheredInto(zoneId, zone.body.boundary, plan.terminals)).toEqual([])
  })

  test('a removed zone lets its filters go first, in one command', () => {
    const changes = removedZone(zone, plan.terminals)
    expect(changes.map((change) => change.id)).toEqual([inside.id, zoneId])
    expect(changes.at(-1)?.body).toBeNull()
  })

  test('new filters take the zone that they are placed in', () => {
    const changes = newTerminals(
      roomId,
      inside.body,
      [
        { x: 4, y: 2 },
        { x: 7.5, y: 2 },
      ],
      ['A', 'B'],
      plan.zones,
      v7,
    )
    expect(changes.map((change) => change.body)).toMatchObject([
      { tag: 'A', zoneId },
      { tag: 'B', zoneId: null },
    ])
  })
})

describe('filter elements', () => {
  test('the old filter ends on the day that the new one is put in', () => {
    const old = entity('filter_element', v7(), inside.id, {
      serialNumber: 'A-1',
      model: '',
      installedOn: '2024-03-01',
      removedOn: null,
      note: '',
    })
    const next = { serialNumber: 'A-2', model: '', installedOn: '2026-04-12', removedOn: null, note: '' }
    const changes = replacedElement(inside.id, old, next, v7)
    expect(changes[0]).toMatchObject({ id: old.id, revision: 3, body: { serialNumber: 'A-1', removedOn: '2026-04-12' } })
    expect(changes[1]).toMatchObject({ revision: null, parentId: inside.id, body: { serialNumber: 'A-2', removedOn: null } })
  })
})

describe('proposed values', () => {
  test('0.61 x 1.22 m less a frame of 25 mm opens 0.56 x 1.17 = 0.6552 m2', () => {
    expect(proposedEffectiveArea(0.61, 1.22)).toEqual({ si: 0.6552, typed: '0.6552', unit: 'm2' })
    // 2 ft x 4 ft less 25 mm on each side: (0.6096 - 0.05) x (1.2192 - 0.05) = 0.5596 x 1.1692 = 0.65428 m2 = 7.04 ft2 (1 ft2 = 0.09290304 m2).
    const inFeet = freshTerminal('A', { x: 0, y: 0 }, null, 'ft')
    expect([inFeet.grossWidth.typed, inFeet.grossWidth.si, inFeet.effectiveArea.typed]).toEqual(['2', 0.6096, '7.04'])
    expect(inFeet.effectiveArea.si).toBeCloseTo(7.04 * 0.09290304, 12)
    expect(resized(inFeet, { grossDepth: { ...inFeet.grossWidth } }).effectiveArea.typed).toBe('3.37')
  })

  test('an effective area that was proposed follows the size, one that was typed stays', () => {
    const body = freshTerminal('A', { x: 0, y: 0 }, null)
    // 0.56 x 0.56 = 0.3136
    expect(resized(body, { grossDepth: proposed(0.61, 'm') }).effectiveArea.si).toBe(0.3136)
    const typed = { ...body, effectiveArea: { si: 0.5, typed: '0.5', unit: 'm2' as const } }
    expect(resized(typed, { grossDepth: proposed(0.61, 'm') }).effectiveArea.typed).toBe('0.5')
  })

  test('what the editor makes by itself keeps every rule of the model', () => {
    expect(checkBody('room', freshRoom('1', ''))).toEqual([])
    expect(checkBody('terminal', freshTerminal('1', { x: 0, y: 0 }, null))).toEqual([])
    expect(checkBody('zone', zone.body)).toEqual([])
    expect(checkBody('door', freshDoor(roomId, null, { x: 0, y: 0 }, 90))).toEqual([])
  })
})

describe('changes that are on their way', () => {
  const moved = (from: Entity<'terminal'>, x: number) => edited(from, { ...from.body, x })

  test('show at once, and a further change builds on the revision that the first will have', () => {
    const once = withChanges([inside], [moved(inside, 4)])
    expect(once[0]).toMatchObject({ revision: 4, body: { x: 4 } })
    const first = once[0]
    if (first?.kind !== 'terminal') throw new Error('a terminal expected')
    expect(moved(first, 5).revision).toBe(4)
    expect(withChanges([inside], [moved(inside, 4), moved(first, 5)])[0]).toMatchObject({ revision: 5, body: { x: 5 } })
  })

  test('a new entity has revision 1, a removed one is marked', () => {
    const id = v7()
    expect(withChanges([], [created('terminal', id, roomId, inside.body)])).toMatchObject([{ id, revision: 1, removed: false }])
    expect(withChanges([inside], [{ ...moved(inside, 4), body: null }])).toMatchObject([{ removed: true }])
  })

  test('taking them back leaves what was there, the same objects', () => {
    expect(withChanges([inside, outside], [])).toEqual([inside, outside])
    expect(withChanges([inside, outside], [moved(inside, 4)])[1]).toBe(outside)
  })

  test('of two answers the newer revision stays, and what does not belong here is not taken in', () => {
    const newer = { ...inside, revision: 5 }
    expect(merged([newer], [{ ...inside, revision: 4 }], () => true)).toEqual([newer])
    expect(merged([], [outside], () => false)).toEqual([])
    expect(merged([inside], [{ ...inside, revision: 4, removed: true }], () => true)).toEqual([])
  })
})
