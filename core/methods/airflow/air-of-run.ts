import { type AirDensity, type AirState, dryAirDensityKgpm3, moistAirDensity } from '#core/air/moist-air-density.ts'
import { checkBarometricPressure, stationPressure } from '#core/air/standard-atmosphere.ts'
import { message } from '#core/messages/say.ts'
import type { EntityBody } from '#core/model/entities.ts'
import type { AirOfRun, Sentence } from '#core/model/results.ts'
import type { RunInput } from '../method.ts'

type Conditions = EntityBody<'run'>['conditions']

/** The air of a run, ready to convert with. Densities in kg/m3; null where the conditions were not recorded. */
export type RunAir = {
  /** at the filter, duct or plane */
  readonly actualKgpm3: number | null
  /** at the instrument; the same where nothing else was recorded */
  readonly atInstrumentKgpm3: number | null
  /** the state behind the actual density, for its uncertainty */
  readonly state: AirState | null
  readonly atInstrumentState: AirState | null
  readonly pressureFrom: AirOfRun['pressureFrom']
  /** where the pressure of the air at the instrument comes from */
  readonly atInstrumentPressureFrom: AirOfRun['pressureFrom']
  readonly remarks: readonly Sentence[]
}

/** A state of air whose density is known, and where its pressure comes from. */
export type KnownAir = { readonly state: AirState; readonly pressureFrom: AirOfRun['pressureFrom'] }

export function airAtFilter({ state, pressureFrom }: RunAir): KnownAir | null {
  return state && { state, pressureFrom }
}

export function airAtInstrument({ atInstrumentState, atInstrumentPressureFrom }: RunAir): KnownAir | null {
  return atInstrumentState && { state: atInstrumentState, pressureFrom: atInstrumentPressureFrom }
}

/** Whether the air at the instrument was recorded separately from the air at the filter: then their densities have errors of their own. */
export function hasTwoDensities({ state, atInstrumentState }: RunAir): boolean {
  return state !== null && atInstrumentState !== null && state !== atInstrumentState
}

/** Standard air where an instrument states no standard condition: dry, 20 degC, 101 325 Pa (common practice), kg/m3. */
export const REFERENCE_DENSITY_KGPM3 = dryAirDensityKgpm3(20, 101_325) ?? 1.2

/** Dry-air density of the standard condition that an instrument states, kg/m3; null where it states none. */
export function standardDensityKgpm3(instrument: Pick<EntityBody<'instrument'>, 'standardCondition'> | null): number | null {
  const condition = instrument?.standardCondition
  return condition ? dryAirDensityKgpm3(condition.temperature.si, condition.pressure.si) : null
}

/** The state that conditions describe, its pressure measured or of the standard atmosphere at this altitude in m; null where it is not known. */
export function stateOf(conditions: Conditions, altitudeM: number | null): { state: AirState; from: 'measured' | 'altitude' } | null {
  const { temperature, relativeHumidity, pressure } = conditions
  const station = stationPressure(pressure?.si ?? null, altitudeM)
  if (!temperature || !station) return null
  return {
    state: { temperatureC: temperature.si, pressurePa: station.pressurePa, relativeHumidityPercent: relativeHumidity?.si ?? null },
    from: station.from,
  }
}

/** What was assumed for a density, and whether its formula is stated for such air. */
export function densityRemarks(density: AirDensity): Sentence[] {
  const remarks: Sentence[] = []
  if (density.flags.includes('humidity_assumed'))
    remarks.push(message('air.humidity_assumed', { percent: density.relativeHumidityPercent }))
  if (density.flags.includes('outside_stated_range')) remarks.push(message('air.outside_stated_range', {}))
  return remarks
}

/** What is odd about a measured pressure in Pa at a site of this altitude in m: nothing where the altitude is not known. */
export function pressureRemarks(pressurePa: number, altitudeM: number | null): Sentence[] {
  const check = altitudeM === null ? null : checkBarometricPressure(pressurePa, altitudeM)
  if (!check?.questioned) return []
  const params = { pressurePa, expectedPa: check.expectedPa }
  return [check.fitsSeaLevel ? message('air.pressure_of_sea_level', params) : message('air.pressure_questioned', params)]
}

function remarksOn(density: AirDensity, state: AirState, from: 'measured' | 'altitude', altitudeM: number | null): Sentence[] {
  const remarks = densityRemarks(density)
  if (from === 'measured') return [...remarks, ...pressureRemarks(state.pressurePa, altitudeM)]
  return altitudeM === null ? remarks : [...remarks, message('air.pressure_from_altitude', { altitudeM, pressurePa: state.pressurePa })]
}

/**
 * The air of a run from its recorded conditions: temperature in degC and absolute station pressure in Pa give a density, kg/m3, by
 * CIPM-2007; a pressure that was not measured is the standard atmosphere's at the facility's altitude in m, humidity that was not measured
 * 50 %. What is not recorded of the air at the instrument is taken from the air at the filter. Densities are null without a temperature, or without
 * both pressure and altitude. Remarks say what was assumed and what is questioned.
 */
export function airOf(input: Pick<RunInput, 'run' | 'facilityAltitudeM'>): RunAir {
  const { conditions, instrumentConditions } = input.run
  const altitudeM = input.facilityAltitudeM
  const filter = stateOf(conditions, altitudeM)
  const own = instrumentConditions && {
    temperature: instrumentConditions.temperature ?? conditions.temperature,
    relativeHumidity: instrumentConditions.relativeHumidity ?? conditions.relativeHumidity,
    pressure: instrumentConditions.pressure ?? conditions.pressure,
  }
  const instrument = own ? stateOf(own, altitudeM) : filter
  const actual = filter && moistAirDensity(filter.state)
  const atInstrument = instrument && (instrument === filter ? actual : moistAirDensity(instrument.state))
  return {
    actualKgpm3: actual?.densityKgpm3 ?? null,
    atInstrumentKgpm3: atInstrument?.densityKgpm3 ?? null,
    state: actual && filter ? filter.state : null,
    atInstrumentState: atInstrument && instrument ? instrument.state : null,
    pressureFrom: actual && filter ? filter.from : null,
    atInstrumentPressureFrom: atInstrument && instrument ? instrument.from : null,
    remarks: actual && filter ? remarksOn(actual, filter.state, filter.from, altitudeM) : [],
  }
}

/**
 * The standard density that all instruments share that readings of the air were taken with, kg/m3; null where one states none or two differ. What else
 * the run has, such as a gauge at its doors, tells no standard flow.
 */
export function sharedStandardDensityKgpm3({ instruments, values }: Pick<RunInput, 'instruments' | 'values'>): number | null {
  const used = new Set<string>()
  for (const value of values) used.add(value.instrumentId)
  const reading = instruments.filter(({ id }) => used.has(id))
  const densities = new Set((reading.length > 0 ? reading : instruments).map(({ body }) => standardDensityKgpm3(body)))
  const [only] = densities
  return densities.size === 1 ? (only ?? null) : null
}

/** What the result shows of the air; null for a run without conditions, whose instruments state no standard condition either. */
export function airResult(air: RunAir, input: Pick<RunInput, 'instruments' | 'values'>): AirOfRun | null {
  const standardKgpm3 = sharedStandardDensityKgpm3(input)
  if (air.actualKgpm3 === null && standardKgpm3 === null) return null
  const { actualKgpm3, atInstrumentKgpm3, pressureFrom, remarks } = air
  return { actualKgpm3, atInstrumentKgpm3, standardKgpm3, pressureFrom, remarks: [...remarks] }
}
