/** How the points of a duct traverse are placed. The rule's average is the plain mean of the velocities at its points. */
export const RECTANGULAR_RULES = ['log_tchebycheff', 'equal_area'] as const
export const ROUND_RULES = ['log_linear', 'equal_area'] as const
export type RectangularRule = (typeof RECTANGULAR_RULES)[number]
export type RoundRule = (typeof ROUND_RULES)[number]

/** Inside dimensions of the duct, lining taken off, m. */
export type DuctSection =
  | { readonly shape: 'rectangular'; readonly widthM: number; readonly heightM: number }
  | { readonly shape: 'round'; readonly diameterM: number }

/** Cross-section, m2. Geometry; no check of the input. */
export function ductAreaM2(section: DuctSection): number {
  return section.shape === 'round' ? (Math.PI * section.diameterM ** 2) / 4 : section.widthM * section.heightM
}

/**
 * The diameter that distances to bends and dampers are counted in, m: the diameter itself, or 2 L W / (L + W) of a rectangle.
 * Source: 40 CFR 60, appendix A-1, Method 1, equation 1-1 (from memory).
 */
export function equivalentDiameterM(section: DuctSection): number {
  if (section.shape === 'round') return section.diameterM
  return (2 * section.widthM * section.heightM) / (section.widthM + section.heightM)
}

/** A limit in metres that a size typed in inches or millimetres still counts as being on. */
export function isAtMostM(lengthM: number, limitM: number): boolean {
  return lengthM <= limitM + 1e-9
}
