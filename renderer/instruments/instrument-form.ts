import type { EntityBody } from '#core/model/entities.ts'
import { LATER_FIELDS } from '#core/model/later-fields.ts'
import { DIMENSION_OF_QUANTITY } from '#core/model/rule-problem.ts'
import { checkBody } from '#core/model/rules.ts'
import type { Entered, Quantity, Unit } from '#core/model/values.ts'
import { SI_UNIT } from '#core/units/units.ts'
import type { FieldProblem } from '../forms/use-form.ts'

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
export type InstrumentForm = Omit<Instrument, 'senses' | 'averagingTimeS'> & { senses: SensedForm[]; averagingTime: Entered | null }

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
  ...LATER_FIELDS.instrument,
  averagingTime: null,
  basis: 'as_indicated',
  active: true,
  note: '',
}

const plain = (value: number, unit: Unit): Entered => ({ si: value, typed: String(value), unit })

export function formOfInstrument({ senses, averagingTimeS, ...rest }: Instrument): InstrumentForm {
  return {
    ...rest,
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

/** The unit that a bare number of this quantity is typed in. */
export function unitOfQuantity(quantity: Quantity): Unit {
  return SI_UNIT[DIMENSION_OF_QUANTITY[quantity]]
}

/** Everything of the form that a saved instrument needs, or null while something required is missing. */
export function instrumentOfForm({ averagingTime, senses, ...rest }: InstrumentForm): Instrument | null {
  const complete: Instrument['senses'] = []
  for (const sensed of senses) {
    const { low, high, resolution, accuracyForm, percentOfReading, absolute } = sensed
    if (!low || !high || !resolution) return null
    const none = plain(0, unitOfQuantity(sensed.quantity))
    const accuracy =
      accuracyForm === 'none' ? null : { form: accuracyForm, percentOfReading: percentOfReading?.si ?? 0, absolute: absolute ?? none }
    complete.push({ quantity: sensed.quantity, low, high, resolution, accuracy })
  }
  return { ...rest, senses: complete, averagingTimeS: averagingTime?.si ?? null }
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
  const body = instrumentOfForm(form)
  return missing.length > 0 || !body ? missing : checkBody('instrument', body)
}
