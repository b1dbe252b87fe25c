import { type AirState, ASSUMED_HUMIDITY_PERCENT, moistAirDensity } from '#core/air/moist-air-density.ts'

/** Of the formula itself, relative. Source: CIPM-2007, 22e-6. */
const FORMULA_RELATIVE = 22e-6

/** Humidity nobody measured lies between 0 and 100 %: a rectangle around 50 %. */
export const UNKNOWN_HUMIDITY_STANDARD_PERCENT = ASSUMED_HUMIDITY_PERCENT / Math.sqrt(3)

/** Standard uncertainties of the conditions; the humidity's is ignored where it was not measured. */
export type ConditionUncertainty = {
  readonly temperatureK: number
  readonly pressurePa: number
  readonly relativeHumidityPercent: number
}

/** What an air density's relative standard uncertainty is made of; every part a fraction of the density. */
export type DensityUncertainty = {
  readonly relative: number
  readonly temperature: number
  readonly pressure: number
  readonly humidity: number
  readonly formula: number
}

function slope(density: (step: number) => number | null, step: number, at: number): number | null {
  const above = density(step)
  const below = density(-step)
  return above === null || below === null ? null : (above - below) / (2 * step * at)
}

/**
 * Relative standard uncertainty of a moist-air density, as a fraction, from the standard uncertainties of temperature (K), absolute pressure
 * (Pa) and relative humidity (percent), with sensitivities taken numerically from the density formula, and the formula's own. Humidity
 * that was not measured enters as a rectangle from 0 to 100 %. Null where the state has no density. Source: GUM 5.1.3 (numerical
 * sensitivities); CIPM-2007 for the formula.
 */
export function densityUncertainty(state: AirState, uncertainty: ConditionUncertainty): DensityUncertainty | null {
  const humidity = state.relativeHumidityPercent ?? ASSUMED_HUMIDITY_PERCENT
  const middle = Math.min(99.5, Math.max(0.5, humidity))
  const at = moistAirDensity({ ...state, relativeHumidityPercent: humidity })?.densityKgpm3
  if (at === undefined) return null
  const density = (change: Partial<AirState>) =>
    moistAirDensity({ ...state, relativeHumidityPercent: humidity, ...change })?.densityKgpm3 ?? null
  const perKelvin = slope((step) => density({ temperatureC: state.temperatureC + step }), 0.01, at)
  const perPascal = slope((step) => density({ pressurePa: state.pressurePa + step }), 1, at)
  const perPercent = slope((step) => density({ relativeHumidityPercent: middle + step }), 0.5, at)
  if (perKelvin === null || perPascal === null || perPercent === null) return null
  const temperature = Math.abs(perKelvin) * uncertainty.temperatureK
  const pressure = Math.abs(perPascal) * uncertainty.pressurePa
  const humidityStandard = state.relativeHumidityPercent === null ? UNKNOWN_HUMIDITY_STANDARD_PERCENT : uncertainty.relativeHumidityPercent
  const parts = { temperature, pressure, humidity: Math.abs(perPercent) * humidityStandard, formula: FORMULA_RELATIVE }
  return { ...parts, relative: Math.hypot(parts.temperature, parts.pressure, parts.humidity, parts.formula) }
}
