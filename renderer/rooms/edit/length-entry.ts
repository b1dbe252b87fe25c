import type { Entered } from '#core/model/values.ts'
import { fromSi } from '#core/units/units.ts'

/** A place or size of the plan as text in the reader's unit, to a tenth of a millimetre. */
export function shownLength(si: number, unit: 'm' | 'ft'): Entered {
  return { si, typed: String(Number(fromSi(si, unit).toFixed(4))), unit }
}
