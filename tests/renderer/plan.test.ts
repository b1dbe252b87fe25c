import { describe, expect, test } from 'vitest'
import type { Entity, EntityBody } from '#core/model/entities.ts'
import { LATER_FIELDS } from '#core/model/later-fields.ts'
import type { Entered, Unit } from '#core/model/values.ts'
import { doorsToMeasure, quantitiesFor } from '#core/planning/proposed-work.ts'
import { NO_POINTS } from '#core/planning/workload.ts'
import { daysOfVisit, proposedDates, proposedName } from '#renderer/plan/plan-dates.ts'
import { plannedRooms, plannedWork, tasksOf } from '#renderer/plan/plan-work.ts'
import { carriedRooms } from '#renderer/plan/use-plan.ts'

const last = { name: 'Certification 2026', startsOn: '2026-07-06', endsOn: '2026-07-09' }

describe('dates of the next visit', () => {
  test('as long as the last one, ending on the last weekday before the due date', () => {
    // 9 January 2027 is a Saturday: the visit ends on Friday the 8th and takes four days like the last one
    expect(proposedDates(last, '2027-01-09', '2026-11-25')).toEqual({ startsOn: '2027-01-05', endsOn: '2027-01-08' })
    // 13 January 2027 is a Wednesday; four days back lies Sunday the 10th, so it begins on Monday
    expect(proposedDates(last, '2027-01-13', '2026-11-25')).toEqual({ startsOn: '2027-01-11', endsOn: '2027-01-13' })
  })

  test('a due date in the past proposes nothing', () => {
    expect(proposedDates(last, '2026-07-09', '2026-11-25')).toBeNull()
  })

  test('the year in the name moves on; a name without its year is left to the person', () => {
    expect(proposedName(last, '2027-01-05')).toBe('Certification 2027')
    expect(proposedName({ ...last, name: 'Winter visit' }, '2027-01-05')).toBeNull()
    expect(proposedName(last, '')).toBeNull()
  })

  test('both ends of a visit count', () => {
    expect(daysOfVisit('2027-01-05', '2027-01-08')).toBe(4)
    expect(daysOfVisit('2027-01-05', '2027-01-05')).toBe(1)
    expect(daysOfVisit('2027-01-08', '2027-01-05')).toBe(0)
    expect(daysOfVisit('', '2027-01-05')).toBe(0)
  })
})

const metres = (si: number, unit: Unit = 'm'): Entered => ({ si, typed: String(si), unit })

function terminal(parentId: string, patch: Partial<EntityBody<'terminal'>> = {}): Entity<'terminal'> {
  const body: EntityBody<'terminal'> = {
    tag: 'F-1',
    kind: 'supply_filter',
    zoneId: null,
    x: 0,
    y: 0,
    rotationDegrees: 0,
    mounting: 'ceiling',
    grossWidth: metres(1.22),
    grossDepth: metres(0.61),
    effectiveArea: metres(0.66, 'm2'),
    face: 'bare',
    airSource: 'air_handler',
    designVelocity: null,
    designFlow: null,
    correctionFactor: null,
    grid: null,
    closed: null,
    ...LATER_FIELDS.terminal,
    note: '',
    ...patch,
  }
  return { kind: 'terminal', id: `${parentId}-${Math.random()}`, parentId, revision: 1, removed: false, body }
}

function aRoom(id: string, airflowType: EntityBody<'room'>['airflowType']): Entity<'room'> {
  return { kind: 'room', id, parentId: null, revision: 1, removed: false, body: { airflowType } } as Entity<'room'>
}

describe('the work of a visit', () => {
  const terminals = [
    terminal('a'),
    terminal('a', { grid: { rows: 3, columns: 3 } }),
    terminal('a', { kind: 'return_grille' }),
    terminal('a', { closed: { reason: 'blanked off' } }),
    terminal('b'),
  ]
  // A room's airflow type decides by which method it is planned; nothing else of it counts here.
  const rooms = ['a', 'b', 'c'].map((id) => aRoom(id, 'unidirectional'))
  const places = { rooms, zones: [], terminals }

  test('filters and points of the chosen rooms: grilles and closed terminals are no work', () => {
    // 1.22 x 0.61 m: 2 x 4 points by the rule of the house; 3 x 3 where the terminal says so
    expect(tasksOf(['a'], places, () => 5)).toEqual([
      { ...NO_POINTS, roomId: 'a', filters: 2, points: 17, samplesPerPoint: 1, averagingTimeS: 5 },
    ])
    expect(tasksOf(['a', 'b'], places, () => 5).map((task) => task.points)).toEqual([17, 8])
    expect(tasksOf(['c'], places, () => 5)[0]).toMatchObject({ filters: 0, points: 0 })
  })

  test('a turbulent room with grilles is planned as its air flow: every terminal by its way, and what to pack for it', () => {
    const duct: EntityBody<'terminal'>['duct'] = {
      section: { shape: 'round', diameter: metres(0.4) },
      rule: 'log_linear',
      lines: 2,
      pointsPerLine: 6,
      measures: 'velocity_pressure',
      direction: 'exhaust',
      pitotCoefficient: 1,
      countsInRoom: false,
      straightBefore: null,
      straightAfter: null,
      cyclonic: null,
    }
    const turbulent = {
      rooms: [aRoom('t', 'non_unidirectional')],
      zones: [],
      terminals: [
        terminal('t', { face: 'swirl' }),
        terminal('t', { kind: 'return_grille', face: 'grille' }),
        terminal('t', { kind: 'exhaust_grille', face: 'grille', closed: { reason: 'blanked off' } }),
        terminal('t', { kind: 'duct_section', mounting: 'duct', duct }),
      ],
    }
    // two hoods, and one duct of 2 lines with 6 points
    expect(tasksOf(['t'], turbulent, () => 5)).toEqual([
      { ...NO_POINTS, roomId: 't', hoods: 2, ducts: 1, ductPoints: 12, samplesPerPoint: 1, averagingTimeS: 5 },
    ])
    expect([...quantitiesFor(plannedRooms(['t'], turbulent))].sort()).toEqual(['flow', 'velocity_pressure'])
  })

  test('a unidirectional room with nothing but a zone is planned as its plane', () => {
    const boundary = [
      { x: 0, y: 0 },
      { x: 1, y: 0 },
      { x: 1, y: 1 },
      { x: 0, y: 1 },
    ]
    const zone = { kind: 'zone', id: 'z', parentId: 'c', revision: 1, removed: false, body: { name: 'Z', boundary } } as Entity<'zone'>
    const plane = { rooms, zones: [zone], terminals: [] }
    // 1 m2 by cells of at most 0.095 m2: 11 points at least, at most half as many again: 4 x 4 is the squarest
    expect(tasksOf(['c'], plane, () => 5)).toEqual([{ ...NO_POINTS, roomId: 'c', points: 16, samplesPerPoint: 1, averagingTimeS: 5 }])
    expect([...quantitiesFor(plannedRooms(['c'], plane))]).toEqual(['velocity'])
  })

  test('doors with a pressure to keep are measured once each, and a gauge is packed for them', () => {
    const door = (roomIds: EntityBody<'door'>['roomIds'], wanted: number | null) => ({
      body: { roomIds, leastPressureDifference: wanted === null ? null : { si: wanted, typed: String(wanted), unit: 'Pa' as const } },
    })
    // between two chosen rooms, to a room that is left out, to the outside, without a pressure to keep, of other rooms
    const doors = [door(['a', 'b'], 10), door(['x', 'b'], -15), door(['a', null], 12.5), door(['a', 'b'], null), door(['x', null], 10)]
    expect(doorsToMeasure(['a', 'b'], doors)).toEqual(doors.slice(0, 3))
    expect([...quantitiesFor(plannedRooms(['a'], places), 3)].sort()).toEqual(['pressure_difference', 'velocity'])
    expect([...quantitiesFor(plannedRooms(['a'], places), 0)]).toEqual(['velocity'])
  })

  test('days by hand: measuring is shared, reports are not forgotten', () => {
    // room a: 17 readings x 12 s + 1 way x 45 s = 249 s = 4.15 min, set up 10 min; room b: 8 x 12 s = 1.6 min, set up 10 min
    // two people, one area: 2 changes of gown x 15 min; 3 doors x 1 min;
    // in all 4.15 + 10 + 1.6 + 10 + 30 + 3 = 58.75 min; reports 2 x 20 min
    const work = plannedWork(
      tasksOf(['a', 'b'], places, () => 5),
      2,
      1,
      3,
    )
    expect(work).toMatchObject({ terminals: 3, readings: 25, reportMinutes: 40 })
    expect(work.minutes).toBeCloseTo(58.75, 9)
    expect(work.daysOnSite).toBeCloseTo(58.75 / 2 / 450, 9)
    expect(work.personDays).toBeCloseTo(98.75 / 450, 9)
  })

  test('without people there is no number of days', () => {
    expect(
      plannedWork(
        tasksOf(['a'], places, () => 5),
        0,
        1,
        0,
      ).daysOnSite,
    ).toBeNaN()
  })
})

describe('rooms that carry over', () => {
  const room = (id: string, inUse: boolean) => ({ id, body: { inUse } }) as Entity<'room'>
  const rooms = [room('a', true), room('b', false), room('c', true)]

  test('those of the last visit that are still in use; without one all in use', () => {
    const visit = { body: { roomIds: ['a', 'b', 'gone'] } } as Entity<'certification'>
    expect(carriedRooms(rooms, visit)).toEqual(['a'])
    expect(carriedRooms(rooms, null)).toEqual(['a', 'c'])
  })
})
