import { moistAirDensity } from '#core/air/moist-air-density.ts'
import { stationPressure } from '#core/air/standard-atmosphere.ts'
import { densityRemarks, pressureRemarks, stateOf } from '#core/methods/airflow/air-of-run.ts'
import type { Sentence } from '#core/model/results.ts'
import type { Conditions } from '#core/model/runs.ts'

/** The air at one place as the page shows it: its density, or what is missing for one, and what is odd. */
export type AirOfPlace = {
  readonly densityKgpm3: number | null
  readonly pressurePa: number | null
  readonly pressureFrom: 'measured' | 'altitude' | null
  readonly missing: 'temperature' | 'pressure' | null
  readonly remarks: readonly Sentence[]
}

export const NO_CONDITIONS: Conditions = { temperature: null, relativeHumidity: null, pressure: null }

/** Density of the air of these conditions at a site of this altitude (m; null: not recorded), by the functions that the calculation uses. */
export function airOfPlace(conditions: Conditions, altitudeM: number | null): AirOfPlace {
  const station = stationPressure(conditions.pressure?.si ?? null, altitudeM)
  const found = stateOf(conditions, altitudeM)
  const density = found && moistAirDensity(found.state)
  const odd = conditions.pressure ? pressureRemarks(conditions.pressure.si, altitudeM) : []
  return {
    densityKgpm3: density?.densityKgpm3 ?? null,
    pressurePa: station?.pressurePa ?? null,
    pressureFrom: station?.from ?? null,
    missing: found ? null : conditions.temperature ? 'pressure' : 'temperature',
    remarks: density ? [...densityRemarks(density), ...odd] : odd,
  }
}
