import { dryAirDensityKgpm3 } from '#core/air/moist-air-density.ts'
import type { Entered } from '#core/model/values.ts'
import type { InstrumentForm } from './instrument-form.ts'

/** What a display shows of the air; null where it shows neither, and which air it speaks of is no question. */
export type ShownOfAir = 'velocity' | 'flow' | 'velocity_and_flow'

export function shownOfAir({ senses }: Pick<InstrumentForm, 'senses'>): ShownOfAir | null {
  const shows = (quantity: 'velocity' | 'flow') => senses.some((sensed) => sensed.quantity === quantity)
  if (shows('velocity')) return shows('flow') ? 'velocity_and_flow' : 'velocity'
  return shows('flow') ? 'flow' : null
}

/** A pressure becomes a velocity or flow by density, and those may be wanted for standard air as well. */
export function showsPressureOfAir({ senses }: Pick<InstrumentForm, 'senses'>): boolean {
  return senses.some(({ quantity }) => quantity === 'velocity_pressure' || quantity === 'pressure_difference')
}

/** Which air the display speaks of, as one question of a form. */
export type IndicationChoice = 'standard' | 'standard_by_pressure' | 'actual' | 'as_indicated'

export function indicationOf({ basis, worksByPressure }: Pick<InstrumentForm, 'basis' | 'worksByPressure'>): IndicationChoice {
  return basis === 'standard' && worksByPressure ? 'standard_by_pressure' : basis
}

export function withIndication(choice: IndicationChoice): Pick<InstrumentForm, 'basis' | 'worksByPressure'> {
  return choice === 'standard_by_pressure' ? { basis: 'standard', worksByPressure: true } : { basis: choice, worksByPressure: false }
}

/** Standard conditions that makers use, each with 101.325 kPa (common practice). Which one holds stands in the data sheet. */
export const USUAL_STANDARD_TEMPERATURES = [
  { si: 20, typed: '20', unit: 'degC' },
  { si: 21.1, typed: '21.1', unit: 'degC' },
  { si: 25, typed: '25', unit: 'degC' },
] as const satisfies readonly Entered[]

export const USUAL_STANDARD_PRESSURE: Entered = { si: 101_325, typed: '101.325', unit: 'kPa' }

/** Density of dry air at the standard condition as typed, kg/m3; null while it is not complete or no state of air. */
export function standardDensityKgpm3(form: Pick<InstrumentForm, 'standardTemperature' | 'standardPressure'>): number | null {
  const { standardTemperature, standardPressure } = form
  return standardTemperature && standardPressure ? dryAirDensityKgpm3(standardTemperature.si, standardPressure.si) : null
}
