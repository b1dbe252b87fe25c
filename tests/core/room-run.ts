import { methodOf } from '#core/methods/catalogue.ts'
import type { Pinned, RunInput } from '#core/methods/method.ts'
import type { EntityBody } from '#core/model/entities.ts'
import { LATER_FIELDS } from '#core/model/later-fields.ts'
import type { Quantity } from '#core/model/values.ts'
import { aTerminal, entered, faceRun, type GivenRun, INSTRUMENT_ID, MEASURED_ON, terminalId } from './face-run.ts'

type Instrument = EntityBody<'instrument'>

export function sensing(quantity: Quantity, low: number, high: number): Instrument['senses'][number] {
  const unit = quantity === 'velocity' ? 'm/s' : quantity === 'flow' ? 'm3/s' : 'Pa'
  return { quantity, low: entered(low, unit), high: entered(high, unit), resolution: entered(0.001, unit), accuracy: null }
}

/** An instrument that senses velocity, flow and pressures over wide ranges, all of actual air unless said otherwise. */
export function aMeter(changes: Partial<Instrument> = {}): Partial<Instrument> {
  return {
    senses: [
      sensing('velocity', 0.01, 50),
      sensing('flow', 0.001, 5),
      sensing('velocity_pressure', 0, 2000),
      sensing('pressure_difference', -500, 2000),
    ],
    basis: 'actual',
    ...changes,
  }
}

export function aDuct(changes: Partial<NonNullable<EntityBody<'terminal'>['duct']>> = {}): NonNullable<EntityBody<'terminal'>['duct']> {
  return {
    section: { shape: 'rectangle', width: entered(0.5, 'm'), height: entered(0.4, 'm') },
    rule: 'equal_area',
    lines: 2,
    pointsPerLine: 2,
    measures: 'velocity',
    pitotCoefficient: 1,
    direction: 'supply',
    countsInRoom: false,
    straightBefore: null,
    straightAfter: null,
    cyclonic: null,
    ...changes,
  }
}

/** Temperature in degC, absolute pressure in Pa, humidity in percent. */
export function someAir(
  temperatureC: number | null,
  pressurePa: number | null,
  humidityPercent: number | null,
): EntityBody<'run'>['conditions'] {
  return {
    temperature: temperatureC === null ? null : entered(temperatureC, 'degC'),
    pressure: pressurePa === null ? null : entered(pressurePa, 'Pa'),
    relativeHumidity: humidityPercent === null ? null : entered(humidityPercent, '%'),
  }
}

export type GivenTerminal = {
  readonly terminal: Partial<EntityBody<'terminal'>>
  /** one for each point in path order, samples in a list; null leaves the point out */
  readonly readings: readonly (number | null | readonly number[])[]
}

/** A run of the air flow of a room: points laid out by the method itself, in the order of the tags. */
export function roomRun(terminals: readonly GivenTerminal[], given: Omit<GivenRun, 'filters' | 'others'> = {}): RunInput {
  const base = faceRun({ filters: [], instrument: aMeter(), ...given, run: { method: 'room_airflow', ...given.run } })
  const method = methodOf('room_airflow')
  const pinned = terminals.map(
    ({ terminal }, index): Pinned<'terminal'> => ({
      id: terminalId(index),
      revision: 1,
      body: aTerminal({ tag: `T-${String(index + 1).padStart(2, '0')}`, ...LATER_FIELDS.terminal, ...terminal }),
    }),
  )
  const locations = method.layOut({ terminals: pinned, facingDegrees: 0, gridFor: new Map() })
  const values = pinned.flatMap(({ id, body }, index) =>
    locations
      .filter((location) => location.terminalId === id)
      .flatMap(({ number }, place) => {
        const reading = terminals[index]?.readings[place] ?? null
        const samples = reading === null ? [] : typeof reading === 'number' ? [reading] : reading
        return samples.map((si) => ({
          point: number,
          si,
          flags: [],
          instrumentId: INSTRUMENT_ID,
          localDate: MEASURED_ON,
          quantity: method.recordsAt(body),
        }))
      }),
  )
  return { ...base, terminals: pinned, locations, values }
}
