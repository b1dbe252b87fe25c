const SEA_LEVEL_PRESSURE_PA = 101_325
const SEA_LEVEL_TEMPERATURE_K = 288.15
const LAPSE_RATE_KPM = 0.0065
const GRAVITY_MPS2 = 9.80665
const GAS_CONSTANT_OF_AIR = 287.05287
const EXPONENT = GRAVITY_MPS2 / (GAS_CONSTANT_OF_AIR * LAPSE_RATE_KPM)

/**
 * How far the weather takes the station pressure from the standard atmosphere, percent: a typed one further off is questioned, and one that
 * nobody measured is known no better (a rule of the house; common practice).
 */
export const PRESSURE_DOUBT_PERCENT = 3

/**
 * Pressure of the standard atmosphere, Pa, at an altitude in m, from -5000 m to 11 000 m (the troposphere); null outside. Altitude is
 * taken as geopotential; the difference to geometric height is under 0.1 % of the height there. Source: ISO 2533 / ICAO standard
 * atmosphere, the same as ASHRAE Handbook Fundamentals 2017, chapter 1, equation 3 (constants from memory).
 */
export function standardPressurePa(altitudeM: number): number | null {
  if (!(altitudeM >= -5000 && altitudeM <= 11_000)) return null
  return SEA_LEVEL_PRESSURE_PA * (1 - (LAPSE_RATE_KPM * altitudeM) / SEA_LEVEL_TEMPERATURE_K) ** EXPONENT
}

export type PressureCheck = {
  readonly expectedPa: number
  /** typed against the standard atmosphere, percent of it; positive is high */
  readonly differencePercent: number
  readonly questioned: boolean
  /** the typed pressure fits the standard atmosphere at sea level instead: a weather report's figure, most likely */
  readonly fitsSeaLevel: boolean
}

function percentFrom(expected: number, typed: number): number {
  return (100 * (typed - expected)) / expected
}

/**
 * Holds a typed barometric pressure (Pa, absolute) against the standard atmosphere at the site's altitude (m). Questioned when more
 * than {@link PRESSURE_DOUBT_PERCENT} off, never refused. Null where the altitude or the pressure is no usable number. Source: a rule of the
 * house; the weather moves station pressure by some 3 % (common practice).
 */
export function checkBarometricPressure(typedPa: number, altitudeM: number): PressureCheck | null {
  const expectedPa = standardPressurePa(altitudeM)
  if (expectedPa === null || !Number.isFinite(typedPa)) return null
  const differencePercent = percentFrom(expectedPa, typedPa)
  const questioned = Math.abs(differencePercent) > PRESSURE_DOUBT_PERCENT
  const fitsSeaLevel = questioned && Math.abs(percentFrom(SEA_LEVEL_PRESSURE_PA, typedPa)) <= PRESSURE_DOUBT_PERCENT
  return { expectedPa, differencePercent, questioned, fitsSeaLevel }
}

/** Station pressure of a run: the measured one, else the standard atmosphere at the site's altitude, said so; null without either. */
export function stationPressure(
  measuredPa: number | null,
  altitudeM: number | null,
): { readonly pressurePa: number; readonly from: 'measured' | 'altitude' } | null {
  if (measuredPa !== null) return { pressurePa: measuredPa, from: 'measured' }
  const pressurePa = altitudeM === null ? null : standardPressurePa(altitudeM)
  return pressurePa === null ? null : { pressurePa, from: 'altitude' }
}
