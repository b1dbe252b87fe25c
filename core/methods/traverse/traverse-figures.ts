import { isWeakForPitot, velocityFromPressureMps } from '#core/air/velocity-pressure.ts'
import { mean } from '#core/statistics/statistics.ts'

export type TraverseFigures = {
  /** mean of the velocities at the points measured, m/s; null without any */
  readonly meanVelocityMps: number | null
  readonly flowM3ps: number | null
  readonly pointsMeasured: number
  readonly pointsPlanned: number
  /** a traverse with points left out is not the rule's average, and is shown only as so far */
  readonly complete: boolean
  readonly reversedPoints: readonly number[]
}

/**
 * Mean velocity and flow of a traverse. One velocity per point in m/s, in the order of the layout, with its sign (air flowing back is
 * subtracted), null where not measured; a point's velocity is the mean over its samples. Flow = mean x duct area (m2), whatever the rule:
 * the points are weighted alike. All flow on the basis of the velocities. Null flow for an area that is not above zero. Source: ISO 3966 /
 * ASHRAE Standard 111 (from memory).
 */
export function traverseFigures(velocitiesMps: readonly (number | null)[], areaM2: number): TraverseFigures {
  const measured = velocitiesMps.filter((velocity) => velocity !== null)
  const meanVelocityMps = mean(measured)
  return {
    meanVelocityMps,
    flowM3ps: meanVelocityMps === null || !(areaM2 > 0) ? null : meanVelocityMps * areaM2,
    pointsMeasured: measured.length,
    pointsPlanned: velocitiesMps.length,
    complete: measured.length > 0 && measured.length === velocitiesMps.length,
    reversedPoints: velocitiesMps.flatMap((velocity, index) => (velocity !== null && velocity < 0 ? [index + 1] : [])),
  }
}

/**
 * Velocities of a traverse of velocity pressures, m/s: each pressure (Pa, with sign, null where not measured) becomes a velocity on its own,
 * and only velocities are averaged; the root of a mean pressure reads high. `weakPoints` are numbers of points too weak for a pitot-static
 * tube (under 3 m/s or 5 Pa, common practice). Null for a density (kg/m3) or coefficient that is not above zero. Source: Bernoulli.
 */
export function traverseFromPressures(
  pressuresPa: readonly (number | null)[],
  densityKgpm3: number,
  coefficient = 1,
): { readonly velocitiesMps: readonly (number | null)[]; readonly weakPoints: readonly number[] } | null {
  if (!(densityKgpm3 > 0 && coefficient > 0)) return null
  const velocitiesMps = pressuresPa.map((pressure) =>
    pressure === null ? null : velocityFromPressureMps(pressure, densityKgpm3, coefficient),
  )
  const weakPoints = pressuresPa.flatMap((pressure, index) =>
    pressure !== null && isWeakForPitot(pressure, velocitiesMps[index] ?? null) ? [index + 1] : [],
  )
  return { velocitiesMps, weakPoints }
}
