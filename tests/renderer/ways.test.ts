import { describe, expect, test } from 'vitest'
import { layOutPlane } from '#core/methods/airflow/plane-layout.ts'
import { methodOf } from '#core/methods/catalogue.ts'
import type { EntityBody } from '#core/model/entities.ts'
import { fixedView, placeBeside } from '#renderer/readings/bench-facts.ts'
import { doorPressuresOf } from '#renderer/readings/door-pressures.ts'
import { inputOfFilter } from '#renderer/readings/live-input.ts'
import { misfitsOfRun, openMisfits } from '#renderer/readings/misfits-of-run.ts'
import { planPaste } from '#renderer/readings/paste-plan.ts'
import { othersOf, questionOf } from '#renderer/readings/questions.ts'
import { unrecorded } from '#renderer/readings/reading-book.ts'
import type { FilterView } from '#renderer/readings/run-desk.ts'
import { quantitiesOf } from '#renderer/readings/run-plan.ts'
import { unitOfRun, withUnit } from '#renderer/readings/run-units.ts'
import { type HandInstrument, heldFor } from '#renderer/readings/use-hand-instrument.ts'
import { at, DOOR, deskOf, HOOD, hood, MANOMETER, METRIC, manometer, roomPlan, type, value, viewOf, ZONE } from './room-fixture.ts'
import { INSTRUMENT, planOf, runDetail, uuid } from './run-fixture.ts'

describe('a run of many ways', () => {
  test('each terminal tells its way and what is read there; the person holds one instrument for each quantity', () => {
    const plan = roomPlan()
    expect(plan.filters.map(({ way, quantity, points }) => [way, quantity, points.length])).toEqual([
      ['hood', 'flow', 1],
      ['hood', 'flow', 1],
      ['hood', 'flow', 1],
      ['face_grid', 'velocity', 2],
      ['duct_traverse', 'velocity_pressure', 12],
    ])
    expect(quantitiesOf(plan)).toEqual(['flow', 'velocity', 'velocity_pressure'])
    const both = [
      { id: HOOD, body: hood },
      { id: MANOMETER, body: manometer },
    ].map((one): HandInstrument => ({ ...one, calibrations: [] }))
    expect(heldFor(both, { flow: HOOD }, 'flow')?.id).toBe(HOOD)
    // Nothing in the hand senses pressure.
    expect(heldFor(both, { flow: HOOD }, 'velocity_pressure')).toBeNull()
  })

  test('a number and Enter goes on from hood to hood and into the grid, each in its unit and with its instrument', () => {
    const plan = roomPlan()
    const d = deskOf(plan)
    for (const text of ['480', '470', '-400', '0.45']) expect(type(d, text)).not.toBeNull()
    const readings = ['T-1', 'T-2', 'T-3', 'T-4'].map((tag) => [...viewOf(d, at(plan, tag)).readings.values()][0])
    expect(readings.map((reading) => [reading?.unit, reading?.instrumentId])).toEqual([
      ['m3/h', HOOD],
      ['m3/h', HOOD],
      ['m3/h', HOOD],
      ['m/s', INSTRUMENT],
    ])
    // 480 m3/h are 480 / 3600 m3/s.
    expect(readings[0]?.si).toBeCloseTo(480 / 3600, 12)
  })

  test('the live figures of a hood are its reading times its factor: 480 x 1.05 = 504 m3/h, 100.8 % of 500', () => {
    const plan = roomPlan()
    const view = viewOf(deskOf(plan), at(plan, 'T-1'))
    const place = { point: at(plan, 'T-1').points[0]?.number ?? 0, sample: 1 }
    const readings = new Map([[`${place.point}:1`, unrecorded(place, { typed: '480', unit: 'm3/h', si: 480 / 3600 }, HOOD)]])
    const [result] = methodOf('room_airflow').compute(inputOfFilter(plan, { ...view, readings }, 'Europe/Vienna', null)).filters
    expect(result?.hoodFactor).toBe(1.05)
    expect((result?.flowM3ps ?? 0) * 3600).toBeCloseTo(504, 9)
    expect(result?.percentOfDesign).toBeCloseTo(100.8, 9)
  })

  test('a carried terminal takes no number, and is passed over on the way', () => {
    const plan = roomPlan({
      phase: 'as_left',
      carried: [{ terminalIds: [uuid(2)], fromRunId: uuid(0x77), reason: 'not touched', fanOrMainDamperMoved: false }],
    })
    const d = deskOf(plan)
    type(d, '480')
    expect(d.typing().at?.point).toBe(at(plan, 'T-3').points[0]?.number)
    d.type({ kind: 'go', to: { point: at(plan, 'T-2').points[0]?.number ?? 0, sample: 1 } })
    expect(type(d, '470')).toBeNull()
    expect(d.typing().problem).toMatchObject({ code: 'error.is_carried', params: { tag: 'T-2' } })
  })
})

describe('slips', () => {
  test('a flow ten times the design is asked about, and one that lies near it is not', () => {
    const plan = roomPlan()
    const d = deskOf(plan)
    const view = viewOf(d, at(plan, 'T-1'))
    const asked = (number: number) =>
      questionOf(d, view, { place: { point: 1, sample: 1 }, typed: String(number), unit: 'm3/h', si: number / 3600 }, hood)
    expect(asked(4800)).toMatchObject({ code: 'question.decimal_sign_off' })
    expect(asked(480)).toBeNull()
  })

  test('a hood without a design is held against the hoods that blow the same way', () => {
    const plan = roomPlan()
    const d = deskOf(plan)
    for (const text of ['480', '470', '-400']) type(d, text)
    // The return's 400 is none of them.
    expect(othersOf(d, viewOf(d, at(plan, 'T-2')), 2)).toEqual([480 / 3600])
  })

  test('a pressure under 5 Pa, and one ten times the others of its duct, are asked about', () => {
    const plan = roomPlan()
    const d = deskOf(plan)
    const duct = at(plan, 'T-5')
    const [first, second] = duct.points.map(({ number }) => number)
    d.type({ kind: 'go', to: { point: first ?? 0, sample: 1 } })
    type(d, '14')
    const asked = (number: number) =>
      questionOf(d, viewOf(d, duct), { place: { point: second ?? 0, sample: 1 }, typed: String(number), unit: 'Pa', si: number }, manometer)
    expect(asked(4)).toMatchObject({ code: 'question.weak_for_pitot' })
    expect(asked(140)).toMatchObject({ code: 'question.decimal_sign_off' })
    expect(asked(12)).toBeNull()
  })
})

describe('blocks, arrows, units', () => {
  test('a block goes down a duct in the order it is walked, and over terminals that are read alike alone', () => {
    const plan = roomPlan()
    const d = deskOf(plan)
    const duct = at(plan, 'T-5')
    const laid = planPaste(d, '10\t11\t12\t13\t14\t15', duct.terminalId, 1, 0, null)
    expect(laid.values.map(({ place }) => place.point)).toEqual(duct.points.slice(0, 6).map(({ number }) => number))
    const flows = planPaste(d, '480\n470\n400\n0.45', uuid(1), 1, 0, null)
    expect(flows.values.map(({ terminalId }) => terminalId)).toEqual([uuid(1), uuid(2), uuid(3)])
    expect(flows.leftOver).toBe(1)
  })

  test('arrows run down a line of a duct and over to the next, and along the samples of a hood', () => {
    const plan = roomPlan({ samplesPerPoint: 3 })
    const duct = at(plan, 'T-5')
    const [first, second] = duct.points
    const seventh = duct.points[6]
    const from = { point: first?.number ?? 0, sample: 1 }
    expect(placeBeside(duct, from, 'behind', 0, 3)?.point).toBe(second?.number)
    // Six points on each diameter: the seventh begins the next one.
    expect(placeBeside(duct, from, 'right', 0, 3)?.point).toBe(seventh?.number)
    expect(placeBeside(at(plan, 'T-1'), { point: 1, sample: 2 }, 'right', 0, 3)).toEqual({ point: 1, sample: 3 })
    expect(placeBeside(at(plan, 'T-1'), { point: 1, sample: 3 }, 'right', 0, 3)).toBeNull()
    expect(plan.filters.map(fixedView)).toEqual(['whole', 'whole', 'whole', null, 'duct'])
  })

  test('flows and pressures have units of their own, else those of the project', () => {
    const run = roomPlan().run.body
    expect(unitOfRun(run, 'flow', METRIC)).toBe('m3/h')
    const set = withUnit(run, 'flow', 'cfm', METRIC)
    expect(set).toEqual({ otherUnits: { flow: 'cfm', pressure: 'Pa' } })
    expect(unitOfRun({ ...run, ...set }, 'velocity_pressure', METRIC)).toBe('Pa')
    expect(withUnit(run, 'velocity', 'ft/min', METRIC)).toEqual({ unit: 'ft/min' })
  })
})

test('the plane of a zone is walked as one face under the identity of the zone', () => {
  const boundary = [
    { x: 0, y: 0 },
    { x: 2, y: 0 },
    { x: 2, y: 1 },
    { x: 0, y: 1 },
  ]
  const detail = runDetail(2, { method: 'plane_velocity_grid', zoneId: ZONE, planeGrid: { rows: 1, columns: 3 } })
  const zone: EntityBody<'zone'> = {
    name: 'Core',
    boundary,
    cleanlinessClass: 'ISO 5',
    occupancyState: 'at_rest',
    designVelocity: value(0.45, 'm/s'),
    criteriaSetId: null,
    overrides: [],
    note: '',
  }
  const plan = planOf({
    ...detail,
    pins: [...detail.pins, { kind: 'zone', id: ZONE, parentId: null, revision: 1, removed: false, body: zone }],
    locations: layOutPlane({ terminals: [], gridFor: new Map(), facingDegrees: 0, plane: { boundary, grid: { rows: 1, columns: 3 } } }),
  })
  expect(plan.filters.map(({ terminalId, way, points }) => [terminalId, way, points.length])).toEqual([[ZONE, 'plane', 3]])
  const readings = new Map(
    [0.4, 0.45, 0.5].map((si, index) => {
      const place = { point: index + 1, sample: 1 }
      return [`${index + 1}:1`, unrecorded(place, { typed: String(si), unit: 'm/s', si }, INSTRUMENT)] as const
    }),
  )
  const [filter] = plan.filters
  if (!filter) throw new Error('no plane')
  const view: FilterView = { filter, readings, filled: 3, places: 3, unsaved: 0, refused: 0 }
  const { zones } = methodOf('plane_velocity_grid').compute(inputOfFilter(plan, view, 'Europe/Vienna', null))
  // (0.40 + 0.45 + 0.50) / 3
  expect(zones[0]?.meanVelocityMps).toBeCloseTo(0.45, 12)
})

test('what does not suit is told with the instruments in the hand, and is open until somebody gave a reason', () => {
  const plan = roomPlan()
  const none = { of: () => null }
  const codes = misfitsOfRun(plan, none).map(({ code }) => code)
  // Nobody recorded how much straight duct there is (40 CFR 60, appendix A-1, Method 1 asks for it).
  expect(codes).toContain('misfit.traverse_place.not_recorded')
  const before = openMisfits(misfitsOfRun(plan, none))
  const accepted = misfitsOfRun(plan, none).find(({ code }) => code === 'misfit.traverse_place.not_recorded')
  if (!accepted) throw new Error('not asked')
  const { code, terminalId, instrumentId } = accepted
  const reason = { code, terminalId, instrumentId, reason: 'Measured 3 m.', personId: uuid(1), at: '2026-03-02T08:00:00.000Z' }
  const after = openMisfits(misfitsOfRun(roomPlan({ acceptedMisfits: [reason] }), none))
  expect(after.stops + after.asks).toBe(before.stops + before.asks - 1)
})

test('a door keeps the instrument of a figure that was not changed', () => {
  const stood = { doorId: DOOR, difference: value(12, 'Pa'), instrumentId: uuid(5) }
  const plan = roomPlan({ doorPressures: [stood] })
  expect(doorPressuresOf(plan, new Map([[DOOR, value(12, 'Pa')]]), uuid(6))).toEqual([stood])
  expect(doorPressuresOf(plan, new Map([[DOOR, value(11, 'Pa')]]), uuid(6))).toEqual([
    { doorId: DOOR, difference: value(11, 'Pa'), instrumentId: uuid(6) },
  ])
  expect(doorPressuresOf(plan, new Map([[DOOR, null]]), uuid(6))).toEqual([])
})
