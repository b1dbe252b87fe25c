import { describe, expect, it } from 'vitest'
import { certificationState } from '#core/history/certification.ts'
import { byWhatGotWorst, type ComparedVisit, changeBetween, compareCertifications } from '#core/history/compare.ts'
import type { RunInVisit } from '#core/history/current-runs.ts'
import { evidenceOf, type RunWithEvidence } from '#core/history/evidence.ts'
import { criteriaOf, recomputeUnder } from '#core/history/other-criteria.ts'
import { historyOf } from '#core/history/trend.ts'
import { say } from '#core/messages/say.ts'
import { methodOf } from '#core/methods/catalogue.ts'
import type { RunInput } from '#core/methods/method.ts'
import { Comparison, History, type Sentence } from '#core/model/results.ts'
import { createFormatter } from '#core/units/format.ts'
import {
  aCriterion,
  aSet,
  aZone,
  entered,
  faceRun,
  type GivenRun,
  INSTRUMENT_ID,
  MEASURED_ON,
  ROOM_ID,
  terminalId,
  uuid,
  ZONE_ID,
} from './face-run.ts'
import { aMeter } from './room-run.ts'

const formatter = createFormatter({ velocity: 'm/s', flow: 'm3/h', length: 'm', pressure: 'Pa', temperature: 'degC' }, 'en', 'UTC')
const words = (sentence: Sentence) => say('en', formatter, sentence.code, sentence.params)

const mean = (least: number) =>
  aCriterion({
    key: 'mean',
    title: 'Mean',
    quantity: 'face_velocity',
    scope: 'filter',
    form: { kind: 'at_least', limit: { from: 'value', value: entered(least, 'm/s') } },
  })
const perHour = aCriterion({
  key: 'ach',
  title: 'Air changes',
  quantity: 'air_changes',
  scope: 'room',
  form: { kind: 'at_least', limit: { from: 'value', value: entered(20, '1/h') } },
})

type Made = { readonly visit: ComparedVisit; readonly run: RunWithEvidence; readonly input: RunInput }

function make(
  number: number,
  given: GivenRun,
  elements: [number, string][] = [],
  change: (input: RunInput) => RunInput = (input) => input,
): Made {
  const input = change({ ...faceRun({ criteria: [mean(0.36), perHour], ...given }), runId: uuid(0x600 + number) })
  const result = methodOf(input.run.method).compute(input)
  const run: RunWithEvidence = {
    runId: input.runId,
    roomId: ROOM_ID,
    result,
    signed: null,
    evidence: evidenceOf(input),
    elements: new Map(
      elements.map(([index, serialNumber]) => [
        terminalId(index),
        { id: uuid(0x700 + serialNumber.length * 1000 + Number(serialNumber.slice(-2))), serialNumber },
      ]),
    ),
  }
  const state = certificationState({
    certificationId: uuid(number),
    roomIds: [ROOM_ID],
    runs: [
      {
        runId: input.runId,
        roomId: ROOM_ID,
        zoneId: null,
        method: 'face_velocity_grid',
        plane: 'filter_face',
        phase: 'as_found',
        state: 'complete',
        completedOrder: 1,
        result,
        beyondTheZone: { roomFilterIds: [], roomCriteria: 0 },
        pointsPlanned: 2,
        pointsMeasured: 2,
        samplesLacking: 0,
        signatures: [],
      },
    ],
  })
  return { visit: { certificationId: uuid(number), state, runs: [run] }, run, input }
}

const BY_FACES = { method: 'face_velocity_grid', state: 'complete' } as const

const compare = (earlier: Made, later: Made) =>
  compareCertifications({ earlier: earlier.visit, later: later.visit, roomLabels: new Map([[ROOM_ID, 'F-104']]), roomId: null })
const filters = (means: number[]): GivenRun => ({ filters: means.map((value) => ({ readings: [value, value] })) })

/** Expected figures; written by place, because a property called `then` is not written out (lint). */
const figure = (then: unknown, now: unknown, change: unknown, changePercent: unknown) => ({
  earlier: then,
  later: now,
  change,
  changePercent,
})

describe('change between two figures', () => {
  it('is worked by hand', () => {
    // 0.45 to 0.36 m/s: -0.09, -20 %
    expect(changeBetween(0.45, 0.36)).toEqual(figure(0.45, 0.36, expect.closeTo(-0.09, 12), expect.closeTo(-20, 10)))
    expect(changeBetween(0, 0.1).changePercent).toBeNull()
    expect(changeBetween(null, 0.1)).toEqual(figure(null, 0.1, null, null))
  })
})

describe('one visit against another', () => {
  it('has a row for every filter and room, what got worst first', () => {
    const comparison = compare(make(1, filters([0.45, 0.45, 0.5])), make(2, filters([0.44, 0.3, 0.35])))
    expect(Comparison.parse(JSON.parse(JSON.stringify(comparison)))).toEqual(comparison)
    expect(comparison.rows.map((row) => [row.label, row.verdictThen, row.verdictNow])).toEqual([
      ['F-104-02', 'pass', 'fail'],
      ['F-104-03', 'pass', 'fail'],
      ['F-104', 'pass', 'fail'],
      ['F-104-01', 'pass', 'pass'],
    ])
    // 0.45 to 0.30 is -33.3 %, 0.50 to 0.35 -30 %, the room (1.40 to 1.09) x 0.7 m2 -22.1 %, 0.45 to 0.44 -2.2 %
    expect(comparison.rows.map((row) => row.figure.changePercent)).toEqual([
      expect.closeTo(-33.333, 2),
      expect.closeTo(-30, 8),
      expect.closeTo(-22.143, 2),
      expect.closeTo(-2.222, 2),
    ])
    expect(comparison.rows[2]).toMatchObject({
      kind: 'room',
      quantity: 'air_changes',
      figure: figure(expect.closeTo(58.8, 8), expect.closeTo(45.78, 8), expect.closeTo(-13.02, 8), expect.closeTo(-22.143, 2)),
    })
    expect(comparison.rows[0]?.reasonNow?.code).toBe('reason.judged')
    expect(comparison.rows[3]?.reasonNow).toBeNull()
  })

  it('puts what newly fails before what failed already, however much that lost', () => {
    // filter 1 failed before and lost 33 %; filter 2 newly fails by 3 %
    const rows = compare(make(1, filters([0.3, 0.36, 0.6])), make(2, filters([0.2, 0.35, 0.6]))).rows.filter((row) => row.kind === 'filter')
    expect(rows.map((row) => row.label)).toEqual(['F-104-02', 'F-104-01', 'F-104-03'])
  })

  it('sorts rows without a change last', () => {
    const [row] = compare(make(1, filters([0.45])), make(2, filters([0.45]))).rows
    if (!row) throw new Error('no row')
    const none = { ...row, figure: changeBetween(null, 0.45) }
    const fell = { ...row, figure: changeBetween(0.45, 0.4) }
    expect([none, none, fell].sort(byWhatGotWorst)[0]).toBe(fell)
  })

  it('keeps filters that only one visit knows', () => {
    const comparison = compare(make(1, filters([0.45])), make(2, filters([0.45, 0.46])))
    const added = comparison.rows.find((row) => row.label === 'F-104-02')
    expect(added).toMatchObject({ verdictThen: 'not_tested', verdictNow: 'pass', figure: figure(null, 0.46, null, null) })
  })

  it('says so where one figure is of actual air and the other as indicated', () => {
    const actual = (input: RunInput): RunInput => ({
      ...input,
      instruments: input.instruments.map((pinned) => ({ ...pinned, body: { ...pinned.body, basis: 'actual' } })),
    })
    const comparison = compare(make(1, filters([0.45, 0.45])), make(2, filters([0.45, 0.45]), [], actual))
    const said = 'The figure is of actual air, before as indicated.'
    for (const row of comparison.rows) expect(row.breaks.map(words)).toEqual([said])
  })

  it('makes no change of two figures of different air, in the rows and in the summary', () => {
    const actual = (input: RunInput): RunInput => ({
      ...input,
      instruments: input.instruments.map((pinned) => ({ ...pinned, body: { ...pinned.body, basis: 'actual' } })),
    })
    // 0.40 of actual air are no fall from 0.45 as indicated: how much actual air that was nobody knows.
    const comparison = compare(make(1, filters([0.45, 0.45])), make(2, filters([0.4, 0.4]), [], actual))
    for (const row of comparison.rows) {
      expect(row.figure.earlier).not.toBeNull()
      expect([row.figure.change, row.figure.changePercent]).toEqual([null, null])
    }
    const said = comparison.summary.map(words)
    expect(said).toContain('F-104: the air changes are of actual air and were as indicated; they are not compared.')
    expect(said.some((sentence) => sentence.includes('fell'))).toBe(false)
  })

  it('draws limits in a history only beside figures of the same air, and keeps the verdict', () => {
    const stated = aCriterion({ ...perHour, basis: 'actual' })
    const { run } = make(1, { ...filters([0.45, 0.45]), criteria: [stated] })
    const told = historyOf({
      subjectId: ROOM_ID,
      kind: 'room',
      label: 'F-104',
      quantity: 'air_changes',
      runs: [{ ...run, ...BY_FACES, certificationId: uuid(1), certificationName: '2026', on: '2026-03-02', completedOrder: 1 }],
    }).points[0]
    expect(run.result.room.basis).toBe('as_indicated')
    expect(told).toMatchObject({ low: null, high: null, verdict: run.result.roomCriteria[0]?.verdict })
    expect(told?.value).not.toBeNull()
  })

  it('compares flows where one of the two was measured as a flow', () => {
    const byHood = (input: RunInput): RunInput => {
      const [terminal] = input.terminals
      if (!terminal) throw new Error('one filter')
      const [location] = input.locations
      const locations = location ? [{ ...location, kind: 'whole_terminal' as const }] : []
      return {
        ...input,
        run: { ...input.run, method: 'room_airflow' },
        terminals: [{ ...terminal, body: { ...terminal.body, face: 'swirl' } }],
        instruments: input.instruments.map((pinned) => ({ ...pinned, body: { ...pinned.body, ...aMeter({ basis: 'as_indicated' }) } })),
        locations,
        values: [{ point: 1, si: 0.35, flags: [], instrumentId: INSTRUMENT_ID, localDate: MEASURED_ON, quantity: 'flow' }],
      }
    }
    const row = compare(make(1, filters([0.45])), make(2, filters([0.45]), [], byHood)).rows.find(({ kind }) => kind === 'filter')
    // Then 0.45 m/s x 0.7 m2 = 0.315 m3/s, now 0.35 by hood.
    expect(row).toMatchObject({ quantity: 'flow', dimension: 'flow' })
    expect(row?.figure.change).toBeCloseTo(0.035, 12)
    expect(row?.breaks.map(words)).toContain('Measured by hood, before by a grid of velocities.')
  })

  it('names what breaks the comparison', () => {
    const otherInstrument = (input: RunInput): RunInput => ({
      ...input,
      instruments: input.instruments.map((pinned) => ({
        ...pinned,
        id: uuid(0xc9),
        body: { ...pinned.body, name: 'Thermal probe B', serialNumber: 'FG-0002' },
      })),
      calibrations: input.calibrations.map((pinned) => ({ ...pinned, instrumentId: uuid(0xc9) })),
      values: input.values.map((value) => ({ ...value, instrumentId: uuid(0xc9) })),
      criteriaSet: input.criteriaSet && { ...input.criteriaSet, revision: 2 },
    })
    const earlier = make(1, { filters: [{ readings: [0.45, 0.45, 0.45] }] }, [[0, 'S-01']])
    const later = make(2, { filters: [{ readings: [0.5, 0.5] }] }, [[0, 'S-02']], otherInstrument)
    const comparison = compare(earlier, later)
    expect(comparison.rows.find((row) => row.kind === 'filter')?.breaks.map(words)).toEqual([
      'Another filter sits here: S-02, before S-01.',
      'Measured with Thermal probe B (FG-0002), before with Thermal probe A (FG-0001).',
      'Measured on 1 × 2 points, before on 1 × 3.',
      'Judged by revision 2 of the criteria, before by revision 1.',
    ])
    expect(comparison.summary.map(words)).toEqual([
      '1 filter was replaced: F-104-01.',
      'Instruments changed: measured with Thermal probe B (FG-0002) for the first time; no longer with Thermal probe A (FG-0001).',
      'The criteria changed between the visits in 1 room.',
    ])
  })

  it("names a zone's own criteria when they changed", () => {
    const zoned = (number: number, revision: number) =>
      make(number, {
        filters: [{ readings: [0.5, 0.5], terminal: { zoneId: ZONE_ID } }],
        zones: [{ id: ZONE_ID, revision: 1, body: aZone() }],
        zoneCriteria: new Map([[ZONE_ID, { id: uuid(0xd7), revision, body: aSet([mean(0.36)]) }]]),
      })
    const breaks = compare(zoned(1, 1), zoned(2, 2)).rows.flatMap((row) => row.breaks.map(words))
    expect(breaks).toEqual(Array(2).fill('A zone of the room was judged by other criteria than before.'))
    expect(compare(zoned(1, 1), zoned(2, 1)).rows.flatMap((row) => row.breaks)).toEqual([])
  })

  it('says nothing of breaks where nothing changed', () => {
    const comparison = compare(make(1, filters([0.5])), make(2, filters([0.5])))
    expect(comparison.rows.flatMap((row) => row.breaks)).toEqual([])
    expect(comparison.summary.map(words)).toEqual(['Nothing failed, and nothing changed that stands out.'])
  })

  it('marks figures that differ from what was signed', () => {
    const earlier = make(1, filters([0.45]))
    const frozen = structuredClone(earlier.run.result)
    const sign = (signed: RunWithEvidence['signed']): Made => ({
      ...earlier,
      visit: { ...earlier.visit, runs: [{ ...earlier.run, signed }] },
    })
    const later = make(2, filters([0.45]))
    expect(compare(sign(frozen), later).rows.some((row) => row.differsFromSigned)).toBe(false)
    const filter = frozen.filters[0]
    if (!filter) throw new Error('no filter')
    filter.meanVelocityMps = 0.46
    const comparison = compare(sign(frozen), later)
    expect(comparison.rows.filter((row) => row.differsFromSigned).map((row) => row.kind)).toEqual(['filter'])
    expect(comparison.summary.map((sentence) => sentence.code)).toContain('summary.calculation_changed')
  })

  it('looks at one room alone when asked', () => {
    const earlier = make(1, filters([0.45]))
    const later = make(2, filters([0.45]))
    const none = compareCertifications({ earlier: earlier.visit, later: later.visit, roomLabels: new Map(), roomId: uuid(0xaf) })
    expect(none.rows).toEqual([])
  })
})

describe('the summary of a comparison', () => {
  it('tells what failed, why, and which room lost its air changes', () => {
    const summary = compare(make(1, filters([0.45, 0.45])), make(2, filters([0.4, 0.31]))).summary.map(words)
    expect(summary[0]).toBe('F-104 fails: F-104-02, Mean (0.31\u00a0m/s, at least 0.36\u00a0m/s).')
    // 0.9 to 0.71 m/s over the same face: -21.1 %; 37.8 to 29.82 per hour
    expect(summary[1]).toBe('F-104: air changes fell by 21.1 %, from 37.8\u00a0/h to 29.8\u00a0/h.')
  })

  it('finds the filters that lose more than their neighbours, and leaves out replaced ones', () => {
    const then = [0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5]
    // most lost 2 to 3 %, two lost 12 and 14 %, one was replaced by a tighter one
    const now = [0.49, 0.488, 0.44, 0.43, 0.49, 0.485, 0.489, 0.4]
    const elements: [number, string][] = then.map((_, index) => [index, `S-0${index}`])
    const after = elements.map(([index, serial]): [number, string] => (index === 7 ? [index, 'S-99'] : [index, serial]))
    const summary = compare(make(1, filters(then), elements), make(2, filters(now), after)).summary
    const loading = summary.find((sentence) => sentence.code === 'summary.loading')
    expect(loading?.params).toMatchObject({ tags: 'F-104-04, F-104-03', count: 2 })
    expect(summary.map((sentence) => sentence.code)).toContain('summary.replaced')
  })

  it('does not cry wolf over even loading', () => {
    const summary = compare(make(1, filters([0.5, 0.5, 0.5, 0.5, 0.5])), make(2, filters([0.48, 0.485, 0.482, 0.479, 0.49]))).summary
    expect(summary.map((sentence) => sentence.code)).toEqual(['summary.nothing'])
  })
})

describe('the history of one subject', () => {
  it('runs oldest first with limits, verdicts and breaks', () => {
    const first = make(1, filters([0.5]), [[0, 'S-01']])
    const second = make(2, filters([0.34]), [[0, 'S-01']])
    const third = make(3, filters([0.52]), [[0, 'S-02']])
    const runs = [third, first, second].map(({ run }) => {
      const number = Number(run.runId.slice(-1))
      return {
        ...run,
        certificationId: uuid(number),
        certificationName: `Visit ${number}`,
        on: `202${number}-03-01`,
        completedOrder: 1,
        ...BY_FACES,
      }
    })
    const history = historyOf({ subjectId: terminalId(0), kind: 'filter', label: 'F-104-01', quantity: 'face_velocity', runs })
    expect(
      history.points.map((point) => [point.on, point.value, point.low, point.high, point.verdict, point.broken.map((one) => one.code)]),
    ).toEqual([
      ['2021-03-01', 0.5, 0.36, null, 'pass', []],
      ['2022-03-01', 0.34, 0.36, null, 'fail', []],
      ['2023-03-01', 0.52, 0.36, null, 'pass', ['break.element']],
    ])
    const room = historyOf({ subjectId: ROOM_ID, kind: 'room', label: 'F-104', quantity: 'air_changes', runs })
    // 0.5 x 0.7 x 60 = 21; 14.28; 21.84
    expect(room.points.map((point) => [point.value, point.low, point.verdict])).toEqual([
      [expect.closeTo(21, 10), 20, 'pass'],
      [expect.closeTo(14.28, 10), 20, 'fail'],
      [expect.closeTo(21.84, 10), 20, 'pass'],
    ])
    expect(History.parse(JSON.parse(JSON.stringify(history)))).toEqual(history)
    expect(history.dimension).toBe('velocity')
    expect(room.dimension).toBe('air_change_rate')
  })
})

describe('a filter whose mean passes while another of its criteria fails', () => {
  it('keeps both verdicts in its history', () => {
    const spread = aCriterion({
      key: 'spread',
      quantity: 'velocity_spread',
      scope: 'filter',
      form: { kind: 'at_most', limit: { from: 'value', value: entered(15, '%') } },
    })
    // 0.40 and 0.60: mean 0.50, standard deviation 0.1414, 28.3 % of the mean.
    const { run } = make(1, { filters: [{ readings: [0.4, 0.6] }], criteria: [mean(0.36), spread] })
    const runs = [{ ...run, certificationId: uuid(1), certificationName: 'Visit 1', on: '2021-03-01', completedOrder: 1, ...BY_FACES }]
    const history = historyOf({ subjectId: terminalId(0), kind: 'filter', label: 'F-104-01', quantity: 'face_velocity', runs })
    expect(history.points).toMatchObject([{ value: 0.5, verdict: 'pass', overall: 'fail' }])
  })
})

describe("last year under this year's criteria", () => {
  it('a room without zones is its own zone there, too, where a criterion on zones applies', () => {
    const ofZone = aCriterion({
      key: 'zone_mean',
      quantity: 'face_velocity',
      scope: 'zone',
      form: { kind: 'at_least', limit: { from: 'value', value: entered(0.45, 'm/s') } },
    })
    const lastYear = make(1, filters([0.4]))
    expect(lastYear.run.result.zones).toEqual([])
    const under = recomputeUnder(lastYear.input, criteriaOf(make(2, { ...filters([0.5]), criteria: [ofZone] }).input))
    expect(under.zones).toMatchObject([{ zoneId: ROOM_ID, verdict: 'fail', criteria: [{ key: 'zone_mean' }] }])
  })

  it('would it have passed?', () => {
    const lastYear = make(1, { ...filters([0.4]), room: { requiredAirChangesPerHour: 10 } })
    const thisYear = make(2, {
      ...filters([0.45]),
      criteria: [mean(0.41)],
      room: { requiredAirChangesPerHour: 30, overrides: [] },
    })
    expect(lastYear.run.result.filters[0]?.verdict).toBe('pass')
    const under = recomputeUnder(lastYear.input, criteriaOf(thisYear.input))
    expect(under.filters[0]).toMatchObject({ meanVelocityMps: 0.4, verdict: 'fail' })
    expect(under.runId).toBe(lastYear.input.runId)
    // what was measured and stored stays untouched
    expect(lastYear.input.room.body.requiredAirChangesPerHour).toBe(10)
  })

  it('brings overrides and the required minimum along', () => {
    const least = aCriterion({
      key: 'ach',
      quantity: 'air_changes',
      scope: 'room',
      form: { kind: 'at_least', limit: { from: 'room_required_minimum' } },
    })
    const lastYear = make(1, { ...filters([0.5]), criteria: [least], room: { requiredAirChangesPerHour: 20 } })
    const thisYear = make(2, { ...filters([0.5]), criteria: [least], room: { requiredAirChangesPerHour: 30 } })
    expect(lastYear.run.result.verdict).toBe('pass')
    expect(recomputeUnder(lastYear.input, criteriaOf(thisYear.input)).verdict).toBe('fail')
  })
})

describe('a room measured by two methods in one visit', () => {
  const AIR = { method: 'room_airflow', state: 'complete' } as const
  /** Faces at 0.50 m/s and the air of the room at 0.40 m/s, in one visit. */
  function both(number: number, air: Partial<RunInVisit> = {}): Made & { other: RunWithEvidence } {
    const faces = make(number, filters([0.5]))
    const whole = make(number + 100, filters([0.4]))
    const inVisit = (made: Made, rest: Partial<RunInVisit>): RunInVisit => ({
      runId: made.run.runId,
      roomId: ROOM_ID,
      zoneId: null,
      ...BY_FACES,
      plane: 'filter_face',
      phase: 'as_found',
      completedOrder: 2,
      result: made.run.result,
      beyondTheZone: { roomFilterIds: [], roomCriteria: 0 },
      pointsPlanned: 2,
      pointsMeasured: 2,
      samplesLacking: 0,
      signatures: [],
      ...rest,
    })
    const runs = [inVisit(whole, { ...AIR, completedOrder: 1, ...air }), inVisit(faces, {})]
    const state = certificationState({ certificationId: uuid(number), roomIds: [ROOM_ID], runs })
    return { ...whole, other: faces.run, visit: { certificationId: uuid(number), state, runs: [whole.run, faces.run] } }
  }

  it('is told by the complete run over every terminal: figures of the room and of its filters alike', () => {
    const now = both(2)
    expect(now.visit.state.rooms[0]).toMatchObject({
      airChangesPerHour: now.run.result.room.airChangesPerHour,
      supplyFlowM3ps: now.run.result.room.supplyFlowM3ps,
      figuresFrom: { runId: now.run.runId, method: 'room_airflow', alone: false },
      headline: now.run.result.headline,
    })
    // Both runs count in the roll-up: two filters held against one criterion and two rooms against another.
    const [room] = now.visit.state.rooms
    expect(Object.values(room?.counts ?? {}).reduce((sum, count) => sum + count, 0)).toBe(
      [now.run, now.other].flatMap(({ result }) => Object.values(result.counts)).reduce((sum, count) => sum + count, 0),
    )
    const { rows } = compare(make(1, filters([0.5])), now)
    expect(rows.find(({ kind }) => kind === 'room')?.figure.later).toBe(now.run.result.room.airChangesPerHour)
    expect(rows.find(({ kind }) => kind === 'filter')?.figure.later).toBeCloseTo(0.4, 12)
  })

  it('is told by the faces of its filters while that run is open', () => {
    const now = both(2, { state: 'open', completedOrder: null })
    expect(now.visit.state.rooms[0]?.figuresFrom).toMatchObject({ runId: now.other.runId, method: 'face_velocity_grid' })
    const { rows } = compare(make(1, filters([0.5])), now)
    expect(rows.find(({ kind }) => kind === 'filter')?.figure.later).toBeCloseTo(0.5, 12)
  })

  it('says which method a headline is by when another one decides', () => {
    const passing = { ...both(3).run.result, verdict: 'pass' as const }
    const failing = { ...both(3).other.result, verdict: 'fail' as const }
    const sketch = both(3)
    const state = certificationState({
      certificationId: uuid(3),
      roomIds: [ROOM_ID],
      runs: [
        { ...BY_FACES, result: failing, runId: sketch.other.runId },
        { ...AIR, result: passing, runId: sketch.run.runId },
      ].map((run) => ({
        ...run,
        roomId: ROOM_ID,
        zoneId: null,
        plane: 'filter_face' as const,
        phase: 'as_found' as const,
        completedOrder: 1,
        beyondTheZone: { roomFilterIds: [], roomCriteria: 0 },
        pointsPlanned: 2,
        pointsMeasured: 2,
        samplesLacking: 0,
        signatures: [],
      })),
    })
    const [room] = state.rooms
    expect(room?.verdict).toBe('fail')
    expect(room?.headline).toMatchObject({ code: 'headline.by_method', params: { method: 'face_velocity_grid' } })
    expect(room && words(room.headline)).toContain('by the face velocities of its filters')
  })

  it('has one point for the visit in its history, and so have its filters', () => {
    const { run, other } = both(2)
    const visit = { certificationId: uuid(2), certificationName: 'Visit 2', on: '2022-03-01', completedOrder: 1 }
    const runs = [
      { ...run, ...visit, ...AIR },
      { ...other, ...visit, ...BY_FACES },
    ]
    const room = historyOf({ subjectId: ROOM_ID, kind: 'room', label: 'F-104', quantity: 'flow', runs })
    expect(room.points.map(({ value }) => value)).toEqual([run.result.room.supplyFlowM3ps])
    const filter = historyOf({ subjectId: terminalId(0), kind: 'filter', label: '', quantity: 'flow', runs })
    expect(filter.points.map(({ runId }) => runId)).toEqual([run.runId])
  })
})
