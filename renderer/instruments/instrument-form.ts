import type { EntityBody } from '#core/model/entities.ts'
import { DIMENSION_OF_QUANTITY } from '#core/model/rule-problem.ts'
import { checkBody } from '#core/model/rules.ts'
import type { Entered, Quantity, Unit } from '#core/model/values.ts'
import { SI_UNIT } from '#core/units/units.ts'
import type { FieldProblem } from '../forms/use-form.ts'
import { formOfHoodFactors, type HoodFactorForm, hoodFactorProblems, hoodFactorsOfForm } from './hood-factor-form.ts'
import { shownOfAir, withIndication } from './indication-form.ts'

type Instrument = EntityBody<'instrument'>
export type SensedForm = {
  /** tells the lines of the form apart */
  line: number
  quantity: Quantity
  low: Entered | null
  high: Entered | null
  resolution: Entered | null
  accuracyForm: 'none' | 'sum_of' | 'greater_of'
  percentOfReading: Entered | null
  absolute: Entered | null
}
/** The instrument as its form holds it: values may still be missing. */
export type InstrumentForm = Omit<Instrument, 'senses' | 'averagingTimeS' | 'standardCondition' | 'hoodFactors'> & {
  senses: SensedForm[]
  averagingTime: Entered | null
  standardTemperature: Entered | null
  standardPressure: Entered | null
  hoodFactors: HoodFactorForm[]
}

export const NEW_SENSED: SensedForm = {
  line: 0,
  quantity: 'velocity',
  low: null,
  high: null,
  resolution: null,
  accuracyForm: 'sum_of',
  percentOfReading: null,
  absolute: null,
}

export const NEW_INSTRUMENT: InstrumentForm = {
  name: '',
  serialNumber: '',
  senses: [NEW_SENSED],
  sensing: 'directional',
  reportsReverseFlow: false,
  worksByPressure: false,
  correctsByPoints: false,
  averagingTime: null,
  // Most probes for filter faces are thermal, and those speak of standard air; which condition that is must come from the data sheet.
  basis: 'standard',
  standardTemperature: null,
  standardPressure: null,
  hoodFactors: [],
  active: true,
  note: '',
}

const plain = (value: number, unit: Unit): Entered => ({ si: value, typed: String(value), unit })

export function formOfInstrument({ senses, averagingTimeS, standardCondition, hoodFactors, ...rest }: Instrument): InstrumentForm {
  return {
    ...rest,
    standardTemperature: standardCondition?.temperature ?? null,
    standardPressure: standardCondition?.pressure ?? null,
    hoodFactors: formOfHoodFactors(hoodFactors),
    averagingTime: averagingTimeS === null ? null : plain(averagingTimeS, 's'),
    senses: senses.map((sensed, line) => ({
      line,
      quantity: sensed.quantity,
      low: sensed.low,
      high: sensed.high,
      resolution: sensed.resolution,
      accuracyForm: sensed.accuracy?.form ?? 'none',
      percentOfReading: sensed.accuracy ? plain(sensed.accuracy.percentOfReading, '%') : null,
      absolute: sensed.accuracy?.absolute ?? null,
    })),
  }
}

/** Only what is held into the air has a direction to mind; of a hood, a manometer or a thermometer it is not asked. */
export function feelsDirection({ senses }: Pick<InstrumentForm, 'senses'>): boolean {
  return senses.some(({ quantity }) => quantity === 'velocity')
}

/** SI, for a figure that nobody typed. */
function siUnitOf(quantity: Quantity): Unit {
  return SI_UNIT[DIMENSION_OF_QUANTITY[quantity]]
}

/** Everything of the form that a saved instrument needs, or null while something required is missing. */
export function instrumentOfForm(form: InstrumentForm): Instrument | null {
  const { averagingTime, senses, standardTemperature, standardPressure, hoodFactors, ...rest } = form
  const factors = hoodFactorsOfForm(hoodFactors)
  if (!factors) return null
  const complete: Instrument['senses'] = []
  for (const sensed of senses) {
    const { low, high, resolution, accuracyForm, percentOfReading, absolute } = sensed
    if (!low || !high || !resolution) return null
    const none = plain(0, siUnitOf(sensed.quantity))
    const accuracy =
      accuracyForm === 'none' ? null : { form: accuracyForm, percentOfReading: percentOfReading?.si ?? 0, absolute: absolute ?? none }
    complete.push({ quantity: sensed.quantity, low, high, resolution, accuracy })
  }
  const standardCondition =
    standardTemperature && standardPressure ? { temperature: standardTemperature, pressure: standardPressure } : null
  // What was not asked must not be kept from before another quantity was chosen.
  const unasked = {
    ...(shownOfAir(form) === null ? withIndication('as_indicated') : {}),
    ...(feelsDirection(form) ? {} : { sensing: 'not_directional' as const }),
  }
  return { ...rest, ...unasked, senses: complete, averagingTimeS: averagingTime?.si ?? null, standardCondition, hoodFactors: factors }
}

/** What is wrong with an instrument as typed, at the field where it is wrong. */
export function instrumentProblems(form: InstrumentForm): FieldProblem[] {
  const missing: FieldProblem[] = []
  const ask = (field: string, isThere: boolean) => {
    if (!isThere) missing.push({ field, code: 'instruments.problem.missing', params: {} })
  }
  ask('name', form.name.trim() !== '')
  ask('serialNumber', form.serialNumber.trim() !== '')
  form.senses.forEach((sensed, index) => {
    ask(`senses.${index}.low`, sensed.low !== null)
    ask(`senses.${index}.high`, sensed.high !== null)
    ask(`senses.${index}.resolution`, sensed.resolution !== null)
    if (sensed.percentOfReading && sensed.percentOfReading.si < 0) {
      missing.push({ field: `senses.${index}.percentOfReading`, code: 'rule.not_below_zero', params: {} })
    }
  })
  if (form.averagingTime && !(form.averagingTime.si > 0)) missing.push({ field: 'averagingTimeS', code: 'rule.above_zero', params: {} })
  // Standard air without its condition could never be turned into anything; half a condition is none.
  const { standardTemperature, standardPressure } = form
  if ((form.basis === 'standard' && shownOfAir(form) !== null) || standardTemperature || standardPressure) {
    ask('standardCondition.temperature', standardTemperature !== null)
    ask('standardCondition.pressure', standardPressure !== null)
  }
  missing.push(...hoodFactorProblems(form.hoodFactors))
  const body = instrumentOfForm(form)
  return missing.length > 0 || !body ? missing : checkBody('instrument', body)
}
