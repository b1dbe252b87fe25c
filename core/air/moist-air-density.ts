const CELSIUS_ZERO_K = 273.15
const MOLAR_GAS_CONSTANT = 8.314472
const MOLAR_MASS_DRY_AIR = 28.96546e-3
const MOLAR_MASS_WATER = 18.01528e-3

/** The relative humidity that is taken when it was not measured, percent. */
export const ASSUMED_HUMIDITY_PERCENT = 50

/** The range the formula's authors state for it: 15 to 27 degC, 600 hPa to 1100 hPa. */
export const STATED_RANGE = { temperatureC: { low: 15, high: 27 }, pressurePa: { low: 60_000, high: 110_000 } } as const

/** Air as it was recorded. Pressure is absolute station pressure, never the sea-level pressure of a weather report. */
export type AirState = {
  readonly temperatureC: number
  readonly pressurePa: number
  /** null: not measured */
  readonly relativeHumidityPercent: number | null
}

/** What a reader of a density has to know beside the number. */
export type AirFlag = 'humidity_assumed' | 'outside_stated_range'

export type AirDensity = {
  readonly densityKgpm3: number
  readonly relativeHumidityPercent: number
  readonly flags: readonly AirFlag[]
}

/** The intermediate figures of the formula, so that each can be held against a table. */
export type AirConstitution = {
  readonly saturationPressurePa: number
  readonly enhancementFactor: number
  readonly vapourMoleFraction: number
  readonly compressibilityFactor: number
}

/**
 * Saturation vapour pressure over water, Pa, at a temperature in degC. Source: CIPM-2007 (Picard, Davis, Glaser, Fujii, Metrologia 45
 * (2008) 149-155), appendix A1.1; constants seen in secondary public text. Meant for 15 to 27 degC.
 */
export function saturationVapourPressurePa(temperatureC: number): number {
  const t = temperatureC + CELSIUS_ZERO_K
  return Math.exp(1.2378847e-5 * t * t - 1.9121316e-2 * t + 33.93711047 - 6.3431645e3 / t)
}

/** How much more vapour moist air holds than water vapour alone would. Source: CIPM-2007, appendix A1.2. Pa and degC; no unit. */
export function enhancementFactor(pressurePa: number, temperatureC: number): number {
  return 1.00062 + 3.14e-8 * pressurePa + 5.6e-7 * temperatureC * temperatureC
}

/** Compressibility factor of moist air. Source: CIPM-2007, appendix A1.4. Pa, degC, mole fraction of water vapour; no unit. */
export function compressibilityFactor(pressurePa: number, temperatureC: number, vapourMoleFraction: number): number {
  const x = vapourMoleFraction
  const reduced = pressurePa / (temperatureC + CELSIUS_ZERO_K)
  const a = 1.58123e-6 - 2.9331e-8 * temperatureC + 1.1043e-10 * temperatureC * temperatureC
  const b = 5.707e-6 - 2.051e-8 * temperatureC
  const c = 1.9898e-4 - 2.376e-6 * temperatureC
  return 1 - reduced * (a + b * x + c * x * x) + reduced * reduced * (1.83e-11 - 0.765e-8 * x * x)
}

/** The intermediate figures for a state whose humidity is known; no check of the input. Source: CIPM-2007. */
export function airConstitution(temperatureC: number, pressurePa: number, relativeHumidityPercent: number): AirConstitution {
  const saturation = saturationVapourPressurePa(temperatureC)
  const enhancement = enhancementFactor(pressurePa, temperatureC)
  const vapourMoleFraction = ((relativeHumidityPercent / 100) * enhancement * saturation) / pressurePa
  return {
    saturationPressurePa: saturation,
    enhancementFactor: enhancement,
    vapourMoleFraction,
    compressibilityFactor: compressibilityFactor(pressurePa, temperatureC, vapourMoleFraction),
  }
}

function isWithinStatedRange({ temperatureC, pressurePa }: AirState): boolean {
  const { temperatureC: t, pressurePa: p } = STATED_RANGE
  return temperatureC >= t.low && temperatureC <= t.high && pressurePa >= p.low && pressurePa <= p.high
}

/**
 * Density of moist air, kg/m3, by CIPM-2007 (Picard et al., Metrologia 45 (2008) 149-155; equations seen in secondary public text),
 * with 400 umol/mol of carbon dioxide. Stated range 15 to 27 degC and 60 to 110 kPa; outside it the figure is computed all the same and
 * flagged. Humidity that was not measured is taken as {@link ASSUMED_HUMIDITY_PERCENT} and flagged. Null where no such air exists: a
 * figure that is not finite, a pressure not above zero, a temperature at or under -100 degC, humidity outside 0 to 100 %, or more vapour
 * than pressure.
 */
export function moistAirDensity(state: AirState): AirDensity | null {
  const { temperatureC, pressurePa } = state
  const relativeHumidityPercent = state.relativeHumidityPercent ?? ASSUMED_HUMIDITY_PERCENT
  if (![temperatureC, pressurePa, relativeHumidityPercent].every(Number.isFinite)) return null
  if (pressurePa <= 0 || temperatureC <= -100 || relativeHumidityPercent < 0 || relativeHumidityPercent > 100) return null
  const { vapourMoleFraction: x, compressibilityFactor: z } = airConstitution(temperatureC, pressurePa, relativeHumidityPercent)
  if (x >= 1 || z <= 0) return null
  const dry = (pressurePa * MOLAR_MASS_DRY_AIR) / (z * MOLAR_GAS_CONSTANT * (temperatureC + CELSIUS_ZERO_K))
  const flags: AirFlag[] = []
  if (state.relativeHumidityPercent === null) flags.push('humidity_assumed')
  if (!isWithinStatedRange(state)) flags.push('outside_stated_range')
  return { densityKgpm3: dry * (1 - x * (1 - MOLAR_MASS_WATER / MOLAR_MASS_DRY_AIR)), relativeHumidityPercent, flags }
}

/**
 * Density of dry air, kg/m3, at a temperature in degC and an absolute pressure in Pa: the density behind an instrument's standard
 * condition. Null as {@link moistAirDensity}. Source: CIPM-2007.
 */
export function dryAirDensityKgpm3(temperatureC: number, pressurePa: number): number | null {
  return moistAirDensity({ temperatureC, pressurePa, relativeHumidityPercent: 0 })?.densityKgpm3 ?? null
}
