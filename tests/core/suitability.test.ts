import { describe, expect, it } from 'vitest'
import { misfitsOf } from '#core/methods/airflow/suitability.ts'
import { methodOf } from '#core/methods/catalogue.ts'
import type { EntityBody } from '#core/model/entities.ts'
import { anInstrument, aRoom, aRun, aTerminal, entered, INSTRUMENT_ID, terminalId } from './face-run.ts'
import { aDuct, aMeter, sensing } from './room-run.ts'

/* House rule A2 (common practice): which instrument, time and place suit. */

type Given = {
  readonly instrument?: Partial<EntityBody<'instrument'>> | null
  readonly terminal?: Partial<EntityBody<'terminal'>>
  readonly room?: Partial<EntityBody<'room'>>
  readonly run?: Partial<EntityBody<'run'>>
}

function misfits({ instrument = {}, terminal = {}, room, run }: Given) {
  return misfitsOf({
    run: aRun({ method: 'room_airflow', ...run }),
    room: { id: 'r', revision: 1, body: aRoom(room) },
    zones: [],
    terminals: [{ id: terminalId(0), revision: 1, body: aTerminal({ tag: 'F-1', ...terminal }) }],
    instruments: instrument === null ? [] : [{ id: INSTRUMENT_ID, body: anInstrument({ ...aMeter(), ...instrument }) }],
    wayAt: methodOf('room_airflow').wayAt,
  })
}
const stopping = (given: Given) => misfits(given).flatMap(({ code, weight }) => (weight === 'stops' ? [code] : []))
const asked = (given: Given) => misfits(given).flatMap(({ code, weight }) => (weight === 'asks' ? [code] : []))
const AT_HEIGHT = { plane: { kind: 'working_height', heightM: 0.9 } } as const

describe('sensing', () => {
  it('is directional at a filter face, and asked to be held to its mark with both sensors in the stream', () => {
    expect(stopping({ instrument: { sensing: 'directional' } })).toEqual([])
    expect(asked({ instrument: { sensing: 'directional' } })).toEqual(['misfit.hold_to_mark', 'misfit.sensors_in_stream'])
    expect(stopping({ instrument: { sensing: 'omnidirectional' } })).toEqual(['misfit.omnidirectional_in_one_way_air'])
  })

  it('is omnidirectional in turbulent air at working height, directional in unidirectional air there', () => {
    const run = { ...AT_HEIGHT, averagingTimeS: 15 }
    expect(stopping({ run, instrument: { sensing: 'directional' } })).toEqual(['misfit.directional_in_turbulent_air'])
    expect(stopping({ run, instrument: { sensing: 'omnidirectional' } })).toEqual([])
    const room = { airflowType: 'unidirectional' as const }
    expect(stopping({ run, room, instrument: { sensing: 'directional' } })).toEqual([])
    expect(stopping({ run, room, instrument: { sensing: 'omnidirectional' } })).toEqual(['misfit.omnidirectional_in_one_way_air'])
  })

  it('is nothing to ask about where no face is measured by velocities', () => {
    expect(misfits({ terminal: { face: 'swirl' }, instrument: { sensing: 'omnidirectional' } })).toEqual([])
  })
})

it('turbulent air asks for 15 s of averaging', () => {
  const given = (averagingTimeS: number) => stopping({ run: { ...AT_HEIGHT, averagingTimeS }, instrument: { sensing: 'omnidirectional' } })
  expect(given(14.9)).toEqual(['misfit.averaging_too_short'])
  expect(given(15)).toEqual([])
})

describe('range and quantity', () => {
  const velocityOnly = { senses: [sensing('velocity', 0.5, 30)] }

  it('a hood is missed where no instrument measures flow, and nothing is said before an instrument is chosen', () => {
    expect(stopping({ terminal: { face: 'swirl' }, instrument: velocityOnly })).toEqual(['misfit.nothing_senses'])
    expect(stopping({ terminal: { face: 'swirl' }, instrument: null })).toEqual([])
  })

  it('the design lies within the range of one instrument', () => {
    const instrument = { ...velocityOnly, sensing: 'directional' as const }
    expect(stopping({ instrument, terminal: { designVelocity: entered(0.45, 'm/s') } })).toEqual(['misfit.design_out_of_range'])
    expect(stopping({ instrument, terminal: { designVelocity: entered(0.5, 'm/s') } })).toEqual([])
    const hood = { senses: [sensing('flow', 0.01, 0.5)] }
    expect(stopping({ instrument: hood, terminal: { face: 'swirl', designFlow: entered(0.6, 'm3/s') } })).toEqual([
      'misfit.hood_out_of_range',
    ])
  })
})

describe('place', () => {
  it('a swirl face is no place for a grid', () => {
    const instrument = { sensing: 'directional' as const }
    expect(stopping({ instrument, terminal: { face: 'swirl', measuredBy: 'face_grid' } })).toEqual(['misfit.grid_on_swirl'])
    expect(stopping({ instrument, terminal: { face: 'screen' } })).toEqual([])
  })

  it('a duct has its remarks one by one, and a pressure instrument is asked about its zero', () => {
    const duct = aDuct({ straightBefore: entered(0.5, 'm'), straightAfter: entered(2, 'm'), cyclonic: true, measures: 'velocity_pressure' })
    const terminal = { kind: 'duct_section' as const, mounting: 'duct' as const, duct }
    // Equivalent diameter 2 x 0.5 x 0.4 / 0.9 = 0.444 m: 1.1 behind (2 needed), 4.5 ahead (2 are ideal).
    expect(stopping({ terminal })).toEqual(['misfit.traverse_place.too_near_after', 'misfit.traverse_place.cyclonic'])
    expect(asked({ terminal })).toEqual(['misfit.zero_first'])
  })

  it('a closed terminal is no place at all', () => {
    expect(misfits({ terminal: { face: 'swirl', measuredBy: 'face_grid', closed: { reason: 'spare' } } })).toEqual([])
  })
})

it('what was accepted is told with its reason, for that terminal and code alone', () => {
  const accepted = {
    code: 'misfit.grid_on_swirl',
    terminalId: terminalId(0),
    instrumentId: null,
    reason: 'no hood fits',
    personId: terminalId(9),
    at: '2026-03-02T08:00:00.000Z',
  }
  const given = { instrument: { sensing: 'directional' as const }, terminal: { face: 'swirl' as const, measuredBy: 'face_grid' as const } }
  const stops = (acceptedMisfits: (typeof accepted)[]) =>
    misfits({ ...given, run: { acceptedMisfits } }).find(({ weight }) => weight === 'stops')
  expect(stops([accepted])?.acceptedBy).toEqual(accepted)
  expect(stops([{ ...accepted, terminalId: terminalId(1) }])?.acceptedBy).toBeNull()
  expect(stops([{ ...accepted, code: 'misfit.nothing_senses' }])?.acceptedBy).toBeNull()
})
