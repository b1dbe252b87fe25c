import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { Entity } from '#core/model/entities.ts'
import { ENTITY_SCHEMAS } from '#core/model/entities.ts'
import { LATER_FIELDS } from '#core/model/later-fields.ts'
import { Room } from '#core/model/places.ts'
import { Terminal } from '#core/model/terminals.ts'
import type { PlanShape } from '#core/model/values.ts'
import { outlineOf, planAreaM2 } from '#core/rooms/geometry.ts'
import { latestCertification, newestFirst } from '#renderer/app/certification-shown.ts'
import { arrange } from '#renderer/app/site-plan.ts'
import { copyRoom, nextNumber } from '#renderer/site/room-copy.ts'
import { roomRows, siteTotals, verdictRank } from '#renderer/site/room-rows.ts'

const uuid = (n: number) => `0198a0a0-0000-7000-8000-${String(n).padStart(12, '0')}`
const metres = (m: number) => ({ si: m, typed: String(m), unit: 'm' as const })

function room(n: number, number: string, shape: PlanShape, parent = 1): Entity<'room'> {
  return {
    kind: 'room',
    id: uuid(n),
    parentId: uuid(parent),
    revision: 3,
    removed: false,
    body: {
      number,
      name: 'Corridor',
      shape,
      ceilingHeight: metres(2.7),
      statedVolume: null,
      cleanlinessClass: 'ISO 7',
      occupancyState: 'at_rest',
      airflowType: 'non_unidirectional',
      designAirChangesPerHour: 30,
      requiredAirChangesPerHour: 20,
      designVelocity: null,
      criteriaSetId: null,
      overrides: [],
      hazards: [],
      ...LATER_FIELDS.room,
      inUse: true,
      note: '',
    },
  }
}

const rectangle = (x: number, y: number, width: number, depth: number): PlanShape => ({ kind: 'rectangle', x, y, width, depth })

describe('copying a room', () => {
  const source = room(10, 'F-104', rectangle(0, 0, 4, 3))
  const other = room(11, 'F-105', rectangle(6, 0, 4, 3))
  const zone: Entity<'zone'> = {
    kind: 'zone',
    id: uuid(20),
    parentId: source.id,
    revision: 1,
    removed: false,
    body: {
      name: 'Core',
      boundary: [
        { x: 1, y: 1 },
        { x: 2, y: 1 },
        { x: 2, y: 2 },
      ],
      cleanlinessClass: 'ISO 5',
      occupancyState: 'at_rest',
      designVelocity: null,
      criteriaSetId: null,
      overrides: [],
      note: '',
    },
  }
  const terminal: Entity<'terminal'> = {
    kind: 'terminal',
    id: uuid(30),
    parentId: source.id,
    revision: 1,
    removed: false,
    body: {
      tag: 'F-104/01',
      kind: 'supply_filter',
      zoneId: zone.id,
      x: 1.5,
      y: 1.5,
      rotationDegrees: 0,
      mounting: 'ceiling',
      grossWidth: metres(0.6),
      grossDepth: metres(0.6),
      effectiveArea: { si: 0.3, typed: '0.3', unit: 'm2' },
      face: 'bare',
      airSource: 'air_handler',
      designVelocity: null,
      designFlow: null,
      correctionFactor: null,
      grid: null,
      closed: null,
      ...LATER_FIELDS.terminal,
      note: '',
    },
  }
  let made = 100
  const copied = copyRoom(source, [zone, terminal], [source, other], () => uuid(made++))

  test('makes new things that the schemas accept, tied to one another and to nothing of the old room', () => {
    expect(copied.changes.map((change) => change.kind)).toEqual(['room', 'zone', 'terminal'])
    for (const change of copied.changes) {
      expect(change.revision).toBeNull()
      expect([source.id, zone.id, terminal.id]).not.toContain(change.id)
      expect(ENTITY_SCHEMAS[change.kind].safeParse(change.body).success).toBe(true)
    }
    const [, newZone, newTerminal] = copied.changes
    expect(Terminal.parse(newTerminal?.body).zoneId).toBe(newZone?.id)
    expect(newTerminal?.parentId).toBe(copied.roomId)
  })

  test('takes the next free number, and the tags take it too', () => {
    expect(copied.number).toBe('F-106')
    expect(Terminal.parse(copied.changes.at(-1)?.body).tag).toBe('F-106/01')
  })

  test('stands free, to the right of everything drawn, with its inside moved along', () => {
    const [head, , last] = copied.changes
    expect(Room.parse(head?.body).shape).toEqual(rectangle(11, 0, 4, 3))
    expect(Terminal.parse(last?.body).x).toBe(12.5)
  })
})

test('a number counts on, keeps its width, and skips what is taken', () => {
  expect(nextNumber('F-104', new Set(['F-104']))).toBe('F-105')
  expect(nextNumber('F-009', new Set(['F-010']))).toBe('F-011')
  expect(nextNumber('A7b', new Set())).toBe('A8b')
  expect(nextNumber('Corridor', new Set(['Corridor']))).toBe('Corridor 2')
})

test('a copy keeps its area, and never overlaps what is drawn', () => {
  const side = fc.double({ min: 0.5, max: 40, noNaN: true })
  const place = fc.double({ min: -50, max: 50, noNaN: true })
  const shape = fc.record({ kind: fc.constant('rectangle' as const), x: place, y: place, width: side, depth: side })
  fc.assert(
    fc.property(shape, fc.array(shape, { maxLength: 5 }), (own, others) => {
      const drawn = [own, ...others].map((one, index) => room(200 + index, `R-${index}`, one))
      const [source] = drawn
      if (!source) throw new Error('no room')
      let n = 300
      const moved = Room.parse(copyRoom(source, [], drawn, () => uuid(n++)).changes[0]?.body).shape
      expect(planAreaM2(moved)).toBeCloseTo(planAreaM2(own), 9)
      const left = Math.min(...outlineOf(moved).map((point) => point.x))
      for (const { body } of drawn) expect(left).toBeGreaterThan(Math.max(...outlineOf(body.shape).map((point) => point.x)))
    }),
  )
})

describe('rooms at a glance', () => {
  const counts = { pass: 1, fail: 0, inconclusive: 0, not_tested: 0, not_valid: 0, not_applicable: 0 }
  const rooms = [room(10, 'F-10', rectangle(0, 0, 1, 1)), room(9, 'F-9', rectangle(0, 0, 1, 1)), room(12, 'F-12', rectangle(0, 0, 1, 1))]
  const certification: Entity<'certification'> = {
    kind: 'certification',
    id: uuid(50),
    parentId: null,
    revision: 1,
    removed: false,
    body: {
      name: 'Certification 2026',
      startsOn: '2026-03-02',
      endsOn: '2026-03-04',
      purpose: 'periodic',
      why: '',
      personIds: [],
      roomIds: [uuid(10), uuid(9)],
      previousId: null,
      finished: false,
    },
  }
  const state = {
    certificationId: uuid(50),
    verdict: 'pass' as const,
    counts,
    rooms: [
      {
        roomId: uuid(10),
        verdict: 'pass' as const,
        counts,
        failedAsFound: false,
        headline: { code: 'x', params: {} },
        airChangesPerHour: 31,
        supplyFlowM3ps: 0.25,
        figuresFrom: null,
        filtersMeasured: 4,
        filtersPlanned: 4,
        runs: [],
      },
    ],
  }

  test('a room in scope without a run is not tested; one out of scope has no verdict and counts nowhere', () => {
    const rows = roomRows(rooms, state, certification)
    expect(rows.map((row) => row.verdict)).toEqual(['pass', 'not_tested', null])
    const totals = siteTotals(rows)
    expect(totals.inScope).toBe(2)
    expect(totals.counts.pass).toBe(1)
    expect(totals.counts.not_tested).toBe(1)
    expect(totals.measured).toBe(4)
  })

  test('the worst verdict sorts first and what is out of scope last', () => {
    const order = (['pass', 'fail', null, 'inconclusive', 'not_tested'] as const).toSorted((a, b) => verdictRank(a) - verdictRank(b))
    expect(order).toEqual(['fail', 'not_tested', 'inconclusive', 'pass', null])
  })

  test('rooms stand by number as people count', () => {
    const { rooms: sorted } = arrange(rooms)
    expect(sorted.map((entry) => entry.body.number)).toEqual(['F-9', 'F-10', 'F-12'])
  })

  test('the certification shown at first is the one that started last', () => {
    const earlier = { ...certification, id: uuid(60), body: { ...certification.body, startsOn: '2025-03-02' } }
    expect(latestCertification([earlier, certification])?.id).toBe(certification.id)
    expect(newestFirst([earlier, certification]).map((entry) => entry.id)).toEqual([certification.id, earlier.id])
    expect(latestCertification([])).toBeNull()
  })
})
