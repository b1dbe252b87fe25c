/**
 * Velocity, m/s, from a velocity pressure in Pa and the density of the air at the probe in kg/m3: v = sign(dp) K sqrt(2 |dp| / rho), K the
 * probe's own coefficient (1 for a standard pitot-static tube). A negative pressure is air from behind, and gives a negative velocity.
 * Null where the density or the coefficient is not above zero. Source: Bernoulli. The trade's
 * 4005 sqrt(inH2O) ft/min at 0.075 lb/ft3 is the same with an inch of water at 20 degC (248.64 Pa); with the conventional inch (249.09 Pa)
 * that Facegrid's units have it is 4008.6.
 */
export function velocityFromPressureMps(velocityPressurePa: number, densityKgpm3: number, coefficient = 1): number | null {
  if (!(densityKgpm3 > 0 && coefficient > 0)) return null
  return Math.sign(velocityPressurePa) * coefficient * Math.sqrt((2 * Math.abs(velocityPressurePa)) / densityKgpm3)
}

/** Velocity pressure, Pa, of a velocity in m/s: the inverse of {@link velocityFromPressureMps}, with its conditions. */
export function velocityPressurePa(velocityMps: number, densityKgpm3: number, coefficient = 1): number | null {
  if (!(densityKgpm3 > 0 && coefficient > 0)) return null
  return (Math.sign(velocityMps) * densityKgpm3 * (velocityMps / coefficient) ** 2) / 2
}

/** Under this a velocity pressure is too small to trust a pitot-static tube, Pa (common practice). */
export const LEAST_PITOT_PRESSURE_PA = 5
/** Under this velocity likewise, m/s (common practice). */
export const LEAST_PITOT_VELOCITY_MPS = 3

/** Whether a pitot reading is too small to trust: under 3 m/s or 5 Pa, whichever way the air goes (common practice). */
export function isWeakForPitot(velocityPressure: number, velocityMps: number | null): boolean {
  if (Math.abs(velocityPressure) < LEAST_PITOT_PRESSURE_PA) return true
  return velocityMps !== null && Math.abs(velocityMps) < LEAST_PITOT_VELOCITY_MPS
}
