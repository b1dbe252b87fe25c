import type { Entered, Quantity } from '#core/model/values.ts'
import { enteredText } from '#core/units/format.ts'
import type { Formatter } from '#core/units/formatter.ts'
import { unitLabel } from '#core/units/units.ts'

type None = Record<never, never>

const QUANTITY: Readonly<Record<Quantity, string>> = {
  velocity: 'Velocity',
  flow: 'Flow',
  pressure_difference: 'Pressure difference',
  velocity_pressure: 'Velocity pressure',
  temperature: 'Temperature',
  relative_humidity: 'Relative humidity',
  barometric_pressure: 'Barometric pressure',
}

const days = (count: number) => (count === 1 ? '1 day' : `${count} days`)
const entered = (value: Entered) => {
  const text = enteredText(value)
  return /[^\d.,\s−-]/.test(text) ? text : `${text} ${unitLabel(value.unit)}`
}

/** Words of the instruments screens and of the forms they share. Codes start with "instruments." */
export const instruments = {
  'instruments.title': (_p: None) => 'Instruments',
  'instruments.about': (_p: None) => 'What readings are taken with, and how long each may be used.',
  'instruments.add': (_p: None) => 'Add an instrument',
  'instruments.new': (_p: None) => 'New instrument',
  'instruments.empty': (_p: None) => 'No instruments yet',
  'instruments.empty_text': (_p: None) => 'Every reading names the instrument it was taken with. Add the anemometer that you measure with.',
  'instruments.gone': (_p: None) => 'This instrument is not in the project.',
  'instruments.column.name': (_p: None) => 'Instrument',
  'instruments.column.serial': (_p: None) => 'Serial number',
  'instruments.column.senses': (_p: None) => 'Measures',
  'instruments.column.sensing': (_p: None) => 'Sensing',
  'instruments.column.state': (_p: None) => 'Calibration today',
  'instruments.column.due': (_p: None) => 'Last valid day',
  'instruments.column.active': (_p: None) => 'In use',
  'instruments.in_use': (_p: None) => 'in use',
  'instruments.withdrawn': (_p: None) => 'withdrawn',
  'instruments.show_withdrawn': (_p: None) => 'Show withdrawn ones',
  'instruments.range': (p: { low: Entered; high: Entered }) =>
    p.low.unit === p.high.unit ? `${enteredText(p.low)} to ${entered(p.high)}` : `${entered(p.low)} to ${entered(p.high)}`,
  'instruments.sensed': (p: { quantity: Quantity; low: Entered; high: Entered }) =>
    `${QUANTITY[p.quantity]} ${enteredText(p.low)} to ${entered(p.high)}`,

  'instruments.quantity.velocity': (_p: None) => QUANTITY.velocity,
  'instruments.quantity.flow': (_p: None) => QUANTITY.flow,
  'instruments.quantity.pressure_difference': (_p: None) => QUANTITY.pressure_difference,
  'instruments.quantity.velocity_pressure': (_p: None) => QUANTITY.velocity_pressure,
  'instruments.quantity.temperature': (_p: None) => QUANTITY.temperature,
  'instruments.quantity.relative_humidity': (_p: None) => QUANTITY.relative_humidity,
  'instruments.quantity.barometric_pressure': (_p: None) => QUANTITY.barometric_pressure,

  'instruments.sensing.directional': (_p: None) => 'directional',
  'instruments.sensing.omnidirectional': (_p: None) => 'omnidirectional',
  'instruments.sensing.not_directional': (_p: None) => 'direction does not matter',

  'instruments.state.valid': (p: { dueOn: string }, f: Formatter) => `In calibration until ${f.date(p.dueOn)}`,
  'instruments.state.ends_soon': (p: { dueOn: string; days: number }, f: Formatter) =>
    p.days === 0 ? 'In calibration today for the last day' : `In calibration for ${days(p.days)} more, until ${f.date(p.dueOn)}`,
  'instruments.state.past_due': (p: { dueOn: string; days: number }, f: Formatter) =>
    `Past due for ${days(p.days)}, since ${f.date(p.dueOn)}. Verdicts of readings taken now read not valid.`,
  'instruments.state.none': (_p: None) => 'No certificate entered. Verdicts of its readings read not valid.',
  'instruments.state.before_first': (_p: None) => 'The first certificate begins in the future.',
  'instruments.state_short.valid': (_p: None) => 'in calibration',
  'instruments.state_short.ends_soon': (p: { days: number }) => (p.days === 0 ? 'last day' : `ends in ${days(p.days)}`),
  'instruments.state_short.past_due': (_p: None) => 'past due',
  'instruments.state_short.none': (_p: None) => 'no certificate',
  'instruments.state_short.before_first': (_p: None) => 'not yet valid',

  'instruments.what_it_is': (_p: None) => 'The instrument',
  'instruments.name': (_p: None) => 'Name',
  'instruments.serial': (_p: None) => 'Serial number',
  'instruments.sensing': (_p: None) => 'How it feels the air',
  'instruments.sensing_hint': (_p: None) =>
    'Directional: held to its direction mark, for air in one direction. Omnidirectional: for turbulent air or an unknown direction.',
  'instruments.reverse': (_p: None) => 'Reports reverse flow as a negative reading',
  'instruments.averaging': (_p: None) => 'Averages over',
  'instruments.averaging_hint': (_p: None) => 'Leave empty when it shows the momentary value.',
  'instruments.active': (_p: None) => 'In use (offered for new readings)',
  'instruments.note': (_p: None) => 'Note',
  'instruments.measures': (_p: None) => 'What it measures',
  'instruments.measure_add': (_p: None) => 'Add a quantity',
  'instruments.measure_remove': (p: { quantity: Quantity }) => `Remove ${QUANTITY[p.quantity].toLowerCase()}`,
  'instruments.quantity': (_p: None) => 'Quantity',
  'instruments.low': (_p: None) => 'From',
  'instruments.high': (_p: None) => 'To',
  'instruments.resolution': (_p: None) => 'Smallest step shown',
  'instruments.accuracy': (_p: None) => 'Accuracy statement',
  'instruments.accuracy.none': (_p: None) => 'not stated',
  'instruments.accuracy.sum_of': (_p: None) => 'percentage of reading plus an absolute part',
  'instruments.accuracy.greater_of': (_p: None) => 'percentage of reading or an absolute part, the greater',
  'instruments.percent': (_p: None) => 'Percentage of reading',
  'instruments.absolute': (_p: None) => 'Absolute part',

  'instruments.certificates': (_p: None) => 'Calibration certificates',
  'instruments.certificate_add': (_p: None) => 'Add a certificate',
  'instruments.certificate_edit': (p: { number: string }) => `Certificate ${p.number}`,
  'instruments.certificate_new': (_p: None) => 'New certificate',
  'instruments.certificates_empty': (_p: None) => 'No certificate yet. Without one, verdicts of its readings read not valid.',
  'instruments.certificates_first_save': (_p: None) => 'Save the instrument first; then its certificates can be added.',
  'instruments.certificate': (_p: None) => 'Certificate',
  'instruments.laboratory': (_p: None) => 'Laboratory',
  'instruments.calibrated_on': (_p: None) => 'Calibrated on',
  'instruments.due_on': (_p: None) => 'Due on',
  'instruments.due_hint': (_p: None) => 'The last valid day. A date given by month alone means its last day.',
  'instruments.found': (_p: None) => 'Found in tolerance when it arrived',
  'instruments.found.yes': (_p: None) => 'yes',
  'instruments.found.no': (_p: None) => 'no',
  'instruments.found.not_stated': (_p: None) => 'not stated',
  'instruments.found_no_text': (_p: None) =>
    'Readings since the certificate before this one need a look: the instrument was out of tolerance.',
  'instruments.narrower': (_p: None) => 'Calibrated over a narrower range than the instrument’s own',
  'instruments.release': (_p: None) => 'Release by a numbered deviation',
  'instruments.release_hint': (_p: None) => 'Releases readings that were made past due before this certificate. Verdicts then say so.',
  'instruments.release_number': (_p: None) => 'Number',
  'instruments.release_reason': (_p: None) => 'Reason',
  'instruments.released_by': (p: { number: string; reason: string }) => `Deviation ${p.number}: ${p.reason}`,

  'instruments.problem.missing': (_p: None) => 'This is needed. Enter it.',
  'instruments.form.problems': (p: { count: number }) =>
    p.count === 1 ? 'One field needs a look before this can be saved.' : `${p.count} fields need a look before this can be saved.`,
  'instruments.form.unsaved': (_p: None) => 'Not saved yet. What you typed stays here.',
  'instruments.form.revert': (_p: None) => 'Back to what is saved',
  'instruments.saved': (p: { name: string }) => `${p.name} is saved.`,
  'instruments.trail': (_p: None) => 'Who changed what',
}
