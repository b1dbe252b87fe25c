import { describe, expect, it } from 'vitest'
import { certificationState } from '#core/history/certification.ts'
import type { RunInVisit } from '#core/history/current-runs.ts'
import { say } from '#core/messages/say.ts'
import { computeFaceVelocityGrid } from '#core/methods/airflow/face-velocity-grid.ts'
import { createFormatter } from '#core/units/format.ts'
import { aCriterion, entered, faceRun, ROOM_ID, uuid, ZONE_ID } from './face-run.ts'

const formatter = createFormatter({ velocity: 'm/s', flow: 'm3/h', length: 'm', pressure: 'Pa', temperature: 'degC' }, 'en', 'UTC')
const mean = aCriterion({
  title: 'Mean',
  quantity: 'face_velocity',
  scope: 'filter',
  form: { kind: 'at_least', limit: { from: 'value', value: entered(0.36, 'm/s') } },
})

const WHOLE = { roomFilterIds: [], roomCriteria: 0 }

type Sketch = Partial<Pick<RunInVisit, 'phase' | 'state' | 'completedOrder' | 'roomId' | 'zoneId' | 'beyondTheZone'>> & {
  readonly readings: (number | null)[]
  readonly method?: RunInVisit['method']
}

function visit(sketches: Sketch[], roomIds = [ROOM_ID]) {
  const runs = sketches.map(
    (
      {
        readings,
        phase = 'as_found',
        state = 'complete',
        completedOrder = null,
        roomId = ROOM_ID,
        zoneId = null,
        method = 'face_velocity_grid',
        beyondTheZone = WHOLE,
      },
      index,
    ): RunInVisit => {
      const input = faceRun({ filters: [{ readings }], criteria: [mean], run: { phase, state } })
      const runId = uuid(0x500 + index)
      const result = { ...computeFaceVelocityGrid(input), runId, roomId, zoneId }
      const measured = readings.filter((reading) => reading !== null).length
      return {
        runId,
        roomId,
        zoneId,
        method,
        plane: 'filter_face',
        phase,
        state,
        completedOrder,
        result,
        beyondTheZone,
        pointsPlanned: readings.length,
        pointsMeasured: measured,
        samplesLacking: 0,
        signatures: [],
      }
    },
  )
  return certificationState({ certificationId: uuid(1), roomIds, runs })
}

const currentOf = (state: ReturnType<typeof visit>) => state.rooms[0]?.runs.filter((run) => run.current).map((run) => run.runId)
const PASSES = [0.45, 0.45]
const FAILS = [0.3, 0.3]

describe('the run that counts', () => {
  it('is the latest complete as-left run, else the latest complete as-found run', () => {
    expect(
      currentOf(
        visit([
          { readings: PASSES, completedOrder: 1 },
          { readings: FAILS, completedOrder: 2 },
        ]),
      ),
    ).toEqual([uuid(0x501)])
    const left = visit([
      { readings: FAILS, completedOrder: 1 },
      { readings: PASSES, phase: 'as_left', completedOrder: 3 },
      { readings: FAILS, phase: 'as_left', completedOrder: 2 },
      { readings: FAILS, completedOrder: 4 },
    ])
    expect(currentOf(left)).toEqual([uuid(0x501)])
    expect(left.verdict).toBe('pass')
  })

  it('is one of each method: the air flow of a room does not replace what was found at its filter faces', () => {
    const both = visit([
      { readings: FAILS, completedOrder: 1 },
      { readings: PASSES, completedOrder: 2, method: 'room_airflow' },
    ])
    expect(currentOf(both)).toEqual([uuid(0x500), uuid(0x501)])
    expect(both.verdict).toBe('fail')
    expect(both.rooms[0]?.airChangesPerHour).toBeCloseTo((3600 * 0.45 * 0.7) / 60, 9)
  })

  it('is not an open one while another is complete', () => {
    const state = visit([
      { readings: FAILS, completedOrder: 1 },
      { readings: PASSES, phase: 'as_left', state: 'open' },
    ])
    expect(currentOf(state)).toEqual([uuid(0x500)])
    expect(state.verdict).toBe('fail')
  })

  it('is the open one while none is complete, and the headline says so', () => {
    const unfinished = visit([{ readings: [0.45, null], state: 'open' }])
    expect([unfinished.verdict, unfinished.rooms[0]?.headline.code]).toEqual(['not_tested', 'headline.open'])
    const full = visit([{ readings: PASSES, state: 'open' }])
    const headline = full.rooms[0]?.headline
    expect(full.verdict).toBe('pass')
    expect(say('en', formatter, headline?.code ?? '', headline?.params ?? {})).toBe('Still open. Pass: 1 criterion is met on 1 filter.')
  })

  it('is found for each zone on its own, and the worst of them decides', () => {
    const state = visit([
      { readings: PASSES, completedOrder: 1 },
      { readings: FAILS, completedOrder: 2, zoneId: ZONE_ID },
    ])
    expect(currentOf(state)).toEqual([uuid(0x500), uuid(0x501)])
    expect(state.verdict).toBe('fail')
    expect(state.rooms[0]?.counts).toMatchObject({ pass: 1, fail: 1 })
  })
})

describe('the trace of what was found', () => {
  it('stays when the room passes as left', () => {
    const state = visit([
      { readings: FAILS, completedOrder: 1 },
      { readings: PASSES, phase: 'as_left', completedOrder: 2 },
    ])
    const room = state.rooms[0]
    expect(room).toMatchObject({ verdict: 'pass', failedAsFound: true })
    expect(say('en', formatter, room?.headline.code ?? '', room?.headline.params ?? {})).toContain('it failed as found')
    expect(room?.counts).toMatchObject({ pass: 1, fail: 0 })
  })

  it('is not claimed where nothing failed, or where the failure still stands', () => {
    expect(
      visit([
        { readings: PASSES, completedOrder: 1 },
        { readings: PASSES, phase: 'as_left', completedOrder: 2 },
      ]).rooms[0]?.failedAsFound,
    ).toBe(false)
    expect(visit([{ readings: FAILS, completedOrder: 1 }]).rooms[0]).toMatchObject({ verdict: 'fail', failedAsFound: false })
  })
})

describe('rooms of a visit', () => {
  it('without a run read not tested and keep the visit from passing', () => {
    const state = visit([{ readings: PASSES, completedOrder: 1 }], [ROOM_ID, uuid(0xa1)])
    expect(state.rooms.map((room) => room.verdict)).toEqual(['pass', 'not_tested'])
    expect(state.verdict).toBe('not_tested')
    expect(state.counts).toMatchObject({ pass: 1, not_tested: 1 })
    expect(state.rooms[1]?.headline.code).toBe('headline.no_run')
  })

  it('count their filters as measured when every point is', () => {
    const state = visit([{ readings: [0.45, null], state: 'open' }])
    expect(state.rooms[0]).toMatchObject({ filtersMeasured: 0, filtersPlanned: 1 })
    expect(visit([{ readings: PASSES }]).rooms[0]).toMatchObject({ filtersMeasured: 1, filtersPlanned: 1 })
  })

  it('do not pass by a zone alone: what lies outside it is not tested', () => {
    const zone = (readings: number[], roomFilterIds: string[], roomCriteria: number) =>
      visit([{ readings, zoneId: ZONE_ID, beyondTheZone: { roomFilterIds, roomCriteria } }])
    // uuid(0x100) is the filter that the run measured.
    const partly = zone(PASSES, [uuid(0x100), uuid(0x777)], 2)
    expect(partly).toMatchObject({ verdict: 'not_tested', counts: { pass: 1, not_tested: 3 } })
    const [room] = partly.rooms
    expect(room).toMatchObject({ filtersMeasured: 1, filtersPlanned: 2 })
    expect(say('en', formatter, room?.headline.code ?? '', room?.headline.params ?? {})).toBe(
      'Not tested: only zones of the room were measured, which leaves 1 filter outside them and 2 criteria on the room open.',
    )
    expect(zone(FAILS, [uuid(0x777)], 0)).toMatchObject({ verdict: 'fail', rooms: [{ headline: { code: 'headline.fail' } }] })
    // Zones that hold every filter of a room whose criteria are all about zones and filters do.
    expect(zone(PASSES, [uuid(0x100)], 0).verdict).toBe('pass')
    const both = visit([
      { readings: PASSES, zoneId: ZONE_ID, beyondTheZone: { roomFilterIds: [uuid(0x777)], roomCriteria: 2 } },
      { readings: PASSES },
    ])
    expect(both.verdict).toBe('pass')
  })

  it('a visit without rooms is not tested', () => {
    expect(visit([], []).verdict).toBe('not_tested')
  })
})
