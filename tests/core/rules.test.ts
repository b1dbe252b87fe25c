import { expect, test } from 'vitest'
import { say } from '#core/messages/say.ts'
import type { CriterionForm } from '#core/model/criteria.ts'
import type { EntityBody, EntityKind } from '#core/model/entities.ts'
import { LATER_FIELDS } from '#core/model/later-fields.ts'
import { checkBody, checkZoneInRoom } from '#core/model/rules.ts'
import type { Entered, Unit } from '#core/model/values.ts'
import { isSimpleOutline } from '#core/rooms/simple-outline.ts'
import { createFormatter } from '#core/units/format.ts'
import { parseEntered } from '#core/units/parse.ts'

const formatter = createFormatter({ velocity: 'm/s', flow: 'm3/h', length: 'm', pressure: 'Pa', temperature: 'degC' }, 'en', 'UTC')

function typed(text: string, unit: Unit): Entered {
  const parsed = parseEntered(text, unit)
  if (!parsed.ok) throw new Error(`${text}: ${parsed.problem.code}`)
  return parsed.value
}

const id = (last: number) => `0190b000-0000-7000-8000-${String(last).padStart(12, '0')}`

const good: { readonly [K in EntityKind]?: EntityBody<K> } = {
  project: {
    name: 'Site',
    organisation: '',
    timeZone: 'Europe/Vienna',
    display: { velocity: 'm/s', flow: 'm3/h', length: 'm', pressure: 'Pa', temperature: 'degC' },
    note: '',
  },
  room: {
    number: 'F-104',
    name: '',
    shape: { kind: 'rectangle', x: 0, y: 0, width: 6, depth: 4 },
    ceilingHeight: typed('2.7', 'm'),
    statedVolume: null,
    cleanlinessClass: 'ISO 7',
    occupancyState: 'at_rest',
    airflowType: 'non_unidirectional',
    designAirChangesPerHour: null,
    requiredAirChangesPerHour: null,
    designVelocity: null,
    criteriaSetId: null,
    overrides: [],
    hazards: [],
    ...LATER_FIELDS.room,
    inUse: true,
    note: '',
  },
  zone: {
    name: 'Core',
    boundary: [
      { x: 1, y: 1 },
      { x: 3, y: 1 },
      { x: 3, y: 3 },
      { x: 1, y: 3 },
    ],
    cleanlinessClass: 'ISO 5',
    occupancyState: 'at_rest',
    designVelocity: typed('0.45', 'm/s'),
    criteriaSetId: null,
    overrides: [],
    note: '',
  },
  terminal: {
    tag: 'F-1',
    kind: 'supply_filter',
    zoneId: null,
    x: 0,
    y: 0,
    rotationDegrees: 0,
    mounting: 'ceiling',
    grossWidth: typed('0.61', 'm'),
    grossDepth: typed('1.22', 'm'),
    effectiveArea: typed('0.66', 'm2'),
    face: 'bare',
    airSource: 'air_handler',
    designVelocity: typed('90', 'ft/min'),
    designFlow: null,
    correctionFactor: null,
    grid: null,
    closed: null,
    ...LATER_FIELDS.terminal,
    note: '',
  },
  filter_element: { serialNumber: '', model: '', installedOn: '2026-03-02', removedOn: '2026-03-02', note: '' },
  door: {
    name: '',
    roomIds: [id(1), null],
    x: 0,
    y: 0,
    width: 0.9,
    rotationDegrees: 0,
    leastPressureDifference: typed('-0.010', 'inH2O'),
    ...LATER_FIELDS.door,
    note: '',
  },
  instrument: {
    name: 'Anemometer 3',
    serialNumber: 'A-3',
    senses: [
      {
        quantity: 'velocity',
        low: typed('0.05', 'm/s'),
        high: typed('30', 'm/s'),
        resolution: typed('0.01', 'm/s'),
        accuracy: { form: 'sum_of', percentOfReading: 3, absolute: typed('0.02', 'm/s') },
      },
      {
        quantity: 'temperature',
        low: typed('32', 'degF'),
        high: typed('140', 'degF'),
        resolution: { ...typed('0.1', 'degF'), si: 0.5 / 9 },
        accuracy: null,
      },
    ],
    sensing: 'directional',
    reportsReverseFlow: false,
    ...LATER_FIELDS.instrument,
    averagingTimeS: 5,
    basis: 'as_indicated',
    active: true,
    note: '',
  },
  calibration: {
    certificateNumber: 'C-1',
    laboratory: '',
    calibratedOn: '2026-03-02',
    dueOn: '2027-03-02',
    range: { quantity: 'velocity', low: typed('0.2', 'm/s'), high: typed('2', 'm/s') },
    foundInTolerance: null,
    ...LATER_FIELDS.calibration,
    release: null,
    note: '',
  },
  certification: {
    name: 'Visit',
    startsOn: '2026-03-02',
    endsOn: '2026-03-02',
    purpose: 'periodic',
    why: '',
    personIds: [],
    roomIds: [],
    previousId: null,
    finished: false,
  },
}

function body<K extends EntityKind>(kind: K): EntityBody<K> {
  const found = good[kind]
  if (!found) throw new Error(kind)
  return found
}

function problems<K extends EntityKind>(kind: K, change: Partial<EntityBody<K>>): string[] {
  return checkBody(kind, { ...body(kind), ...change }).map(({ field, code, params }) => {
    // Every problem is a sentence of the catalogue that renders without a gap.
    expect(say('en', formatter, code, params)).toMatch(/^[^a-z]?.{15,}\.$/)
    return `${field} ${code}`
  })
}

test.each(Object.keys(good).map((kind) => kind as EntityKind))('a %s in order has no problem', (kind) => {
  expect(checkBody(kind, body(kind))).toEqual([])
})

test('room: heights and volumes above zero, in units of their dimension', () => {
  expect(problems('room', { ceilingHeight: typed('0', 'm') })).toEqual(['ceilingHeight rule.above_zero'])
  expect(problems('room', { ceilingHeight: typed('-2.7', 'm') })).toEqual(['ceilingHeight rule.above_zero'])
  expect(problems('room', { ceilingHeight: typed('2.7', 'm2') })).toEqual(['ceilingHeight rule.dimension'])
  expect(problems('room', { ceilingHeight: typed('8\' 10"', 'ft') })).toEqual([])
  expect(problems('room', { statedVolume: { volume: typed('0', 'm3'), reason: 'plenum' } })).toEqual([
    'statedVolume.volume rule.above_zero',
  ])
  expect(problems('room', { designVelocity: typed('0.45', 'm3/h') })).toEqual(['designVelocity rule.dimension'])
})

test('room: the text and the value of an entry say the same', () => {
  expect(problems('room', { ceilingHeight: { si: 27, typed: '2.7', unit: 'm' } })).toEqual(['ceilingHeight rule.typed_differs'])
  // A text that says no number cannot stand for one; one that can be read in two ways may stand for either, and for nothing else.
  expect(problems('room', { ceilingHeight: { si: 2.7, typed: 'as on drawing', unit: 'm' } })).toEqual(['ceilingHeight rule.typed_differs'])
  const volume = (si: number) => problems('room', { statedVolume: { volume: { si, typed: '1.234', unit: 'm3' }, reason: 'ducts' } })
  expect([volume(1.234), volume(1234)]).toEqual([[], []])
  expect(volume(77)).toEqual(['statedVolume.volume rule.typed_differs'])
})

test('room: an outline that crosses itself or encloses nothing', () => {
  const shape = (...corners: [number, number][]) => ({ kind: 'polygon', points: corners.map(([x, y]) => ({ x, y })) }) as const
  expect(problems('room', { shape: shape([0, 0], [6, 0], [6, 4], [3, 4], [3, 2], [0, 2]) })).toEqual([])
  // A bow tie, of equal and of unequal loops.
  expect(problems('room', { shape: shape([0, 0], [4, 4], [4, 0], [0, 4]) })).toEqual(['shape.points rule.outline_crosses'])
  expect(problems('room', { shape: shape([0, 0], [6, 5], [4, 0], [0, 4]) })).toEqual(['shape.points rule.outline_crosses'])
  expect(problems('room', { shape: shape([0, 0], [4, 0], [8, 0]) })).toEqual(['shape.points rule.outline_without_area'])
})

test('simple outlines: no touching, no repeated corner, no way back; corners on a straight wall are allowed', () => {
  const simple = (...corners: [number, number][]) => isSimpleOutline(corners.map(([x, y]) => ({ x, y })))
  expect(simple([0, 0], [2, 0], [4, 0], [4, 4], [0, 4])).toBe(true)
  expect(simple([0, 0], [4, 0], [4, 4], [0, 4])).toBe(true)
  expect(simple([0, 4], [4, 4], [4, 0], [0, 0])).toBe(true)
  expect(simple([0, 0], [4, 0], [4, 0], [4, 4], [0, 4])).toBe(false)
  expect(simple([0, 0], [4, 0], [4, 4], [4, 2], [0, 4])).toBe(false)
  expect(simple([0, 0], [4, 0], [4, 4], [2, 0], [0, 4])).toBe(false)
  expect(simple([0, 0], [4, 0])).toBe(false)
})

test('terminal: effective area above zero and at most the gross face', () => {
  expect(problems('terminal', { effectiveArea: typed('0', 'm2') })).toEqual(['effectiveArea rule.above_zero'])
  // 0.61 x 1.22 = 0.7442 m2; in feet 2 x 4 = 8 ft2 of 8.0000 is the face itself.
  expect(problems('terminal', { effectiveArea: typed('0.7442', 'm2') })).toEqual([])
  expect(problems('terminal', { effectiveArea: typed('0.7443', 'm2') })).toEqual(['effectiveArea rule.effective_above_gross'])
  const feet = { grossWidth: typed('2', 'ft'), grossDepth: typed('4', 'ft') }
  expect(problems('terminal', { ...feet, effectiveArea: typed('8', 'ft2') })).toEqual([])
  expect(problems('terminal', { designFlow: typed('0', 'm3/h') })).toEqual(['designFlow rule.above_zero'])
  expect(problems('terminal', { grossWidth: typed('0.61', 'm/s') })).toEqual(['grossWidth rule.dimension'])
})

test('zone: a boundary that is simple and lies in the room', () => {
  const boundary = [
    { x: 1, y: 1 },
    { x: 3, y: 3 },
    { x: 3, y: 1 },
    { x: 1, y: 4 },
  ]
  expect(problems('zone', { boundary })).toEqual(['boundary rule.outline_crosses'])
  expect(checkZoneInRoom(body('zone'), body('room'))).toEqual([])
  const outside = { ...body('zone'), boundary: [...body('zone').boundary.slice(0, 3), { x: -0.1, y: 3 }] }
  expect(checkZoneInRoom(outside, body('room'))).toMatchObject([{ field: 'boundary.3', code: 'rule.outside_room', params: { corner: 4 } }])
  const onTheWall = {
    ...body('zone'),
    boundary: [
      { x: 0, y: 0 },
      { x: 6, y: 0 },
      { x: 6, y: 4 },
    ],
  }
  expect(checkZoneInRoom(onTheWall, body('room'))).toEqual([])
})

test('instrument: ranges in order and of the dimension of what is sensed, each quantity once', () => {
  const [velocity, temperature] = body('instrument').senses
  if (!velocity || !temperature) throw new Error('two quantities')
  expect(problems('instrument', { senses: [{ ...velocity, high: typed('0.05', 'm/s') }] })).toEqual([
    'senses.0.high rule.low_not_below_high',
  ])
  expect(problems('instrument', { senses: [{ ...velocity, low: typed('5', 'Pa') }] })).toEqual(['senses.0.low rule.dimension'])
  expect(problems('instrument', { senses: [{ ...velocity, resolution: typed('0', 'm/s') }] })).toEqual([
    'senses.0.resolution rule.above_zero',
  ])
  expect(problems('instrument', { senses: [velocity, velocity] })).toEqual(['senses.1.quantity rule.repeated'])
})

test('dates in order', () => {
  expect(problems('calibration', { dueOn: '2026-03-01' })).toEqual(['dueOn rule.due_before_calibrated'])
  expect(problems('calibration', { dueOn: '2026-03-02' })).toEqual([])
  expect(problems('certification', { endsOn: '2026-03-01' })).toEqual(['endsOn rule.ends_before_starts'])
  expect(problems('filter_element', { removedOn: '2026-03-01' })).toEqual(['removedOn rule.removed_before_installed'])
  expect(problems('filter_element', { removedOn: null })).toEqual([])
})

test('calibrated range in order', () => {
  const range = { quantity: 'velocity', low: typed('2', 'm/s'), high: typed('0.2', 'm/s') } as const
  expect(problems('calibration', { range })).toEqual(['range.high rule.low_not_below_high'])
  expect(problems('calibration', { range: { ...range, quantity: 'pressure_difference' } })).toEqual([
    'range.low rule.dimension',
    'range.high rule.dimension',
  ])
})

test('project: a time zone that the system knows', () => {
  expect(problems('project', { timeZone: 'Mars/Olympus' })).toEqual(['timeZone rule.unknown_time_zone'])
  expect(problems('project', { timeZone: '' })).toEqual(['timeZone rule.unknown_time_zone'])
})

test('door: two sides, and a pressure', () => {
  expect(problems('door', { roomIds: [id(1), id(1)] })).toEqual(['roomIds rule.same_room_twice'])
  expect(problems('door', { leastPressureDifference: typed('10', 'm') })).toEqual(['leastPressureDifference rule.dimension'])
})

const value = (text: string, unit: Unit) => ({ from: 'value', value: typed(text, unit) }) as const
const required = { from: 'room_required_minimum' } as const

function criterionProblems(quantity: 'face_velocity' | 'air_changes' | 'velocity_spread', form: CriterionForm): string[] {
  const criterion = {
    key: 'one',
    title: 'One',
    quantity,
    scope: quantity === 'air_changes' ? 'room' : 'filter',
    form,
    plane: 'any',
    basis: 'as_indicated',
    on: true,
    alert: null,
    source: '',
  } as const
  return checkBody('criteria_set', {
    name: 'Set',
    decisionRule: { kind: 'simple' },
    comparison: 'absolute',
    ...LATER_FIELDS.criteria_set,
    criteria: [criterion],
    note: '',
  }).map(({ field, code }) => `${field} ${code}`)
}

test('criteria: limits of the right dimension, in order, and forms that fit', () => {
  expect(criterionProblems('face_velocity', { kind: 'between', low: value('0.36', 'm/s'), high: value('0.54', 'm/s') })).toEqual([])
  expect(criterionProblems('face_velocity', { kind: 'between', low: value('0.54', 'm/s'), high: value('0.36', 'm/s') })).toEqual([
    'criteria.0.form.high rule.low_not_below_high',
  ])
  expect(criterionProblems('face_velocity', { kind: 'at_least', limit: value('20', '1/h') })).toEqual([
    'criteria.0.form.limit.value rule.dimension',
  ])
  expect(criterionProblems('air_changes', { kind: 'at_least', limit: required })).toEqual([])
  expect(criterionProblems('face_velocity', { kind: 'at_least', limit: required })).toEqual([
    'criteria.0.form.limit rule.required_minimum_is_air_changes',
  ])
  expect(criterionProblems('velocity_spread', { kind: 'within_percent_of_design', percent: 20 })).toEqual([
    'criteria.0.form rule.form_does_not_fit',
  ])
  expect(criterionProblems('velocity_spread', { kind: 'spread_at_most', percent: 15 })).toEqual([])
})

test('overrides: each criterion once', () => {
  const override = { key: 'one', form: null, on: false, reason: 'agreed' }
  expect(problems('room', { overrides: [override, override] })).toEqual(['overrides.1.key rule.repeated'])
})
