const SECONDS_PER_HOUR = 3600

/**
 * Air changes per hour = 3600 Q / V, with the supply flow Q in m3/s and the room volume V in m3. None (null) for a volume that
 * is not above zero. Source: definition; the same as CDC (2003) Guidelines for Environmental Infection Control, appendix B,
 * and in inch-pound units 60 x cfm / ft3.
 */
export function airChangesPerHour(flowM3ps: number, volumeM3: number): number | null {
  return volumeM3 > 0 ? (SECONDS_PER_HOUR * flowM3ps) / volumeM3 : null
}

/** The supply flow, m3/s, that gives so many air changes per hour in a volume in m3: the inverse of {@link airChangesPerHour}. */
export function flowForAirChangesM3ps(perHour: number, volumeM3: number): number {
  return (perHour * volumeM3) / SECONDS_PER_HOUR
}
