import { describe, expect, it } from 'vitest'
import { computeFaceVelocityGrid } from '#core/methods/airflow/face-velocity-grid.ts'
import { aCriterion, aZone, entered, faceRun, type GivenRun, ROOM_ID, uuid, ZONE_ID } from './face-run.ts'

const zoneMean = aCriterion({
  key: 'zone',
  quantity: 'face_velocity',
  scope: 'zone',
  form: { kind: 'within_percent_of_design', percent: 20 },
})
const zoneSpread = aCriterion({ key: 'spread', quantity: 'velocity_spread', scope: 'zone', form: { kind: 'spread_at_most', percent: 15 } })
const eachOfZone = aCriterion({
  key: 'each',
  quantity: 'face_velocity',
  scope: 'point',
  form: { kind: 'each_within_percent_of_mean', percent: 20, of: 'zone' },
})
const filterToFilter = aCriterion({
  key: 'f2f',
  quantity: 'filter_to_filter_spread',
  scope: 'room',
  form: { kind: 'spread_at_most', percent: 15 },
})
const compute = (given: GivenRun) => computeFaceVelocityGrid(faceRun(given))

describe('zones', () => {
  it('weight their filters by effective area, and take the spread over all points', () => {
    // 0.7 m2 at 0.40 and 0.35 m2 at 0.52: (0.28 + 0.182) / 1.05 = 0.44 m/s
    // points 0.38 0.42 0.50 0.54: plain mean 0.46, squares 0.0064 0.0016 0.0016 0.0064 sum 0.016, s 0.0730297; / 0.44 = 16.59765 %
    // farthest 0.54: 0.10 / 0.44 = 22.7273 %
    const result = compute({
      room: { airflowType: 'unidirectional', designVelocity: entered(0.45, 'm/s') },
      filters: [{ readings: [0.38, 0.42] }, { readings: [0.5, 0.54], terminal: { effectiveArea: entered(0.35, 'm2') } }],
      criteria: [zoneMean, zoneSpread, eachOfZone],
    })
    const zone = result.zones[0]
    expect(zone?.zoneId).toBe(ROOM_ID)
    expect(zone?.meanVelocityMps).toBeCloseTo(0.44, 12)
    expect(zone?.relativeStandardDeviationPercent).toBeCloseTo(16.59765, 5)
    expect(zone?.largestDeviationPercent).toBeCloseTo(22.7273, 4)
    expect(zone?.percentOfDesign).toBeCloseTo((100 * 0.44) / 0.45, 10)
    expect(zone?.criteria.map((one) => one.verdict)).toEqual(['pass', 'fail'])
    // 20 % of 0.44: 0.352 to 0.528; the point at 0.54 is the second filter's
    expect(result.filters.map((filter) => filter.verdict)).toEqual(['pass', 'fail'])
    expect(result.filters[1]?.criteria[0]).toMatchObject({
      point: 4,
      value: 0.54,
      high: expect.closeTo(0.528, 12),
      margin: expect.closeTo(-0.012, 12),
    })
    expect(zone?.verdict).toBe('fail')
    expect(zone?.counts).toMatchObject({ pass: 2, fail: 2 })
    // 0.38, 0.42 and 0.50 of the four points lie from 0.352 to 0.528
    expect(zone?.pointsWithinPercent).toBe(75)
  })

  it('tell the share of their points within everything that criteria set for points, and none where they set nothing', () => {
    const ofFilter = aCriterion({
      key: 'own',
      quantity: 'face_velocity',
      scope: 'point',
      form: { kind: 'each_within_percent_of_mean', percent: 5, of: 'filter' },
    })
    const readings = { filters: [{ readings: [0.38, 0.42] }, { readings: [0.5, 0.54] }] }
    // each filter's own mean 0.40 and 0.52: 5 % leaves 0.38 to 0.42 (on the limits) and 0.494 to 0.546, all four within
    const room = { airflowType: 'unidirectional' as const }
    expect(compute({ ...readings, room, criteria: [ofFilter] }).zones[0]?.pointsWithinPercent).toBe(100)
    // together with 20 % of the zone's mean 0.46, 0.368 to 0.552: still all
    expect(compute({ ...readings, room, criteria: [ofFilter, eachOfZone] }).zones[0]?.pointsWithinPercent).toBe(100)
    expect(compute({ ...readings, room, criteria: [zoneSpread] }).zones[0]?.pointsWithinPercent).toBeNull()
    // a closed filter has no points, a point without a reading counts for nothing
    const partly = { filters: [{ readings: [0.38, null] }, { readings: [], terminal: { closed: { reason: 'blanked off' } } }] }
    const low = aCriterion({ ...ofFilter, key: 'low', form: { kind: 'at_least', limit: { from: 'value', value: entered(0.36, 'm/s') } } })
    expect(compute({ ...partly, room, criteria: [low] }).zones[0]?.pointsWithinPercent).toBe(100)
  })

  it('are judged apart from the room around them', () => {
    const result = compute({
      filters: [{ readings: [0.45, 0.46], terminal: { zoneId: ZONE_ID } }, { readings: [0.2, 0.3] }],
      zones: [{ id: ZONE_ID, revision: 1, body: aZone({ designVelocity: entered(0.45, 'm/s') }) }],
      criteria: [zoneMean, eachOfZone],
    })
    expect(result.zones).toHaveLength(1)
    expect(result.zones[0]).toMatchObject({ zoneId: ZONE_ID, meanVelocityMps: expect.closeTo(0.455, 12), verdict: 'pass' })
    // the filter outside belongs to no zone
    expect(result.filters[1]?.criteria[0]).toMatchObject({ verdict: 'not_applicable', reason: { code: 'reason.no_zone' } })
    expect(result.verdict).toBe('pass')
  })

  it('are not tested while a point is missing anywhere in them', () => {
    const result = compute({
      room: { airflowType: 'unidirectional', designVelocity: entered(0.45, 'm/s') },
      filters: [{ readings: [0.45, 0.46] }, { readings: [0.45, null] }],
      criteria: [zoneMean, eachOfZone],
    })
    expect(result.zones[0]?.criteria[0]?.verdict).toBe('not_tested')
    expect(result.filters[0]?.criteria[0]?.verdict).toBe('not_tested')
    expect(result.verdict).toBe('not_tested')
  })

  it('fail a filter early by its own points only: the mean may still come to fit it', () => {
    const unfinished = (first: number[], second: (number | null)[]) =>
      compute({ room: { airflowType: 'unidirectional' }, filters: [{ readings: first }, { readings: second }], criteria: [eachOfZone] })
        .filters[0]?.criteria[0]
    // 0.30 and 0.50 of one filter: 25 % from their middle, no mean lies within 20 % of both
    expect(unfinished([0.3, 0.5], [0.45, null])).toMatchObject({ verdict: 'fail', point: 1, reason: { code: 'reason.apart' } })
    // 0.50 here and 0.30 in the neighbour: a zone mean of 0.50 would still suit this one
    expect(unfinished([0.5, 0.5], [0.3, null])).toMatchObject({ verdict: 'not_tested' })
  })

  it('of a run over one zone are that one alone', () => {
    const other = uuid(0xb1)
    const result = compute({
      filters: [{ readings: [0.45, 0.46], terminal: { zoneId: ZONE_ID } }],
      zones: [
        { id: ZONE_ID, revision: 1, body: aZone() },
        { id: other, revision: 1, body: aZone({ name: 'Other' }) },
      ],
      run: { zoneId: ZONE_ID },
      criteria: [zoneSpread],
    })
    expect(result.zones.map((zone) => zone.zoneId)).toEqual([ZONE_ID])
    expect(result.zoneId).toBe(ZONE_ID)
    expect(result.verdict).toBe('pass')
  })
})

describe('filter-to-filter spread', () => {
  it('is the RSD of the means where the filters share a design value', () => {
    // 0.42 and 0.48: mean 0.45, s = 0.06 / sqrt 2 = 0.0424264, 9.42809 %
    const result = compute({ filters: [{ readings: [0.42, 0.42] }, { readings: [0.48, 0.48] }], criteria: [filterToFilter] })
    expect(result.room.filterToFilterRsdPercent).toBeCloseTo(9.42809, 5)
    expect(result.roomCriteria[0]?.verdict).toBe('pass')
  })

  it('is the RSD of percent of design where they do not', () => {
    // 0.42 of 0.50 is 84 %, 0.27 of 0.30 is 90 %: mean 87, s 4.24264, 4.87660 %
    const result = compute({
      filters: [
        { readings: [0.42, 0.42], terminal: { designVelocity: entered(0.5, 'm/s') } },
        { readings: [0.27, 0.27], terminal: { designVelocity: entered(0.3, 'm/s') } },
      ],
      criteria: [filterToFilter],
    })
    expect(result.room.filterToFilterRsdPercent).toBeCloseTo(4.8766, 4)
  })

  it('is not applicable with one filter, and not tested where one of two has no design', () => {
    expect(compute({ filters: [{ readings: [0.4, 0.4] }], criteria: [filterToFilter] }).roomCriteria[0]).toMatchObject({
      verdict: 'not_applicable',
      reason: { code: 'reason.one_filter' },
    })
    const mixed = compute({
      filters: [{ readings: [0.42, 0.42], terminal: { designVelocity: entered(0.5, 'm/s') } }, { readings: [0.4, 0.4] }],
      criteria: [filterToFilter],
    })
    expect(mixed.roomCriteria[0]).toMatchObject({ verdict: 'not_tested', reason: { code: 'reason.no_common_measure' } })
  })
})

describe('rooms', () => {
  it('count recirculated air in the total and not in what the air handler gives', () => {
    // 0.5 x 0.7 = 0.35 m3/s each; three of them in 60 m3: 63 per hour, one from the air handler: 21
    const result = compute({
      filters: [
        { readings: [0.5, 0.5] },
        { readings: [0.5, 0.5], terminal: { kind: 'fan_filter_unit', airSource: 'recirculated' } },
        { readings: [0.5, 0.5], terminal: { airSource: 'device' } },
      ],
    })
    expect(result.room.airChangesPerHour).toBeCloseTo(63, 10)
    expect(result.room.outsideAirChangesPerHour).toBeCloseTo(21, 10)
  })

  it('take their design flow from design air changes, else from their filters', () => {
    const byRoom = compute({ filters: [{ readings: [0.5, 0.5] }], room: { designAirChangesPerHour: 20 } })
    // 20 x 60 / 3600 = 0.333333 m3/s; 0.35 of it is 105 %
    expect(byRoom.room.designFlowM3ps).toBeCloseTo(1 / 3, 12)
    expect(byRoom.room.percentOfDesign).toBeCloseTo(105, 10)
    const byFilters = compute({ filters: [{ readings: [0.5, 0.5], terminal: { designFlow: entered(0.4, 'm3/s') } }] })
    expect(byFilters.room.percentOfDesign).toBeCloseTo(87.5, 10)
    const none = compute({ filters: [{ readings: [0.5, 0.5], terminal: { designFlow: entered(0.4, 'm3/s') } }, { readings: [0.5, 0.5] }] })
    expect(none.room.percentOfDesign).toBeNull()
  })

  it('without any criteria read not tested, never pass', () => {
    const result = compute({ filters: [{ readings: [0.5, 0.5] }] })
    expect(result.verdict).toBe('not_tested')
    expect(result.criteriaSetId).toBeNull()
    expect(result.headline.code).toBe('headline.no_criteria')
  })

  it('name in the headline what decides', () => {
    const low = aCriterion({
      title: 'Mean',
      quantity: 'face_velocity',
      scope: 'filter',
      form: { kind: 'at_least', limit: { from: 'value', value: entered(0.36, 'm/s') } },
    })
    const result = compute({ filters: [{ readings: [0.35, 0.35] }, { readings: [0.2, 0.2] }, { readings: [0.4, 0.4] }], criteria: [low] })
    expect(result.headline).toMatchObject({ code: 'headline.fail', params: { subject: 'F-104-02', title: 'Mean', more: 1 } })
  })
})
