import type { UncertaintySettings } from '#core/model/criteria.ts'
import type { Uncertainty } from '#core/model/results.ts'
import type { Basis } from '#core/model/values.ts'
import { figuresOn } from '../on-bases.ts'
import type { AirBalance } from '../room-balance.ts'
import { expandedBy, flowsOf, percentSensitivities, type RunErrors, type SignedTerminal, timesExactly } from './run-errors.ts'

/** What a room's offset is made of: on which basis its parts are added, and what makes their sum read as the offset does. */
export type OffsetParts = {
  readonly parts: readonly SignedTerminal[]
  readonly basis: Basis
  /** from the sum of the parts to the offset */
  readonly scale: number
  /** the scale has the density of the room's air in it, and that density's error */
  readonly scaledByDensity: boolean
}

function signedOn(balance: AirBalance, basis: Basis): SignedTerminal[] | null {
  const area = figuresOn(balance.crossing, basis)
  return area ? area.filters.map((filter) => ({ filter, sign: filter.direction === 'supply' ? 1 : -1 })) : null
}

/** Whether all the flows are told at one standard density, so that they can be added as they are. */
function shareStandard(parts: readonly SignedTerminal[]): boolean {
  const densities = new Set(parts.flatMap(({ filter }) => filter.of.readings.map(({ use }) => use.conversion.standardKgpm3)))
  return densities.size <= 1
}

/**
 * The parts of a room's offset as a criterion on that basis, or the result, reads it. Standard flow is added up as such where all the instruments
 * tell it at one standard density, else from the actual flows. Null where the basis cannot be had.
 */
export function offsetParts(balance: AirBalance, basis: Basis): OffsetParts | null {
  const own = signedOn(balance, basis)
  if (basis !== 'standard') return own && { parts: own, basis, scale: 1, scaledByDensity: false }
  const offsetM3ps = balance.mass?.offsetM3ps ?? null
  if (!balance.mass || offsetM3ps === null) return null
  const massM3ps = balance.mass.supplyM3ps + balance.mass.returnM3ps + balance.mass.exhaustM3ps
  const scaleTo = (parts: readonly SignedTerminal[]) => {
    const sums = flowsOf(parts)
    if (sums.offsetM3ps !== 0) return offsetM3ps / sums.offsetM3ps
    // Parts that cancel are told at the other density all the same.
    return sums.sizeM3ps === 0 ? 1 : massM3ps / sums.sizeM3ps
  }
  if (own && shareStandard(own)) return { parts: own, basis, scale: scaleTo(own), scaledByDensity: false }
  const actual = signedOn(balance, 'actual')
  return actual && { parts: actual, basis: 'actual', scale: scaleTo(actual), scaledByDensity: true }
}

/** U of a room's offset, m3/s, or in percent of supply; null where it has none. */
export function offsetUncertainty(
  errors: RunErrors,
  offset: OffsetParts | null,
  settings: UncertaintySettings,
  as: 'flow' | 'percent',
): Uncertainty | null {
  if (!offset) return null
  const { parts, basis, scale, scaledByDensity } = offset
  if (as === 'percent') {
    const sensitivity = percentSensitivities(parts)
    return sensitivity && expandedBy(errors.ofFlows(parts, basis, sensitivity), settings)
  }
  const sums = scaledByDensity ? errors.ofFlowsTimesDensity(parts, settings) : errors.ofFlows(parts, basis)
  return timesExactly(expandedBy(sums, settings), scale)
}
