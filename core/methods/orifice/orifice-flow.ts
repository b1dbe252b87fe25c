/**
 * How a differential pressure becomes a flow. `discharge`: the bore and the coefficient of the plate, nozzle or venturi.
 * `stated`: the maker's or commissioning's own flow at one pascal, at the density it was stated for; Q = K sqrt(dp) there.
 */
export type FlowElement =
  | {
      readonly kind: 'discharge'
      readonly coefficient: number
      readonly boreDiameterM: number
      /** inside diameter of the duct at the upstream tapping, m */
      readonly ductDiameterM: number
      /** 1 for air at the pressures of ventilation */
      readonly expansibility: number
    }
  | { readonly kind: 'stated'; readonly flowAtOnePascalM3ps: number; readonly statedDensityKgpm3: number }

function isAboveZero(...values: readonly number[]): boolean {
  return values.every((value) => Number.isFinite(value) && value > 0)
}

/** Q / sqrt(dp) in m3/s per root pascal; null where the element or the density is no usable one. */
function flowAtOnePascalM3ps(element: FlowElement, densityKgpm3: number): number | null {
  if (!isAboveZero(densityKgpm3)) return null
  if (element.kind === 'stated') {
    const { flowAtOnePascalM3ps: stated, statedDensityKgpm3 } = element
    return isAboveZero(stated, statedDensityKgpm3) ? stated * Math.sqrt(statedDensityKgpm3 / densityKgpm3) : null
  }
  const { coefficient, boreDiameterM, ductDiameterM, expansibility } = element
  if (!isAboveZero(coefficient, boreDiameterM, ductDiameterM, expansibility) || boreDiameterM >= ductDiameterM) return null
  const beta = boreDiameterM / ductDiameterM
  const bore = (Math.PI * boreDiameterM ** 2) / 4
  return ((coefficient * expansibility * bore) / Math.sqrt(1 - beta ** 4)) * Math.sqrt(2 / densityKgpm3)
}

/**
 * Actual flow, m3/s, through an orifice, nozzle or venturi from its differential pressure (Pa) and the density of the air at the upstream
 * tapping (kg/m3): C eps A sqrt(2 dp / rho) / sqrt(1 - beta^4), or the stated K sqrt(dp) corrected to the density. The coefficient
 * is stated, not worked out here. Null for a negative pressure (such an element does not measure air flowing back), and where a size,
 * coefficient or density is not above zero or the bore is no smaller than the duct. Source: ISO 5167-1, equation 1 (from memory).
 */
export function flowFromDifferentialPressureM3ps(pressurePa: number, densityKgpm3: number, element: FlowElement): number | null {
  if (!(pressurePa >= 0)) return null
  const unitFlow = flowAtOnePascalM3ps(element, densityKgpm3)
  return unitFlow === null ? null : unitFlow * Math.sqrt(pressurePa)
}
