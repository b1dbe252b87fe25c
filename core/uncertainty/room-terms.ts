import type { BudgetSize } from './filter-terms.ts'
import { scaleTerms, standardTerm, type Term } from './term.ts'

const SECONDS_PER_HOUR = 3600

/** A result with the terms of its budget, in one unit: what one step of a calculation hands to the next. */
export type Uncertain = { readonly value: number; readonly terms: readonly Term[] }

/**
 * Sum of results with signs: +1 for supply, -1 for return and exhaust, -1 for the earlier of two visits. Terms of one group stay one error, so
 * the bias of a shared instrument adds up over a room's filters and partly cancels in supply - return. Null where a part has no
 * terms (one point only): a room's U is not given with a hole in it. Source: GUM 5.2.2.
 */
export function sumOf(parts: readonly { readonly sign: 1 | -1; readonly result: Uncertain | null }[]): Uncertain | null {
  let value = 0
  const terms: Term[] = []
  for (const { sign, result } of parts) {
    if (result === null) return null
    value += sign * result.value
    terms.push(...scaleTerms(result.terms, sign))
  }
  return { value, terms }
}

/** A result times a number that is not uncertain: percent of design (100 / design; design values have no uncertainty), a mean (1 / n). */
export function timesExact(result: Uncertain, factor: number): Uncertain {
  return { value: result.value * factor, terms: scaleTerms(result.terms, factor) }
}

/** Percent of a design value in the unit of the result; null for a design that is not above zero. */
export function percentOfDesign(result: Uncertain, design: number): Uncertain | null {
  return design > 0 ? timesExact(result, 100 / design) : null
}

/**
 * Air changes per hour = 3600 Q / V with the terms of the flow (m3/s) and the volume's own (m3, relative standard uncertainty as a
 * fraction). Null for a volume that is not above zero. Source: definition; GUM 5.1.
 */
export function airChanges(flow: Uncertain, volume: BudgetSize, roomId: string): Uncertain | null {
  if (!(volume.size > 0)) return null
  const { value, terms } = timesExact(flow, SECONDS_PER_HOUR / volume.size)
  const ofVolume = standardTerm('volume', roomId, volume.relativeUncertainty, Number.POSITIVE_INFINITY, volume.group)
  return { value, terms: [...terms, { ...ofVolume, sensitivity: -value }] }
}
