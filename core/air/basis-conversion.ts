import type { Basis } from '#core/model/values.ts'

/**
 * What an instrument's display speaks of. `standard`: velocity or flow as if the air had the standard density (thermal).
 * `standard_pressure`: from a pressure, worked out for air of the standard density (square root). `actual`: as the air is (rotating vane).
 */
export type Indication = 'standard' | 'standard_pressure' | 'actual'

/** Densities of the air in kg/m3. Null where not known: no conditions recorded, or no standard condition on the instrument. */
export type Densities = {
  /** dry-air density of the instrument's (or the project's) standard condition */
  readonly standardKgpm3: number | null
  /** the air where the velocity or flow is wanted */
  readonly actualKgpm3: number | null
}

/**
 * What was converted, by which factor, from which densities: for the page and the report, so that it is always visible which air a
 * figure speaks of. `factor` times the indicated figure is the figure on the wanted basis; null: cannot be had, and `missing` says why.
 */
export type BasisConversion = {
  readonly indication: Indication
  readonly to: Basis
  readonly rule: 'none' | 'linear' | 'square_root'
  readonly factor: number | null
  readonly missing: 'conditions' | 'standard_condition' | null
  readonly standardKgpm3: number | null
  readonly actualKgpm3: number | null
  /** relative change of the figure for a relative change of the actual density: -1, -1/2, 0, 1/2 or 1; for the uncertainty budget */
  readonly actualDensityExponent: number
}

const EXPONENT: Readonly<Record<Indication, Readonly<Record<'standard' | 'actual', number>>>> = {
  standard: { standard: 0, actual: -1 },
  standard_pressure: { standard: 0.5, actual: -0.5 },
  actual: { standard: 1, actual: 0 },
}

function isKnown(density: number | null): density is number {
  return density !== null && density > 0
}

/**
 * How a velocity or flow as indicated becomes one on the wanted basis, with densities in kg/m3. Every conversion is a power of
 * r = rho_actual / rho_standard: thermal to actual 1/r (linear), pressure-based display of standard air to actual 1/sqrt(r), rotating vane
 * as read; to standard (mass) each of these times r. "As indicated" is never converted. Without a density that is needed the factor is null: an
 * unconverted figure is never called actual. Source: conservation of mass and Bernoulli; which instrument shows what is common practice.
 */
export function basisConversion(indication: Indication, to: Basis, densities: Densities): BasisConversion {
  const { standardKgpm3, actualKgpm3 } = densities
  const exponent = to === 'as_indicated' ? 0 : EXPONENT[indication][to]
  const base = { indication, to, standardKgpm3, actualKgpm3, actualDensityExponent: exponent }
  if (exponent === 0) return { ...base, rule: 'none', factor: 1, missing: null }
  const rule = Math.abs(exponent) === 1 ? 'linear' : 'square_root'
  if (!isKnown(actualKgpm3)) return { ...base, rule, factor: null, missing: 'conditions' }
  if (!isKnown(standardKgpm3)) return { ...base, rule, factor: null, missing: 'standard_condition' }
  return { ...base, rule, factor: (actualKgpm3 / standardKgpm3) ** exponent, missing: null }
}
