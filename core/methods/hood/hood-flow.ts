import { keepsHigh, reachesLow } from '#core/criteria/compare-limit.ts'
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

/** The entry that gives the factor for a flow, and whether the flow lies outside every range that is stated for the face. */
export type FoundFactor = {
  readonly entry: HoodFactor
  readonly outside: boolean
  /** relative standard uncertainty of the factor; outside, the largest that is stated for this face; null where none is stated */
  readonly relativeUncertainty: number | null
}

function distance({ lowM3ps, highM3ps }: HoodFactor, flow: number): number {
  return reachesLow(flow, lowM3ps) && keepsHigh(flow, highM3ps) ? 0 : Math.max(lowM3ps - flow, flow - highM3ps)
}

function largestStated(entries: readonly HoodFactor[]): number | null {
  return entries.reduce<number | null>(
    (most, { relativeUncertainty }) => (relativeUncertainty === null ? most : Math.max(most ?? 0, relativeUncertainty)),
    null,
  )
}

/**
 * The hood's factor for a terminal face and a flow as the hood shows it, m3/s (the size of it; a return reads negative on some hoods); null
 * where no factor is stated for the face, and then the flow is as indicated and says so. Both ends of a range belong to it, by the
 * comparison of every verdict; at a flow that two ranges share the lower one counts. A flow outside all ranges takes the nearest one's
 * factor, of two equally near the lower one's. Source: common practice.
 */
export function hoodFactorFor(indicatedM3ps: number, face: TerminalFace, factors: readonly HoodFactor[]): FoundFactor | null {
  const flow = Math.abs(indicatedM3ps)
  const ofFace = factors.filter((entry) => entry.face === face).sort((a, b) => a.lowM3ps - b.lowM3ps || a.highM3ps - b.highM3ps)
  const [lowest] = ofFace
  if (!lowest) return null
  const entry = ofFace.reduce((best, one) => (distance(one, flow) < distance(best, flow) ? one : best), lowest)
  const outside = distance(entry, flow) > 0
  return { entry, outside, relativeUncertainty: outside ? largestStated(ofFace) : entry.relativeUncertainty }
}

/** Flows, m3/s, between two ranges of one face that no factor is stated for. */
export type FactorGap = { readonly face: TerminalFace; readonly fromM3ps: number; readonly toM3ps: number }

/** The gaps between ranges of factors, face by face from the lowest: a reading in one is outside all of them. */
export function factorGaps(factors: readonly Pick<HoodFactor, 'face' | 'lowM3ps' | 'highM3ps'>[]): FactorGap[] {
  const gaps: FactorGap[] = []
  const reached = new Map<TerminalFace, number>()
  for (const { face, lowM3ps, highM3ps } of [...factors].sort((a, b) => a.lowM3ps - b.lowM3ps)) {
    const fromM3ps = reached.get(face)
    if (fromM3ps !== undefined && !keepsHigh(lowM3ps, fromM3ps)) gaps.push({ face, fromM3ps, toM3ps: lowM3ps })
    reached.set(face, Math.max(fromM3ps ?? highM3ps, highM3ps))
  }
  return gaps
}
