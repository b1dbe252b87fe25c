import { DIMENSION_OF_QUANTITY } from '#core/model/rule-problem.ts'
import type { Entered, Quantity, Unit } from '#core/model/values.ts'
import { displayUnit } from '#core/units/format.ts'
import { useProject } from '../app/session.tsx'

export type UnitOf = (quantity: Quantity) => Unit
type Sensed = { readonly quantity: Quantity; readonly low: Entered | null }

/**
 * The unit that a bare number of a quantity is typed in: the one of the instrument's own range where it has one, else the one the project shows.
 * A barometer is no pressure gauge: its figures are hundreds of hPa.
 */
export function useUnitOf(senses: readonly Sensed[] = []): UnitOf {
  const { display } = useProject().body
  return (quantity) => {
    const own = senses.find((sensed) => sensed.quantity === quantity)?.low?.unit
    if (own) return own
    if (quantity === 'barometric_pressure') return display.pressure === 'Pa' ? 'hPa' : 'inHg'
    return displayUnit(DIMENSION_OF_QUANTITY[quantity], display)
  }
}
