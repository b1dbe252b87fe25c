import { describe, expect, it } from 'vitest'
import { say } from '#core/messages/say.ts'
import { computeFaceVelocityGrid } from '#core/methods/airflow/face-velocity-grid.ts'
import type { Criterion } from '#core/model/criteria.ts'
import { createFormatter } from '#core/units/format.ts'
import { aCriterion, aZone, entered, faceRun, ZONE_ID } from './face-run.ts'

/* House rule A1: a closed face is a recorded zero in mean velocity and flow; a spread is of one set, the points of the open faces. */

const formatter = createFormatter(
  { velocity: 'm/s', flow: 'm3/h', length: 'm', pressure: 'Pa', temperature: 'degC' },
  'en',
  'Europe/Vienna',
)
const criteria: Criterion[] = [
  aCriterion({
    key: 'points',
    quantity: 'face_velocity',
    scope: 'point',
    form: { kind: 'each_within_percent_of_mean', percent: 20, of: 'zone' },
  }),
  aCriterion({ key: 'spread', quantity: 'velocity_spread', scope: 'zone', form: { kind: 'spread_at_most', percent: 15 } }),
  aCriterion({ key: 'largest', quantity: 'largest_deviation', scope: 'zone', form: { kind: 'spread_at_most', percent: 20 } }),
  aCriterion({
    key: 'mean',
    quantity: 'face_velocity',
    scope: 'zone',
    form: { kind: 'at_least', limit: { from: 'value', value: entered(0.36, 'm/s') } },
  }),
]
const terminal = { zoneId: ZONE_ID }
const given = (...faces: (readonly (number | null)[] | 'closed')[]) =>
  computeFaceVelocityGrid(
    faceRun({
      zones: [{ id: ZONE_ID, revision: 1, body: aZone() }],
      filters: faces.map((readings) =>
        readings === 'closed' ? { readings: [], terminal: { ...terminal, closed: { reason: 'blanked off' } } } : { readings, terminal },
      ),
      criteria,
    }),
  )

describe('a zone of four equal faces, one of them closed', () => {
  // Three faces at 0.45 m/s at every point: no spread at all. The mean with the closed one is 3 x 0.45 / 4 = 0.3375 m/s.
  const even = given([0.45, 0.45], [0.45, 0.45], [0.45, 0.45], 'closed')

  it('has the closed face in its mean as zero, and not in spread, largest deviation and share of points', () => {
    expect(even.zones[0]).toMatchObject({
      meanVelocityMps: expect.closeTo(0.3375, 12),
      relativeStandardDeviationPercent: 0,
      largestDeviationPercent: expect.closeTo(0, 10),
      pointsWithinPercent: 100,
      closedFaces: 1,
    })
    expect(even.zones[0]?.criteria.map(({ key, verdict }) => [key, verdict])).toEqual([
      ['spread', 'pass'],
      ['largest', 'pass'],
      ['mean', 'fail'],
    ])
    expect(even.filters[0]?.criteria[0]).toMatchObject({ key: 'points', verdict: 'pass', low: expect.closeTo(0.36, 12) })
  })

  it('says which set each figure speaks of', () => {
    const told = ({ code, params }: { code: string; params: Record<string, unknown> }) => say('en', formatter, code, params)
    const [spread, , mean] = even.zones[0]?.criteria ?? []
    expect(spread && told(spread.reason)).toContain('Of the open faces alone, 1 closed one left out.')
    expect(mean && told(mean.reason)).not.toContain('open faces')
    const [point] = even.filters[0]?.criteria ?? []
    expect(point && told(point.reason)).toContain("of the mean of the zone's open faces")
  })

  it('has a spread about the mean of the open faces, by hand', () => {
    // Points 0.40 0.50 0.40 0.50: mean 0.45, s = sqrt(4 x 0.05^2 / 3) = 0.0577350, RSD 12.83 %, largest deviation 0.05 / 0.45 = 11.11 %
    const uneven = given([0.4, 0.5], [0.4, 0.5], 'closed')
    expect(uneven.zones[0]?.relativeStandardDeviationPercent).toBeCloseTo(12.83001, 4)
    expect(uneven.zones[0]?.largestDeviationPercent).toBeCloseTo(11.11111, 4)
    expect(uneven.zones[0]?.meanVelocityMps).toBeCloseTo(0.3, 12)
  })

  it('fails for an unfinished set that nothing could rescue, with a closed face as without', () => {
    // 0.1 and 0.9 measured, one of three points missing: the least largest deviation is (0.9 - 0.1) / (0.9 + 0.1) = 80 %
    for (const faces of [[[0.1, 0.9, null] as const], [[0.1, 0.9, null] as const, 'closed' as const]]) {
      const [spread, largest] = given(...faces).zones[0]?.criteria ?? []
      expect([spread?.verdict, largest?.verdict]).toEqual(['fail', 'fail'])
    }
  })
})
