import { type AirFlag, moistAirDensity } from '#core/air/moist-air-density.ts'
import { checkBarometricPressure, stationPressure } from '#core/air/standard-atmosphere.ts'
import type { Conditions } from '#core/model/entities.ts'
import type { Sentence } from '#core/model/results.ts'

/** The air at one place as the page shows it: its density, or what is missing for one, and what is odd. */
export type AirOfPlace = {
  readonly densityKgpm3: number | null
  readonly pressurePa: number | null
  readonly pressureFrom: 'measured' | 'altitude' | null
  readonly missing: 'temperature' | 'pressure' | null
  readonly remarks: readonly Sentence[]
}

export const NO_CONDITIONS: Conditions = { temperature: null, relativeHumidity: null, pressure: null }

const REMARK: Readonly<Record<AirFlag, string>> = {
  humidity_assumed: 'readings.air.humidity_assumed',
  outside_stated_range: 'readings.air.outside_range',
}

/** Density of the air of these conditions at a site of this altitude (m; null: not recorded), by the function that the calculation uses. */
export function airOfPlace(conditions: Conditions, altitudeM: number | null): AirOfPlace {
  const station = stationPressure(conditions.pressure?.si ?? null, altitudeM)
  const pressureFrom = station?.from ?? null
  const remarks: Sentence[] = []
  const check = conditions.pressure && altitudeM !== null ? checkBarometricPressure(conditions.pressure.si, altitudeM) : null
  if (check?.questioned) {
    const params = { altitudeM, expectedPa: check.expectedPa, percent: check.differencePercent, seaLevel: check.fitsSeaLevel }
    remarks.push({ code: 'readings.air.pressure_questioned', params })
  }
  const none = { densityKgpm3: null, pressurePa: station?.pressurePa ?? null, pressureFrom, remarks }
  if (!conditions.temperature) return { ...none, missing: 'temperature' }
  if (!station) return { ...none, missing: 'pressure' }
  const density = moistAirDensity({
    temperatureC: conditions.temperature.si,
    pressurePa: station.pressurePa,
    relativeHumidityPercent: conditions.relativeHumidity?.si ?? null,
  })
  for (const flag of density?.flags ?? []) remarks.push({ code: REMARK[flag], params: {} })
  return { densityKgpm3: density?.densityKgpm3 ?? null, pressurePa: station.pressurePa, pressureFrom, missing: null, remarks }
}
