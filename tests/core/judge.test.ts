import { describe, expect, it } from 'vitest'
import { say } from '#core/messages/say.ts'
import { computeFaceVelocityGrid } from '#core/methods/airflow/face-velocity-grid.ts'
import type { Criterion, CriterionForm } from '#core/model/criteria.ts'
import { RunResult } from '#core/model/results.ts'
import type { Unit } from '#core/model/values.ts'
import { createFormatter } from '#core/units/format.ts'
import { aCriterion, aSet, aZone, CRITERIA_ID, entered, faceRun, type GivenRun, uuid, ZONE_ID } from './face-run.ts'

const formatter = createFormatter(
  { velocity: 'm/s', flow: 'm3/h', length: 'm', pressure: 'Pa', temperature: 'degC' },
  'en',
  'Europe/Vienna',
)
const inFeet = createFormatter(
  { velocity: 'ft/min', flow: 'cfm', length: 'ft', pressure: 'inH2O', temperature: 'degF' },
  'en',
  'Europe/Vienna',
)

const limit = (value: number, unit: Unit = 'm/s') => ({ from: 'value', value: entered(value, unit) }) as const
const mean = (form: CriterionForm, more: Partial<Criterion> = {}) =>
  aCriterion({ quantity: 'face_velocity', scope: 'filter', form, ...more })
const atLeast = (value: number, unit: Unit = 'm/s'): CriterionForm => ({ kind: 'at_least', limit: limit(value, unit) })

function only(given: GivenRun) {
  const result = computeFaceVelocityGrid(faceRun(given))
  const criterion = result.filters[0]?.criteria[0]
  if (!criterion) throw new Error('no criterion on a filter')
  return { result, criterion, words: say('en', formatter, criterion.reason.code, criterion.reason.params) }
}

function flat(readings: readonly number[], criterion: Criterion, more: Partial<GivenRun> = {}) {
  return only({ filters: [{ readings, ...more.filters?.[0] }], criteria: [criterion], ...more })
}

describe('forms of criteria', () => {
  it.each([
    ['at least', atLeast(0.36), [0.36, 0.36], 'pass', 0],
    ['at least', atLeast(0.36), [0.35, 0.35], 'fail', -0.01],
    ['at most', { kind: 'at_most', limit: limit(0.54) }, [0.54, 0.54], 'pass', 0],
    ['at most', { kind: 'at_most', limit: limit(0.54) }, [0.55, 0.55], 'fail', -0.01],
    ['between', { kind: 'between', low: limit(0.36), high: limit(0.54) }, [0.4, 0.4], 'pass', 0.04],
    ['between', { kind: 'between', low: limit(0.36), high: limit(0.54) }, [0.6, 0.6], 'fail', -0.06],
    ['between', { kind: 'between', low: limit(0.36), high: limit(0.54) }, [0.3, 0.3], 'fail', -0.06],
  ] as const)('%s: %j on %j reads %s', (_name, form, readings, verdict, margin) => {
    const { criterion } = flat(readings, mean(form))
    expect(criterion.verdict).toBe(verdict)
    expect(criterion.margin).toBeCloseTo(margin, 12)
  })

  it('within a percentage of design takes 0.45 x 0.8 and 0.45 x 1.2 as inside', () => {
    const form: CriterionForm = { kind: 'within_percent_of_design', percent: 20 }
    const design = { filters: [{ readings: [], terminal: { designVelocity: entered(0.45, 'm/s') } }] }
    const at = (value: number) =>
      only({ filters: [{ readings: [value, value], terminal: design.filters[0]?.terminal ?? {} }], criteria: [mean(form)] }).criterion
    expect(at(0.36)).toMatchObject({ verdict: 'pass', margin: 0 })
    expect(at(0.54)).toMatchObject({ verdict: 'pass', margin: 0 })
    expect(at(0.359).verdict).toBe('fail')
    expect(at(0.541).verdict).toBe('fail')
  })

  it('within a percentage of design reads not tested without a design above zero', () => {
    const form: CriterionForm = { kind: 'within_percent_of_design', percent: 20 }
    for (const designVelocity of [null, entered(0, 'm/s')]) {
      const { criterion } = only({ filters: [{ readings: [0.45, 0.45], terminal: { designVelocity } }], criteria: [mean(form)] })
      expect([criterion.verdict, criterion.reason.code]).toEqual(['not_tested', 'reason.no_design'])
    }
  })

  it('spread at most', () => {
    // 0.42 0.46 0.44 0.48 has an RSD of 5.73775 %
    const spread = (percent: number) =>
      aCriterion({ quantity: 'velocity_spread', scope: 'filter', form: { kind: 'spread_at_most', percent } })
    expect(flat([0.42, 0.46, 0.44, 0.48], spread(5.8)).criterion.verdict).toBe('pass')
    expect(flat([0.42, 0.46, 0.44, 0.48], spread(5.7)).criterion.verdict).toBe('fail')
  })

  it("every point within a percentage of the filter's mean names the worst point", () => {
    // mean 0.45, within 20 %: 0.36 to 0.54
    const each = (percent: number) =>
      aCriterion({ quantity: 'face_velocity', scope: 'point', form: { kind: 'each_within_percent_of_mean', percent, of: 'filter' } })
    expect(flat([0.36, 0.45, 0.54], each(20)).criterion).toMatchObject({ verdict: 'pass', margin: 0 })
    // 0.30 0.45 0.50 0.55: mean 0.45, limits 0.36 and 0.54; point 1 is 0.06 out, point 4 only 0.01
    expect(flat([0.3, 0.45, 0.5, 0.55], each(20)).criterion).toMatchObject({
      verdict: 'fail',
      point: 1,
      value: 0.3,
      margin: expect.closeTo(-0.06, 12),
    })
  })

  it('the required minimum of the room is the limit where the criterion says so', () => {
    const perHour = aCriterion({
      quantity: 'air_changes',
      scope: 'room',
      form: { kind: 'at_least', limit: { from: 'room_required_minimum' } },
    })
    // 0.5 x 0.7 x 3600 / 60 = 21 per hour
    const at = (requiredAirChangesPerHour: number | null) =>
      computeFaceVelocityGrid(faceRun({ filters: [{ readings: [0.5, 0.5] }], criteria: [perHour], room: { requiredAirChangesPerHour } }))
        .roomCriteria[0]
    expect(at(20)).toMatchObject({ verdict: 'pass', low: 20 })
    expect(at(30)).toMatchObject({ verdict: 'fail', margin: expect.closeTo(-9, 10) })
    expect(at(null)).toMatchObject({ verdict: 'not_tested', reason: { code: 'reason.no_required_minimum' } })
  })
})

describe('what keeps a criterion from applying', () => {
  it('the other measuring plane', () => {
    const { criterion, result } = flat([0.45, 0.45], mean(atLeast(0.36), { plane: 'working_height' }))
    expect(criterion.verdict).toBe('not_applicable')
    expect(criterion.reason.code).toBe('reason.other_plane')
    // nothing else applies: the set reads not tested, never pass
    expect(result.verdict).toBe('not_tested')
    const low = flat([0.45, 0.45], mean(atLeast(0.36), { plane: 'working_height' }), {
      run: { plane: { kind: 'working_height', heightM: 1 } },
    })
    expect(low.criterion.verdict).toBe('pass')
  })

  it('an option that is off, and the reason is shown', () => {
    expect(flat([0.1, 0.1], mean(atLeast(0.36), { on: false })).criterion).toMatchObject({
      verdict: 'not_applicable',
      reason: { code: 'reason.switched_off' },
    })
  })

  it('a limit that does not fit the quantity is never a pass', () => {
    const cubic = mean({ kind: 'at_least', limit: limit(0.1, 'm3/h') })
    const spread = mean({ kind: 'spread_at_most', percent: 99 })
    for (const criterion of [cubic, spread])
      expect(flat([0.45, 0.45], criterion).criterion).toMatchObject({ verdict: 'not_tested', reason: { code: 'reason.unfit' } })
  })

  it('points against a mean are judged with their filter, whatever scope is written down', () => {
    for (const scope of ['point', 'filter', 'zone', 'room'] as const) {
      const each = aCriterion({ quantity: 'face_velocity', scope, form: { kind: 'each_within_percent_of_mean', percent: 20, of: 'zone' } })
      const { result } = flat([0.3, 0.45, 0.6], each)
      expect(result.filters[0]?.criteria[0]?.verdict).toBe('fail')
      expect(result.counts).toMatchObject({ pass: 0, fail: 1 })
    }
  })

  it('a figure that the subject does not have', () => {
    const odd = aCriterion({ quantity: 'air_changes', scope: 'filter', form: { kind: 'at_least', limit: limit(20, '1/h') } })
    expect(flat([0.45, 0.45], odd).criterion).toMatchObject({ verdict: 'not_applicable' })
  })

  it('a run over a zone says nothing about the room', () => {
    const perHour = aCriterion({ quantity: 'air_changes', scope: 'room', form: { kind: 'at_least', limit: limit(1, '1/h') } })
    const result = computeFaceVelocityGrid(
      faceRun({
        filters: [{ readings: [0.5, 0.5], terminal: { zoneId: ZONE_ID } }],
        zones: [{ id: ZONE_ID, revision: 1, body: aZone() }],
        run: { zoneId: ZONE_ID },
        criteria: [perHour],
      }),
    )
    expect(result.roomCriteria[0]).toMatchObject({ verdict: 'not_applicable', reason: { code: 'reason.part_of_room' } })
    expect(result.room.airChangesPerHour).toBeNull()
  })
})

describe('overrides', () => {
  const criteria = [mean(atLeast(0.36))]

  it("of a room take the place of the set's form, switch it off, or switch an option on", () => {
    const own = { key: 'it', on: true, reason: 'site rule 12' }
    expect(
      flat([0.32, 0.32], criteria[0] ?? mean(atLeast(0)), { room: { overrides: [{ ...own, form: atLeast(0.3) }] } }).criterion,
    ).toMatchObject({ verdict: 'pass', low: 0.3 })
    const off = flat([0.32, 0.32], mean(atLeast(0.36)), { room: { overrides: [{ ...own, on: false, form: null }] } })
    expect(off.criterion).toMatchObject({ verdict: 'not_applicable', reason: { code: 'reason.switched_off_here' } })
    expect(off.words).toContain('site rule 12')
    const on = flat([0.4, 0.4], mean(atLeast(0.36), { on: false }), { room: { overrides: [{ ...own, form: null }] } })
    expect(on.criterion.verdict).toBe('pass')
    expect(on.words).toContain('site rule 12')
  })

  it("of a zone stand above those of its room, and a zone's own set above both", () => {
    const room = { overrides: [{ key: 'it', on: true, form: atLeast(0.3), reason: 'room' }] }
    const zoned = (zone: Parameters<typeof aZone>[0], zoneCriteria: GivenRun['zoneCriteria'] = new Map()) =>
      only({
        filters: [{ readings: [0.32, 0.32], terminal: { zoneId: ZONE_ID } }],
        zones: [{ id: ZONE_ID, revision: 1, body: aZone(zone) }],
        criteria,
        room,
        zoneCriteria,
      }).criterion
    expect(zoned({})).toMatchObject({ verdict: 'pass', low: 0.3 })
    expect(zoned({ overrides: [{ key: 'it', on: true, form: atLeast(0.33), reason: 'zone' }] })).toMatchObject({
      verdict: 'fail',
      low: 0.33,
    })
    const own = new Map([[ZONE_ID, { id: uuid(0xd1), revision: 4, body: aSet([mean(atLeast(0.25))]) }]])
    expect(zoned({}, own)).toMatchObject({ verdict: 'pass', low: 0.25 })
  })
})

describe('decision rules', () => {
  const guarded = { decisionRule: { kind: 'guarded', multiple: 1 } } as const

  it('guarded acceptance without an uncertainty reads not tested', () => {
    expect(flat([0.45, 0.45], mean(atLeast(0.1)), { set: guarded }).criterion).toMatchObject({
      verdict: 'not_tested',
      reason: { code: 'reason.no_uncertainty' },
    })
    // A point never has one, however much is known of the instrument: the reason says why.
    expect(flat([0.45, 0.45], { ...mean(atLeast(0.1)), scope: 'point' }, { set: guarded }).criterion).toMatchObject({
      verdict: 'not_tested',
      reason: { code: 'reason.no_point_uncertainty' },
    })
    expect(flat([0.45, 0.45], mean(atLeast(0.1)), { set: { decisionRule: { kind: 'guarded', multiple: 0 } } }).criterion.verdict).toBe(
      'pass',
    )
  })

  it('spread is accepted simply under a guarded rule, and says so', () => {
    const spread = aCriterion({ quantity: 'velocity_spread', scope: 'filter', form: { kind: 'spread_at_most', percent: 15 } })
    const { criterion, words } = flat([0.42, 0.46, 0.44, 0.48], spread, { set: guarded })
    expect(criterion.verdict).toBe('pass')
    expect(words).toContain('simple acceptance, since a spread has no expanded uncertainty')
  })

  it("rounds to the limit's digits only where the set says so", () => {
    const form = atLeast(0.36)
    expect(flat([0.356, 0.356], mean(form)).criterion.verdict).toBe('fail')
    const rounded = flat([0.356, 0.356], mean(form), { set: { comparison: 'rounded_to_limit' } })
    expect(rounded.criterion).toMatchObject({ verdict: 'pass', value: expect.closeTo(0.356, 12), margin: 0 })
    expect(rounded.words).toContain("rounded to the limit's digits")
    expect(rounded.words).toContain('before rounding')
    expect(flat([0.3549, 0.3549], mean(form), { set: { comparison: 'rounded_to_limit' } }).criterion.verdict).toBe('fail')
  })

  it('rounds a percentage of design as a percentage', () => {
    // 0.3595 / 0.45 = 79.9 %, which rounds to 80 %
    const { criterion } = only({
      filters: [{ readings: [0.3595, 0.3595], terminal: { designVelocity: entered(0.45, 'm/s') } }],
      criteria: [mean({ kind: 'within_percent_of_design', percent: 20 })],
      set: { comparison: 'rounded_to_limit' },
    })
    expect(criterion).toMatchObject({ verdict: 'pass' })
  })

  it('rounds a percentage to the digits that it was typed with', () => {
    // 0.38115 / 0.45 = 84.7 %: as a whole percentage 85, within 15 of design; to a decimal it is 84.7, below 85.0.
    const verdict = (percentTyped: string | undefined) =>
      only({
        filters: [{ readings: [0.38115, 0.38115], terminal: { designVelocity: entered(0.45, 'm/s') } }],
        criteria: [mean({ kind: 'within_percent_of_design', percent: 15, percentTyped })],
        set: { comparison: 'rounded_to_limit' },
      }).criterion.verdict
    expect(verdict(undefined)).toBe('pass')
    expect(verdict('15')).toBe('pass')
    for (const typed of ['15.0', '15,0 %', '15.00']) expect(verdict(typed), typed).toBe('fail')
  })
})

describe('alert limits', () => {
  it('are shown and never change the verdict', () => {
    const alert = { low: entered(0.4, 'm/s'), high: entered(0.5, 'm/s') }
    expect(flat([0.38, 0.38], mean(atLeast(0.36), { alert })).criterion).toMatchObject({ verdict: 'pass', alert: 'low' })
    expect(flat([0.45, 0.45], mean(atLeast(0.36), { alert })).criterion).toMatchObject({ verdict: 'pass', alert: null })
    expect(flat([0.51, 0.51], mean(atLeast(0.36), { alert })).criterion).toMatchObject({ verdict: 'pass', alert: 'high' })
    expect(flat([0.4, 0.4], mean(atLeast(0.36), { alert })).criterion.alert).toBeNull()
  })
})

describe('the reason in words', () => {
  it('names criterion, value with unit, limit, margin, basis, plane, source and rule', () => {
    const { words } = flat([0.31, 0.31], mean(atLeast(0.36), { title: 'Filter mean velocity', source: 'ISO 14644-3 style' }))
    for (const part of [
      'Filter mean velocity',
      '0.31\u00a0m/s',
      '0.36\u00a0m/s',
      '0.05\u00a0m/s too low',
      'as indicated',
      'at the filter face',
      'ISO 14644-3 style',
      'simple acceptance',
      'compared unrounded',
    ])
      expect(words).toContain(part)
  })

  it('shows one digit more rather than contradict its verdict', () => {
    const low = flat([0.3599, 0.3599], mean(atLeast(0.36))).words
    expect(low).toContain('0.3599\u00a0m/s against at least 0.3600\u00a0m/s')
    expect(low).toMatch(/0\.0001\u00a0m\/s too low/)
    expect(flat([0.36, 0.36], mean(atLeast(0.36))).words).toContain('on the limit, which is allowed')
  })

  it('reads in the units of the reader, and keeps the limit as it was written beside', () => {
    const { criterion } = flat([0.31, 0.31], mean(atLeast(0.36)))
    const words = say('en', inFeet, criterion.reason.code, criterion.reason.params)
    expect(words).toContain('61\u00a0ft/min against at least 71\u00a0ft/min')
    expect(words).toContain('the limit is written as 0.36\u00a0m/s')
  })

  it.each([
    ['70.9', '70.9'],
    ['70.866142', '70.866142'],
    ['72', '72'],
  ])('says a limit of %s ft/min as %s, not rounded', (limit, said) => {
    const value = entered(Number(limit), 'ft/min')
    const { words } = flat([0.31, 0.31], mean({ kind: 'at_least', limit: { from: 'value', value } }))
    expect(words).toContain(`the limit is written as ${said}\u00a0ft/min`)
  })

  it('ends what a person wrote with a full stop, once', () => {
    const closed = (reason: string) => say('en', formatter, 'note.closed', { because: reason })
    expect(closed('blanked off')).toBe('Closed: blanked off. Counts as zero flow.')
    expect(closed('Blanked off.')).toBe('Closed: Blanked off. Counts as zero flow.')
  })

  it('survives the pseudo-language: no code, unit or date is fenced as if it were a name', () => {
    const { criterion } = flat([0.31, 0.31], mean(atLeast(0.36), { title: 'Velocity' }))
    const words = say('pseudo', formatter, criterion.reason.code, criterion.reason.params)
    expect(words).toContain('Velocity')
    expect(words).toMatch(/0\.31/)
    const late = only({ filters: [{ readings: [{ si: 0.45, on: '2026-06-01' }] }], criteria: [mean(atLeast(0.36))] })
    expect(late.words).toContain('Otherwise it would pass. It: 0.45')
    expect(say('pseudo', formatter, late.criterion.reason.code, late.criterion.reason.params)).not.toContain('\uE000')
  })

  it('is a known sentence for every result of a mixed run', () => {
    const input = faceRun({
      filters: [{ readings: [0.4, null] }, { readings: [0.4, 0.9] }, { readings: [], terminal: { closed: { reason: 'blanked off' } } }],
      criteria: [
        mean(atLeast(0.36)),
        mean({ kind: 'within_percent_of_design', percent: 20 }, { key: 'design' }),
        aCriterion({ key: 'rsd', quantity: 'velocity_spread', scope: 'zone', form: { kind: 'spread_at_most', percent: 15 } }),
        aCriterion({ key: 'f2f', quantity: 'filter_to_filter_spread', scope: 'room', form: { kind: 'spread_at_most', percent: 15 } }),
        aCriterion({
          key: 'ach',
          quantity: 'air_changes',
          scope: 'room',
          form: { kind: 'at_least', limit: { from: 'room_required_minimum' } },
        }),
        aCriterion({
          key: 'each',
          quantity: 'face_velocity',
          scope: 'point',
          form: { kind: 'each_within_percent_of_mean', percent: 20, of: 'zone' },
        }),
      ],
    })
    const result = computeFaceVelocityGrid(input)
    expect(result.criteriaSetId).toBe(CRITERIA_ID)
    // what is computed is what the contract promises, and survives being written down
    expect(RunResult.parse(JSON.parse(JSON.stringify(result)))).toEqual(result)
    const sentences = [
      result.headline,
      ...result.roomCriteria.map((one) => one.reason),
      ...result.zones.flatMap((zone) => zone.criteria.map((one) => one.reason)),
      ...result.filters.flatMap((filter) => [...filter.notes, ...filter.criteria.map((one) => one.reason)]),
    ]
    expect(sentences).toHaveLength(15)
    for (const sentence of sentences) {
      const words = say('en', formatter, sentence.code, sentence.params)
      expect(words).not.toBe(sentence.code)
      expect(words).not.toMatch(/undefined|null|NaN|\[object/)
    }
  })
})
