import { describe, expect, it } from 'vitest'
import { leastAveragingTimeS } from '#core/methods/airflow/averaging.ts'
import { computeFaceVelocityGrid } from '#core/methods/airflow/face-velocity-grid.ts'
import type { Criterion } from '#core/model/criteria.ts'
import type { EntityBody } from '#core/model/entities.ts'
import { aCriterion, aSet, aZone, faceRun, type GivenRun, uuid, ZONE_ID } from './face-run.ts'

// The house's rule A2 (common practice): 10 s at a filter face where ISO 14644-3 is cited, 5 s otherwise, 15 s in turbulent air.

const mean = (changes: Partial<Criterion> = {}): Criterion =>
  aCriterion({ quantity: 'face_velocity', scope: 'filter', form: { kind: 'within_percent_of_design', percent: 20 }, ...changes })
const citing = (changes: Partial<Criterion> = {}) => mean({ source: 'ISO 14644-3:2019, style of test', ...changes })
const least = (given: Partial<GivenRun>) => leastAveragingTimeS(faceRun({ filters: [], ...given }))
const working: EntityBody<'run'>['plane'] = { kind: 'working_height', heightM: 1 }

describe('the least averaging time', () => {
  it('is 10 s at a filter face where a criterion in use cites ISO 14644-3, and 5 s elsewhere', () => {
    expect(least({ criteria: [mean(), citing()] })).toBe(10)
    expect(least({ criteria: [citing({ source: 'as iso14644-3 has it' })] })).toBe(10)
    expect(least({ criteria: [mean({ source: 'ISO 14644-1:2015' })] })).toBe(5)
    expect(least({})).toBe(5)
  })

  it('asks only criteria that are in use: switched on, not overridden away, and for this plane', () => {
    expect(least({ criteria: [citing({ on: false })] })).toBe(5)
    expect(least({ criteria: [citing({ plane: 'working_height' })] })).toBe(5)
    const off = { key: 'it', form: null, on: false, reason: 'site rule' }
    expect(least({ criteria: [citing()], room: { overrides: [off] } })).toBe(5)
    expect(least({ criteria: [citing({ on: false })], room: { overrides: [{ ...off, on: true }] } })).toBe(10)
  })

  it('looks at the criteria of the zones that the run covers', () => {
    const zones = [{ id: ZONE_ID, revision: 1, body: aZone({ criteriaSetId: uuid(0xd1) }) }]
    const own = (criterion: Criterion) => new Map([[ZONE_ID, { id: uuid(0xd1), revision: 1, body: aSet([criterion]) }]])
    expect(least({ criteria: [mean()], zones, zoneCriteria: own(citing()) })).toBe(10)
    expect(least({ criteria: [citing()], zones, zoneCriteria: own(mean()) })).toBe(10)
    expect(least({ criteria: [citing()], zones, zoneCriteria: own(mean()), run: { zoneId: ZONE_ID } })).toBe(5)
    expect(least({ criteria: [citing()], zones, run: { zoneId: ZONE_ID } })).toBe(10)
  })

  it('is 15 s at working height in turbulent air, whatever is cited', () => {
    expect(least({ criteria: [citing()], run: { plane: working } })).toBe(15)
    expect(least({ criteria: [citing()], run: { plane: working }, room: { airflowType: 'unidirectional' } })).toBe(5)
  })
})

describe('a filter with readings averaged too short', () => {
  it('says how many, and what the criteria ask for, and keeps its figures', () => {
    const short = (si: number) => ({ si, flags: ['short_averaging'] as const })
    const [filter] = computeFaceVelocityGrid(
      faceRun({ filters: [{ readings: [short(0.44), short(0.46), 0.45] }], criteria: [citing()] }),
    ).filters
    expect(filter?.meanVelocityMps).toBeCloseTo(0.45, 12)
    expect(filter?.notes).toEqual([{ code: 'note.short_averaging', params: { readings: 2, leastS: 10 } }])
  })
})
