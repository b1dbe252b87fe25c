import { describe, expect, it } from 'vitest'
import { proposedMinimum, REQUIRED_MINIMA } from '#core/criteria/required-minima.ts'
import { startingCriteriaSets } from '#core/criteria/starting-sets.ts'
import { computeFaceVelocityGrid } from '#core/methods/airflow/face-velocity-grid.ts'
import { CriteriaSet, type Criterion } from '#core/model/criteria.ts'
import { entered, faceRun, type GivenRun } from '#tests/core/face-run.ts'

/** A vane anemometer shows the air as it is, so that criteria on actual air need no conditions. */
const READ_AS_IT_IS = { basis: 'actual' } as const

const [unidirectional, nonUnidirectional] = startingCriteriaSets()

function criterionOf(set: CriteriaSet | undefined, key: string): Criterion {
  const found = set?.criteria.find((criterion) => criterion.key === key)
  if (!found) throw new Error(`no criterion ${key}`)
  return found
}

/** A unidirectional room, its own zone, with a design of 0.45 m/s. */
function zoneAt(readings: number[], criterion: Criterion, more: Partial<GivenRun> = {}) {
  return computeFaceVelocityGrid(
    faceRun({
      instrument: READ_AS_IT_IS,
      room: { airflowType: 'unidirectional', designVelocity: entered(0.45, 'm/s') },
      filters: [{ readings }],
      criteria: [criterion],
      ...more,
    }),
  )
}

describe('starting sets', () => {
  it('are valid, stand on sources, and can be edited without touching the next copy', () => {
    for (const set of startingCriteriaSets()) {
      expect(CriteriaSet.safeParse(set).success).toBe(true)
      for (const criterion of set.criteria) expect(criterion.source.length).toBeGreaterThan(10)
      expect(new Set(set.criteria.map((criterion) => criterion.key)).size).toBe(set.criteria.length)
    }
    const copy = startingCriteriaSets()[0]
    copy?.criteria.pop()
    expect(startingCriteriaSets()[0]?.criteria).toHaveLength(unidirectional?.criteria.length ?? 0)
  })
})

describe('unidirectional zone', () => {
  // FDA, Sterile Drug Products Produced by Aseptic Processing (2004): 0.45 m/s (90 ft/min) with a range of 20 % around it
  // (the 20 % from memory): 0.36 and 0.54 m/s are on the limits, and inside.
  it.each([
    [0.36, 'pass'],
    [0.54, 'pass'],
    [0.45, 'pass'],
    [0.3599, 'fail'],
    [0.5401, 'fail'],
  ])('a zone and filter mean of %s m/s against 0.45 m/s within 20 %%: %s', (mean, verdict) => {
    expect(zoneAt([mean, mean], criterionOf(unidirectional, 'zone_mean_design')).zones[0]?.verdict).toBe(verdict)
    expect(zoneAt([mean, mean], criterionOf(unidirectional, 'filter_mean_design')).filters[0]?.verdict).toBe(verdict)
  })

  // EU GMP Annex 1 (2022), 4.30: 0.36 to 0.54 m/s (guidance value) at the working position.
  it('has the Annex 1 guidance off until it is switched on, and then at working height only', () => {
    const guidance = criterionOf(unidirectional, 'working_position_guidance')
    expect(guidance.on).toBe(false)
    expect(zoneAt([0.2, 0.2], guidance).zones[0]?.verdict).toBe('not_tested')
    const on = { ...guidance, on: true }
    expect(zoneAt([0.2, 0.2], on).zones[0]?.criteria[0]).toMatchObject({
      verdict: 'not_applicable',
      reason: { code: 'reason.other_plane' },
    })
    const atWork = { run: { plane: { kind: 'working_height', heightM: 0.9 } } } as const
    for (const [mean, verdict] of [
      [0.36, 'pass'],
      [0.54, 'pass'],
      [0.35, 'fail'],
      [0.55, 'fail'],
    ] as const)
      expect(zoneAt([mean, mean], on, atWork).zones[0]?.criteria[0]?.verdict).toBe(verdict)
  })

  // Relative standard deviation at most 15 % over the zone: common practice. Two points m - d and m + d have s = d sqrt 2, so
  // d = 0.15 x 0.45 / sqrt 2 = 0.0477297 stands on the limit.
  it.each([
    [0.0477, 'pass'],
    [0.0478, 'fail'],
  ])('a spread of two points %s m/s either way of 0.45: %s', (d, verdict) => {
    expect(zoneAt([0.45 - d, 0.45 + d], criterionOf(unidirectional, 'zone_spread')).zones[0]?.criteria[0]?.verdict).toBe(verdict)
  })

  // Every point within 20 % of the zone's mean: common practice. 0.36, 0.45, 0.54 has the mean 0.45 and stands on both limits.
  it.each([
    [[0.36, 0.45, 0.54], 'pass'],
    [[0.355, 0.45, 0.545], 'fail'],
  ])('points %j against their mean: %s', (readings, verdict) => {
    expect(zoneAt(readings, criterionOf(unidirectional, 'points_of_zone_mean')).filters[0]?.verdict).toBe(verdict)
  })

  it('passes as a whole on an even field, and the option per filter is off', () => {
    const result = computeFaceVelocityGrid(
      faceRun({
        instrument: READ_AS_IT_IS,
        room: { airflowType: 'unidirectional', designVelocity: entered(0.45, 'm/s') },
        filters: [{ readings: [0.44, 0.46, 0.45, 0.45] }, { readings: [0.43, 0.47, 0.44, 0.46] }],
        criteria: unidirectional?.criteria ?? [],
      }),
    )
    expect(result.verdict).toBe('pass')
    // zone mean, zone spread, and mean and points of two filters; the guidance and the filter's own spread are off
    expect(result.counts).toMatchObject({ pass: 6, not_applicable: 3, fail: 0, not_tested: 0 })
  })
})

describe('non-unidirectional room', () => {
  // FDA (2004): ISO 8 about 20 per hour; USP <797> (2023): ISO 7 at least 30; ISO 6: 60, common practice.
  it('has minima to start from', () => {
    expect(REQUIRED_MINIMA.map(({ cleanlinessClass, perHour }) => [cleanlinessClass, perHour])).toEqual([
      ['ISO 8', 20],
      ['ISO 7', 30],
      ['ISO 6', 60],
    ])
    expect(proposedMinimum('ISO 5')).toBeNull()
  })

  const room = (
    velocity: number,
    criterion: Criterion,
    more: GivenRun['room'] = {},
    terminal: GivenRun['filters'][number]['terminal'] = {},
  ) =>
    computeFaceVelocityGrid(
      faceRun({ instrument: READ_AS_IT_IS, filters: [{ readings: [velocity, velocity], terminal }], room: more, criteria: [criterion] }),
    )

  it('asks for the required minimum of air changes, the minimum included', () => {
    // 60 m3, 0.7 m2: v = n x 60 / 3600 / 0.7; 20 per hour is 0.476190 m/s
    const perHour = criterionOf(nonUnidirectional, 'air_changes_minimum')
    const required = { requiredAirChangesPerHour: 20 }
    expect(room((20 * 60) / 3600 / 0.7, perHour, required).roomCriteria[0]).toMatchObject({ verdict: 'pass', margin: 0 })
    expect(room(0.476, perHour, required).roomCriteria[0]?.verdict).toBe('fail')
    expect(room(5, perHour, {}).roomCriteria[0]?.verdict).toBe('not_tested')
  })

  it('asks for a filter flow within 15 % and a room supply within 10 % of design (common practice)', () => {
    // design 1000 m3/h: 850 and 1150, 900 and 1100 stand on the limits; v = Q / 3600 / 0.7
    const at = (flow: number, key: string) => {
      const result = room(flow / 3600 / 0.7, criterionOf(nonUnidirectional, key), {}, { designFlow: entered(1000, 'm3/h') })
      return (key === 'supply_design' ? result.roomCriteria[0] : result.filters[0]?.criteria[0])?.verdict
    }
    expect([849, 850, 1150, 1151].map((flow) => at(flow, 'filter_flow_design'))).toEqual(['fail', 'pass', 'pass', 'fail'])
    expect([899, 900, 1100, 1101].map((flow) => at(flow, 'supply_design'))).toEqual(['fail', 'pass', 'pass', 'fail'])
  })

  // USP <797> (2023): 30 per hour in total, at least 15 of it from the air handler (numbers seen in secondary public text).
  it('can ask for a part of the air changes from the air handler', () => {
    const outside = { ...criterionOf(nonUnidirectional, 'outside_air_changes'), on: true }
    expect(criterionOf(nonUnidirectional, 'outside_air_changes').on).toBe(false)
    const result = computeFaceVelocityGrid(
      faceRun({
        instrument: READ_AS_IT_IS,
        filters: [{ readings: [0.3, 0.3] }, { readings: [0.9, 0.9], terminal: { kind: 'fan_filter_unit', airSource: 'recirculated' } }],
        criteria: [outside],
      }),
    )
    // 0.3 x 0.7 x 60 = 12.6 per hour of 50.4
    expect(result.roomCriteria[0]).toMatchObject({ verdict: 'fail', value: expect.closeTo(12.6, 10) })
    expect(result.room.airChangesPerHour).toBeCloseTo(50.4, 10)
  })
})
