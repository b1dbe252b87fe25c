import type { Entered, Quantity, Unit } from '#core/model/values.ts'
import type { Formatter } from '#core/units/formatter.ts'
import { unitLabel } from '#core/units/units.ts'
import { enteredRange } from '../entered-words.ts'

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

type Shown = 'velocity' | 'flow' | 'velocity_and_flow'
type Indication = 'standard' | 'standard_by_pressure' | 'actual' | 'as_indicated'
const SHOWN: Readonly<Record<Shown, string>> = { velocity: 'velocity', flow: 'flow', velocity_and_flow: 'velocity and flow' }
/** What works in each way, by what is shown: a hood holds no probe into the air. */
const STANDARD_WORKS: Readonly<Record<Shown, readonly [thermal: string, actual: string]>> = {
  velocity: [' (thermal probes)', ' (rotating vanes)'],
  flow: [' (hoods with a thermal sensor)', ' (hoods that correct for temperature and pressure)'],
  velocity_and_flow: [' (thermal sensors)', ' (rotating vanes)'],
}

function speaksOf({ choice, shown }: { choice: Indication; shown: Shown }): string {
  const [thermal, actual] = STANDARD_WORKS[shown]
  switch (choice) {
    case 'standard':
      return `Standard air, in proportion to density${thermal}`
    case 'standard_by_pressure':
      return 'Standard air, worked out from a pressure'
    case 'actual':
      return `The air as it is${actual}`
    case 'as_indicated':
      return 'Not stated: nothing is converted'
  }
}

function speaksOfHint({ choice, shown }: { choice: Indication; shown: Shown }): string {
  const what = SHOWN[shown]
  switch (choice) {
    case 'standard':
      return `It shows the ${what} that air at its standard condition would have. The actual ${what} follows by the ratio of the densities.`
    case 'standard_by_pressure':
      return `It works as if all air had its standard density. The actual ${what} follows by the square root of the ratio of the densities.`
    case 'actual':
      return `The ${what} is taken as read; density is only needed for standard air.`
    case 'as_indicated':
      return 'Criteria on actual or standard air will read not tested. Look into the data sheet.'
  }
}
/** Which of a certificate's points are meant: as found and as left differ where the instrument was adjusted, and a certificate here holds one list. */
function pointsMeant({ found, corrects }: { found: 'yes' | 'no' | 'not_stated'; corrects: boolean }): string {
  if (found !== 'no') {
    return corrects
      ? 'Enter the points as left, after any adjustment: readings from this day on are corrected by them.'
      : 'Enter the points as left, after any adjustment. Readings are corrected by them once the instrument is set to it.'
  }
  return corrects
    ? 'Enter the points as left, after adjustment: readings from this day on are corrected by them. The preview of the readings in doubt takes the same points for those as found: trust its column “Corrected” only if nothing was adjusted.'
    : 'Enter the points as found, before any adjustment: the preview of the readings in doubt is corrected by them. Nothing else rests on them, as this instrument’s readings are not corrected by points.'
}

const days = (count: number) => (count === 1 ? '1 day' : `${count} days`)

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
  'instruments.withdrawn': (_p: None) => 'withdrawn',
  'instruments.show_withdrawn': (_p: None) => 'Show withdrawn ones',
  'instruments.sensed': (p: { quantity: Quantity }) => QUANTITY[p.quantity],
  'instruments.range': (p: { low: Entered; high: Entered }) => enteredRange(p.low, p.high),

  'instruments.quantity.velocity': (_p: None) => QUANTITY.velocity,
  'instruments.quantity.flow': (_p: None) => QUANTITY.flow,
  'instruments.quantity.pressure_difference': (_p: None) => QUANTITY.pressure_difference,
  'instruments.quantity.velocity_pressure': (_p: None) => QUANTITY.velocity_pressure,
  'instruments.quantity.temperature': (_p: None) => QUANTITY.temperature,
  'instruments.quantity.relative_humidity': (_p: None) => QUANTITY.relative_humidity,
  'instruments.quantity.barometric_pressure': (_p: None) => QUANTITY.barometric_pressure,

  'instruments.sensing.directional': (_p: None) => 'directional',
  'instruments.sensing.omnidirectional': (_p: None) => 'omnidirectional',
  'instruments.sensing.nothing': (_p: None) => '—',
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

  'instruments.doubt': (p: { deviation: string | null }) =>
    p.deviation === null ? 'readings in doubt' : `readings in doubt: deviation ${p.deviation}`,
  'instruments.doubt_long': (p: { certificate: string }) =>
    `Found out of tolerance by certificate ${p.certificate}: readings made before are in doubt`,

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

  'instruments.indication': (_p: None) => 'What its display speaks of',
  'instruments.speaks_of': (p: { of: { shown: Shown } }) =>
    `The ${SHOWN[p.of.shown]} shown ${p.of.shown === 'velocity_and_flow' ? 'are' : 'is'} of`,
  'instruments.speaks_of.choice': (p: { of: { choice: Indication; shown: Shown } }) => speaksOf(p.of),
  'instruments.speaks_of.hint': (p: { of: { choice: Indication; shown: Shown } }) => speaksOfHint(p.of),
  'instruments.speaks_of.pressure': (_p: None) =>
    'A pressure speaks of no air. The density that makes a velocity or flow of it comes from the conditions of the run. With a standard condition those are told for standard air as well; it may stay empty.',
  'instruments.speaks_of.no_air': (_p: None) => 'It shows no velocity or flow: there is nothing to convert.',
  'instruments.standard.usual': (_p: None) => 'Its standard condition: usual ones',
  'instruments.standard.proposal': (p: { temperatureC: number; pressurePa: number }, f: Formatter) =>
    `${f.quantity(p.temperatureC, 'temperature', { digits: 1 })} · ${f.quantity(p.pressurePa, 'pressure', { unit: 'kPa', digits: 3 })}`,
  'instruments.standard.hint': (_p: None) =>
    'Proposals only (common practice): makers differ. Take the one in the data sheet or on the certificate; nothing is assumed without you.',
  'instruments.standard.temperature': (_p: None) => 'Standard temperature',
  'instruments.standard.pressure': (_p: None) => 'Standard pressure',
  'instruments.standard.density': (_p: None) => 'Dry-air density that follows',
  'instruments.standard.density_value': (p: { kgpm3: number | null }, f: Formatter) =>
    p.kgpm3 === null ? '—' : `${f.decimal(p.kgpm3, 4)} kg/m³`,
  'instruments.corrects': (_p: None) => 'Correct readings by the points of its certificate',
  'instruments.corrects_hint': (_p: None) =>
    'Between two points the correction is interpolated. The certificate’s uncertainty, drift and interpolation then replace the accuracy statement; where no drift is stated, that statement counts as the drift.',
  'instruments.hood': (_p: None) => 'Hood factors',
  'instruments.hood.about': (_p: None) =>
    'The hood’s own correction for each kind of face, as found by a duct traverse or a certificate. Flow shown times factor is the flow.',
  'instruments.hood.add': (_p: None) => 'Add a factor',
  'instruments.hood.remove': (p: { number: number }) => `Remove factor ${p.number}`,
  'instruments.hood.face': (_p: None) => 'Over a',
  'instruments.hood.factor': (_p: None) => 'Factor',
  'instruments.hood.uncertainty': (_p: None) => 'Half width',
  'instruments.hood.reason': (_p: None) => 'Where the factor comes from',
  'instruments.problem.factor': (_p: None) => 'Enter a factor above 0 and at most 5.',
  'instruments.problem.share': (_p: None) => 'Enter a percentage from 0 to 50.',
  'instruments.problem.coverage': (_p: None) => 'Enter a coverage factor above 0 and at most 10, usually 2.',

  'instruments.points': (_p: None) => 'Calibration points',
  'instruments.points.about': (_p: None) => 'What it showed, what was true, and the laboratory’s U with its k, as on the certificate.',
  'instruments.points.meaning': (p: { of: { found: 'yes' | 'no' | 'not_stated'; corrects: boolean } }) => pointsMeant(p.of),
  'instruments.points.of': (p: { what: string; number: number }) => `${p.what}, point ${p.number}`,
  'instruments.points.add': (_p: None) => 'Add a point',
  'instruments.points.remove': (p: { number: number }) => `Remove point ${p.number}`,
  'instruments.points.reading': (_p: None) => 'It showed',
  'instruments.points.true_value': (_p: None) => 'True value',
  'instruments.points.uncertainty': (_p: None) => 'U',
  'instruments.points.coverage': (_p: None) => 'k',
  'instruments.chart': (p: { quantity: Quantity; points: number }) =>
    `Corrections of ${QUANTITY[p.quantity].toLowerCase()} at ${p.points} points, with their U`,
  'instruments.chart.across': (p: { quantity: Quantity; unit: Unit }) => `${QUANTITY[p.quantity]} as shown, ${unitLabel(p.unit)}`,
  'instruments.chart.up': (p: { unit: Unit }) => `Correction, ${unitLabel(p.unit)}`,
  'instruments.chart.number': (p: { value: number; digits: number }, f: Formatter) => f.decimal(p.value, p.digits),
  'instruments.stated': (_p: None) => 'Uncertainty stated for the whole range',
  'instruments.stated.add': (_p: None) => 'Add a stated uncertainty',
  'instruments.stated.percent': (_p: None) => 'U, of reading',
  'instruments.stated.absolute': (_p: None) => 'U, absolute part',
  'instruments.drift': (_p: None) => 'Drift until the due date',
  'instruments.drift.add': (_p: None) => 'Add a drift',
  'instruments.drift.half_width': (_p: None) => 'Within ±',
  'instruments.stated.remove': (p: { quantity: Quantity }) => `Remove the line of ${QUANTITY[p.quantity].toLowerCase()}`,

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
}
