import { describe, expect, it } from 'vitest'
import { computeFaceVelocityGrid } from '#core/methods/airflow/face-velocity-grid.ts'
import type { EntityBody } from '#core/model/entities.ts'
import { fromSi } from '#core/units/units.ts'
import { aCriterion, aZone, entered, faceRun, ZONE_ID } from './face-run.ts'

/* House rules A1 and A3: a closed terminal is a recorded zero. What it is held against keeps its design. */

const closed = { closed: { reason: 'shut for balancing' } }
const within = (quantity: 'flow' | 'air_changes' | 'face_velocity', scope: 'room' | 'zone', percent: number) =>
  aCriterion({ key: `${quantity} ${scope}`, quantity, scope, form: { kind: 'within_percent_of_design', percent } })

/*
 * Three filters of 600 m3/h design and 0.36 m2 (0.46296 m/s) in 5 x 4 x 3 m. Two give 600 m3/h each, the third is shut: 1200 of 1800 m3/h are
 * 66.667 %; 20 of 30 air changes; 0.30864 of 0.46296 m/s.
 */
describe('a room with one of three filters closed', () => {
  const filter = (more: Partial<EntityBody<'terminal'>> = {}) => ({
    effectiveArea: entered(0.36, 'm2'),
    designFlow: entered(600, 'm3/h'),
    zoneId: ZONE_ID,
    ...more,
  })
  const velocity = 600 / 3600 / 0.36
  const open = { readings: [velocity, velocity], terminal: filter() }
  const given = (third: Partial<EntityBody<'terminal'>>) =>
    computeFaceVelocityGrid(
      faceRun({
        zones: [{ id: ZONE_ID, revision: 1, body: aZone() }],
        filters: [open, open, { readings: [], terminal: filter({ ...closed, ...third }) }],
        criteria: [
          within('flow', 'room', 10),
          within('air_changes', 'room', 10),
          within('face_velocity', 'zone', 20),
          within('flow', 'zone', 10),
        ],
      }),
    )
  const result = given({})

  it('is held against the design of all three, in flow and in air changes', () => {
    expect(fromSi(result.room.designFlowM3ps ?? 0, 'm3/h')).toBeCloseTo(1800, 8)
    expect(result.room.percentOfDesign).toBeCloseTo(200 / 3, 8)
    const [flow, airChanges] = result.roomCriteria
    expect(flow).toMatchObject({ verdict: 'fail', low: expect.closeTo(0.45, 12), high: expect.closeTo(0.55, 12) })
    expect(airChanges).toMatchObject({ verdict: 'fail', value: expect.closeTo(20, 8), low: expect.closeTo(27, 8) })
    expect(flow?.reason.params).toMatchObject({ figure: { relative: { to: 'design', si: expect.closeTo(0.5, 12) } } })
  })

  it('and so is its zone', () => {
    const [zone] = result.zones
    expect(zone?.designVelocityMps).toBeCloseTo(0.5 / 1.08, 12)
    expect(zone?.percentOfDesign).toBeCloseTo(200 / 3, 8)
    expect(zone?.criteria.map(({ verdict }) => verdict)).toEqual(['fail', 'fail'])
  })

  it('weighs the closed filter by what its own design is', () => {
    // 600 + 600 + 0.2 m/s x 0.36 m2 (259.2 m3/h) = 1459.2 m3/h; zone (2 x 0.46296 + 0.2) / 3 = 0.37531 m/s
    const other = given({ designFlow: null, designVelocity: entered(0.2, 'm/s') })
    expect(fromSi(other.room.designFlowM3ps ?? 0, 'm3/h')).toBeCloseTo(1459.2, 8)
    expect(other.zones[0]?.designVelocityMps).toBeCloseTo(0.375309, 6)
  })

  it('has no design while the closed one has none: nobody knows what is missing', () => {
    const none = given({ designFlow: null })
    expect(none.room).toMatchObject({ designFlowM3ps: null, percentOfDesign: null })
    expect(none.roomCriteria.map(({ verdict, reason }) => [verdict, reason.code])).toEqual([
      ['not_tested', 'reason.no_design'],
      ['not_tested', 'reason.no_design'],
    ])
  })
})
