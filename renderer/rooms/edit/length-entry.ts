import type { Entered } from '#core/model/values.ts'
import type { Formatter } from '#core/units/formatter.ts'
import { fromSi } from '#core/units/units.ts'

/** Figures enough for every length of a plan to a tenth of a millimetre. */
const FIGURES = 12

/** A place or size of the plan as text in the reader's unit and with his decimal sign, to a tenth of a millimetre. */
export function shownLength(si: number, unit: 'm' | 'ft', formatter: Pick<Formatter, 'significant'>): Entered {
  return { si, typed: formatter.significant(Number(fromSi(si, unit).toFixed(4)), FIGURES), unit }
}
