import { describe, expect, it } from 'vitest'
import { methodOf } from '#core/methods/catalogue.ts'
import type { Pinned, RunInput } from '#core/methods/method.ts'
import type { Criterion } from '#core/model/criteria.ts'
import type { EntityBody } from '#core/model/entities.ts'
import { aCriterion, aZone, entered, faceRun, INSTRUMENT_ID, MEASURED_ON, ZONE_ID } from './face-run.ts'
import { aMeter } from './room-run.ts'

const method = methodOf('plane_velocity_grid')
const SQUARE = [
  { x: 10, y: 20 },
  { x: 12, y: 20 },
  { x: 12, y: 21 },
  { x: 10, y: 21 },
]

function layOut(
  boundary: EntityBody<'zone'>['boundary'],
  grid: { rows: number; columns: number } | null,
  facingDegrees: 0 | 90 | 180 | 270 = 0,
) {
  return method.layOut({ terminals: [], facingDegrees, gridFor: new Map(), plane: { boundary, grid } })
}

describe('points over a plane', () => {
  it('are the centres of equal cells about the middle of the box, walked there and back', () => {
    const points = layOut(SQUARE, { rows: 2, columns: 4 })
    expect(points.map(({ offsetXM, offsetYM }) => [offsetXM, offsetYM])).toEqual([
      [-0.75, 0.25],
      [-0.25, 0.25],
      [0.25, 0.25],
      [0.75, 0.25],
      [0.75, -0.25],
      [0.25, -0.25],
      [-0.25, -0.25],
      [-0.75, -0.25],
    ])
    expect(points.every((point) => point.kind === 'plane_point' && point.terminalId === null && point.cellAreaM2 === 0.25)).toBe(true)
    expect(points.map(({ number }) => number)).toEqual([1, 2, 3, 4, 5, 6, 7, 8])
  })

  it('have row 1 farthest ahead as the technician faces', () => {
    // Facing plan right (90 degrees clockwise from up): ahead is larger x, the left hand is larger y.
    const [first] = layOut(SQUARE, { rows: 2, columns: 4 }, 90)
    expect(first).toMatchObject({ row: 1, column: 1, offsetXM: 0.75, offsetYM: 0.25 })
  })

  it('leave out cells whose centre lies outside the boundary', () => {
    const ell = [
      { x: 0, y: 0 },
      { x: 2, y: 0 },
      { x: 2, y: 1 },
      { x: 1, y: 1 },
      { x: 1, y: 2 },
      { x: 0, y: 2 },
    ]
    const points = layOut(ell, { rows: 4, columns: 4 })
    expect(points).toHaveLength(12)
    expect(points.some(({ offsetXM, offsetYM }) => offsetXM > 0 && offsetYM > 0)).toBe(false)
  })

  it('are proposed for the whole plane: cells of at most 0.095 m2', () => {
    const points = layOut(SQUARE, null)
    expect(points.length).toBeGreaterThanOrEqual(Math.ceil(2 / 0.095))
    expect(points[0]?.cellAreaM2).toBeLessThanOrEqual(0.095)
  })
})

function planeRun(readings: readonly (number | null)[], criteria: Criterion[], run: Partial<EntityBody<'run'>> = {}): RunInput {
  const zone: Pinned<'zone'> = { id: ZONE_ID, revision: 1, body: aZone({ boundary: SQUARE, designVelocity: entered(0.45, 'm/s') }) }
  const base = faceRun({
    filters: [],
    criteria,
    zones: [zone],
    instrument: aMeter(),
    run: { method: 'plane_velocity_grid', zoneId: ZONE_ID, plane: { kind: 'working_height', heightM: 0.9 }, ...run },
  })
  const locations = layOut(SQUARE, { rows: 2, columns: 2 })
  const values = locations.flatMap(({ number }, index) => {
    const si = readings[index]
    return si == null ? [] : [{ point: number, si, flags: [], instrumentId: INSTRUMENT_ID, localDate: MEASURED_ON }]
  })
  return { ...base, locations, values }
}

const atHeight = { basis: 'actual', plane: 'working_height' } as const
const between = aCriterion({
  ...atHeight,
  key: 'each',
  quantity: 'face_velocity',
  scope: 'point',
  form: {
    kind: 'between',
    low: { from: 'value', value: entered(0.36, 'm/s') },
    high: { from: 'value', value: entered(0.54, 'm/s') },
  },
})
const ofDesign = aCriterion({
  ...atHeight,
  key: 'mean',
  quantity: 'face_velocity',
  scope: 'zone',
  form: { kind: 'within_percent_of_design', percent: 20 },
})
const spread = aCriterion({
  ...atHeight,
  key: 'spread',
  quantity: 'velocity_spread',
  scope: 'zone',
  form: { kind: 'spread_at_most', percent: 15 },
})
const flow = aCriterion({
  ...atHeight,
  key: 'flow',
  quantity: 'flow',
  scope: 'zone',
  form: { kind: 'within_percent_of_design', percent: 10 },
})
const atFace = aCriterion({ ...between, key: 'face', plane: 'filter_face' })

describe('a run over the plane of a zone', () => {
  // Mean (0.40 + 0.44 + 0.48 + 0.60) / 4 = 0.48; s^2 = (0.0064 + 0.0016 + 0 + 0.0144) / 3 = 0.0074667, s = 0.086410: 18.002 %.
  const result = method.compute(planeRun([0.4, 0.44, 0.48, 0.6], [between, ofDesign, spread, flow, atFace]))
  const [zone] = result.zones

  it('has mean, spread, largest deviation and share of points within', () => {
    expect(zone?.meanVelocityMps).toBeCloseTo(0.48, 12)
    expect(zone?.relativeStandardDeviationPercent).toBeCloseTo(18.002, 3)
    expect(zone?.largestDeviationPercent).toBeCloseTo(25, 9)
    expect(zone?.pointsWithinPercent).toBe(75)
    expect(zone?.planeCells.map(({ point, within }) => [point, within])).toEqual([
      [1, true],
      [2, true],
      [3, true],
      [4, false],
    ])
    expect(zone).toMatchObject({ basis: 'actual', pointsPlanned: 4, pointsMeasured: 4, designVelocityMps: 0.45 })
  })

  it('judges the zone and its points there, and gives no flow', () => {
    expect(Object.fromEntries(zone?.criteria.map(({ key, verdict }) => [key, verdict]) ?? [])).toEqual({
      each: 'fail',
      mean: 'pass',
      spread: 'fail',
      flow: 'not_applicable',
      face: 'not_applicable',
    })
    expect(result).toMatchObject({ filters: [], verdict: 'fail', room: { supplyFlowM3ps: null, airChangesPerHour: null } })
    expect(result.counts.fail).toBe(2)
  })

  it('is not tested while points are missing, and tells the share of those that are there', () => {
    const open = method.compute(planeRun([0.4, null, 0.48, null], [between, ofDesign])).zones[0]
    expect(open).toMatchObject({ pointsMeasured: 2, pointsWithinPercent: 100, verdict: 'not_tested' })
    expect(open?.planeCells.map(({ meanMps }) => meanMps)).toEqual([0.4, null, 0.48, null])
  })

  it('has no share where no criterion sets limits for points', () => {
    expect(method.compute(planeRun([0.4, 0.44, 0.48, 0.6], [spread])).zones[0]?.pointsWithinPercent).toBeNull()
  })
})
