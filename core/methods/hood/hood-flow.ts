import type { EntityBody } from '#core/model/entities.ts'

type TerminalFace = EntityBody<'terminal'>['face']

/** A capture hood's own correction for one type of terminal face over one range of indicated flow (m3/s, both ends included). */
export type HoodFactor = {
  readonly face: TerminalFace
  readonly lowM3ps: number
  readonly highM3ps: number
  readonly factor: number
  /** relative standard uncertainty of the factor, as a fraction; null where nobody stated one */
  readonly relativeUncertainty: number | null
  /** where the factor comes from: a duct traverse, a certificate */
  readonly reason: string
}

/** Range of the hood as the maker or the certificate states it, m3/s, as indicated. */
export type HoodRange = { readonly lowM3ps: number; readonly highM3ps: number }

export type HoodFlow = {
  /** corrected; null when above the range */
  readonly flowM3ps: number | null
  readonly factor: number
  /** which entry gave the factor; null: 1 was taken, because no entry fits */
  readonly entry: HoodFactor | null
  readonly outsideRange: 'below' | 'above' | null
}

/** How far the value lies from the middle of the entry's range, in half ranges: the better centred of two that overlap is taken. */
function eccentricity(entry: HoodFactor, flow: number): number {
  const half = (entry.highM3ps - entry.lowM3ps) / 2
  return half === 0 ? 0 : Math.abs(flow - (entry.highM3ps + entry.lowM3ps) / 2) / half
}

/**
 * The hood's factor for a terminal face and an indicated flow, m3/s (the size of it; a return reads negative on some hoods); null where no
 * entry fits, and then the flow is as indicated and says so. At a boundary that two entries share, or where they overlap, the entry that
 * the flow lies more in the middle of. Source: common practice.
 */
export function hoodFactorFor(indicatedM3ps: number, face: TerminalFace, factors: readonly HoodFactor[]): HoodFactor | null {
  const flow = Math.abs(indicatedM3ps)
  const fitting = factors.filter((entry) => entry.face === face && flow >= entry.lowM3ps && flow <= entry.highM3ps)
  return fitting.reduce<HoodFactor | null>(
    (best, entry) => (best === null || eccentricity(entry, flow) < eccentricity(best, flow) ? entry : best),
    null,
  )
}

/**
 * Flow of a terminal from a capture hood's indicated flow, m3/s, on the hood's own basis: indicated x factor for this type of face and range.
 * Range is checked on the value as indicated. Above it there is no flow; below it the value is kept and flagged (it may support
 * a fail of an at-least criterion, never alone a pass). Source: common practice; odd cases by the rules of the house.
 */
export function hoodFlow(indicatedM3ps: number, face: TerminalFace, factors: readonly HoodFactor[], range: HoodRange | null): HoodFlow {
  const entry = hoodFactorFor(indicatedM3ps, face, factors)
  const factor = entry?.factor ?? 1
  const size = Math.abs(indicatedM3ps)
  const outsideRange = range === null ? null : size < range.lowM3ps ? 'below' : size > range.highM3ps ? 'above' : null
  return { flowM3ps: outsideRange === 'above' ? null : indicatedM3ps * factor, factor, entry, outsideRange }
}
