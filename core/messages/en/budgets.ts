import type { Dimension } from '#core/model/values.ts'
import type { Formatter } from '#core/units/formatter.ts'
import { ended } from '../words.ts'

type Named = { instrument: string; serialNumber: string }
type Certified = Named & { certificate: string }

function number(f: Formatter, value: number): string {
  return f.significant(value, 4)
}

function spread(percent: number, absolute: number, dimension: Dimension, join: string, f: Formatter): string {
  const parts = [
    ...(percent > 0 ? [`${number(f, percent)} % of the reading`] : []),
    ...(absolute > 0 ? [f.uncertainty(absolute, dimension)] : []),
  ]
  return parts.length === 0 ? 'nothing' : parts.join(join)
}

type Accuracy = { form: 'sum_of' | 'greater_of'; percentOfReading: number; absolute: number; dimension: Dimension }

function accuracy({ form, percentOfReading, absolute, dimension }: Accuracy, f: Formatter): string {
  const words = spread(percentOfReading, absolute, dimension, form === 'sum_of' ? ' plus ' : ' or ', f)
  return form === 'greater_of' && percentOfReading > 0 && absolute > 0 ? `${words}, whichever is greater` : words
}

type Air = {
  temperatureK: number
  pressurePa: number
  pressureFrom: 'measured' | 'altitude' | null
  relativeHumidityPercent: number | null
  relative: number
}

function airWords({ temperatureK, pressurePa, pressureFrom, relativeHumidityPercent, relative }: Air, f: Formatter): string {
  const humidity = relativeHumidityPercent === null ? 'humidity not measured' : `humidity within ${number(f, relativeHumidityPercent)} %`
  const pressure = `${pressureFrom === 'altitude' ? 'pressure not measured but taken from the altitude, the weather moves it' : 'pressure'} within ${number(f, pressurePa)} Pa`
  return `${number(f, 100 * relative)} % of it, one standard uncertainty: temperature within ${number(f, temperatureK)} K, ${pressure}, ${humidity}`
}

/** Where the size of a budget's term comes from. */
export const budgets = {
  'budget.origin.certificate': (
    p: Certified & { figure: { expandedPercentOfReading: number; expandedAbsolute: number; coverageFactor: number; dimension: Dimension } },
    f: Formatter,
  ) => {
    const { expandedPercentOfReading, expandedAbsolute, coverageFactor, dimension } = p.figure
    return `Certificate ${p.certificate} of ${p.instrument} (${p.serialNumber}): U = ${spread(expandedPercentOfReading, expandedAbsolute, dimension, ' plus ', f)}, k = ${number(f, coverageFactor)}. The same error at every reading, so that it does not average out.`
  },
  'budget.origin.points': (p: Certified & { figure: { points: number } }) =>
    `Certificate ${p.certificate} of ${p.instrument} (${p.serialNumber}): U of its ${p.figure.points} calibration points, which correct the readings, on a straight line between them.`,
  'budget.origin.accuracy': (p: Named & { figure: Accuracy }, f: Formatter) =>
    `Accuracy statement of ${p.instrument} (${p.serialNumber}): within ${accuracy(p.figure, f)}; a rectangle. The same error at every reading.`,
  'budget.origin.drift': (p: Certified & { figure: { halfWidth: number; dimension: Dimension } }, f: Formatter) =>
    `${p.instrument} (${p.serialNumber}) may drift by ${f.uncertainty(p.figure.halfWidth, p.figure.dimension)} until the due date of certificate ${p.certificate}; a rectangle. With calibration points this and the next term take the place of the accuracy statement.`,
  'budget.origin.drift_not_stated': (p: Certified & { figure: Accuracy }, f: Formatter) =>
    `Certificate ${p.certificate} states no drift of ${p.instrument} (${p.serialNumber}): it may have drifted as far as its accuracy statement allows, ${accuracy(p.figure, f)}; a rectangle. A drift of 0 counts where the certificate states it.`,
  'budget.origin.drift_unknown': (p: Certified) =>
    `Certificate ${p.certificate} states no drift of ${p.instrument} (${p.serialNumber}), and the instrument has no accuracy statement to take in its place: nothing is counted. Enter the drift with the certificate.`,
  'budget.origin.interpolation': (p: Certified) =>
    `Between two points of certificate ${p.certificate} of ${p.instrument} (${p.serialNumber}) the line may miss half the difference of their corrections; a rectangle. A convention of this program.`,
  'budget.origin.resolution': (p: Named & { figure: { step: number; dimension: Dimension } }, f: Formatter) =>
    `Half a step of ${f.uncertainty(p.figure.step, p.figure.dimension)} of the display of ${p.instrument} (${p.serialNumber}); a rectangle. Not divided by the number of readings, since steady air shows the same step every time.`,
  'budget.origin.spatial': (p: { tag: string; figure: { points: number } }) =>
    `${p.tag}: standard deviation of its ${p.figure.points} points over the square root of their number, ${p.figure.points - 1} degrees of freedom. A cautious convention: the points differ also because the air does.`,
  'budget.origin.repeat': (p: { tag: string; figure: { repeats: number } }) =>
    `${p.tag}: standard deviation of ${p.figure.repeats} repeats over the square root of their number.`,
  'budget.origin.traverse_rule': (p: { figure: { percent: number } }, f: Formatter) =>
    `The traverse rule and its points against the true mean: ${number(f, p.figure.percent)} % of the mean, one standard uncertainty, from the criteria set.`,
  'budget.origin.hood_factor': (p: { tag: string; figure: { relative: number } }, f: Formatter) =>
    `The hood's factor at ${p.tag}: ${number(f, 100 * p.figure.relative)} % of the flow, one standard uncertainty; the same error at every terminal of this face.`,
  'budget.origin.flow_element': (p: { tag: string; figure: { percent: number } }, f: Formatter) =>
    `Flow element of ${p.tag}, its coefficient with its bore, or the flow stated for it: within ${number(f, p.figure.percent)} %, from the criteria set; a rectangle. The same error at every repeat.`,
  'budget.origin.own_flow_element': (p: { tag: string; figure: { percent: number } }, f: Formatter) =>
    `Flow element of ${p.tag}, its coefficient with its bore, or the flow stated for it: within ${number(f, p.figure.percent)} %, as entered there; a rectangle. The same error at every repeat.`,
  'budget.origin.correction_factor': (p: { tag: string; because: string; figure: { percent: number } }, f: Formatter) =>
    `Correction factor of ${p.tag}: within ${number(f, p.figure.percent)} %; a rectangle. ${ended(p.because)}`,
  'budget.origin.area': (p: { tag: string; figure: { percent: number; areaM2: number } }, f: Formatter) =>
    `Effective area of ${p.tag}, ${f.quantity(p.figure.areaM2, 'area')}: within ${number(f, p.figure.percent)} %, from the criteria set; a rectangle. Filters of one model have the same error.`,
  'budget.origin.own_area': (p: { tag: string; figure: { percent: number; areaM2: number } }, f: Formatter) =>
    `Effective area of ${p.tag}, ${f.quantity(p.figure.areaM2, 'area')}: within ${number(f, p.figure.percent)} %, as entered there; a rectangle. Filters of one model have the same error.`,
  'budget.origin.volume': (p: { figure: { percent: number } }, f: Formatter) =>
    `Volume of the room: within ${number(f, p.figure.percent)} %; a rectangle.`,
  'budget.origin.density': (p: { figure: Air }, f: Formatter) =>
    `Density of the air, ${airWords(p.figure, f)}. The same error in every figure that was converted with it.`,
  'budget.origin.density_at_instrument': (p: { figure: Air }, f: Formatter) =>
    `Density of the air at the instrument, whose conditions were recorded separately, ${airWords(p.figure, f)}. Taken as independent of the air at the filter; the same error in every figure that was converted with it.`,
}
