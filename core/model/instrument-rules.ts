import type { Calibration, Instrument } from './instruments.ts'
import { checkDifference, checkEntered, checkRange, checkUnique, DIMENSION_OF_QUANTITY, type RuleProblem } from './rule-problem.ts'
import type { Entered, Quantity } from './values.ts'

/** What a standard condition may sensibly be: every one in use lies well inside. A rule of the house. */
export const STANDARD_CONDITION_RANGE = { temperatureC: { low: -10, high: 40 }, pressurePa: { low: 85_000, high: 110_000 } } as const

function checkSenses({ senses }: Instrument): RuleProblem[] {
  const quantities = senses.map((sensed) => sensed.quantity)
  return [
    ...checkUnique(quantities, (index) => `senses.${index}.quantity`),
    ...senses.flatMap((sensed, index) => {
      const dimension = DIMENSION_OF_QUANTITY[sensed.quantity]
      const absolute = sensed.accuracy?.absolute ?? null
      return [
        ...checkRange(`senses.${index}.`, sensed.low, sensed.high, dimension),
        ...checkDifference(`senses.${index}.resolution`, sensed.resolution, dimension, 'above_zero'),
        ...checkDifference(`senses.${index}.accuracy.absolute`, absolute, dimension, 'not_below_zero'),
      ]
    }),
  ]
}

function checkBetween(field: string, entered: Entered, dimension: 'temperature' | 'pressure', ends: { low: number; high: number }) {
  const problems = checkEntered(field, entered, dimension)
  if (problems.length > 0 || (entered.si >= ends.low && entered.si <= ends.high)) return problems
  return [{ field, code: 'rule.standard_condition_range', params: { dimension, ...ends } } satisfies RuleProblem]
}

function checkStandardCondition({ standardCondition }: Instrument): RuleProblem[] {
  if (!standardCondition) return []
  const { temperatureC, pressurePa } = STANDARD_CONDITION_RANGE
  return [
    ...checkBetween('standardCondition.temperature', standardCondition.temperature, 'temperature', temperatureC),
    ...checkBetween('standardCondition.pressure', standardCondition.pressure, 'pressure', pressurePa),
  ]
}

function checkHoodFactors({ hoodFactors }: Instrument): RuleProblem[] {
  return hoodFactors.flatMap((factor, index): RuleProblem[] => {
    const own = checkRange(`hoodFactors.${index}.`, factor.low, factor.high, 'flow')
    if (own.length > 0) return own
    // Two ranges of one face may touch: the flow where they meet belongs to both. Lying over each other leaves two answers.
    const overlaps = hoodFactors
      .slice(0, index)
      .some((before) => before.face === factor.face && factor.low.si < before.high.si && before.low.si < factor.high.si)
    return overlaps ? [{ field: `hoodFactors.${index}.low`, code: 'rule.factor_ranges_overlap', params: { face: factor.face } }] : []
  })
}

/** An instrument: quantities once each, ranges in order, a sensible standard condition, hood factors that leave one answer. */
export function checkInstrument(instrument: Instrument): RuleProblem[] {
  return [...checkSenses(instrument), ...checkStandardCondition(instrument), ...checkHoodFactors(instrument)]
}

function checkPoints({ points }: Calibration): RuleProblem[] {
  return points.flatMap((point, index): RuleProblem[] => {
    const field = `points.${index}`
    const dimension = DIMENSION_OF_QUANTITY[point.quantity]
    const own = [
      ...checkEntered(`${field}.reading`, point.reading, dimension),
      ...checkEntered(`${field}.trueValue`, point.trueValue, dimension),
      ...checkDifference(`${field}.expandedUncertainty`, point.expandedUncertainty, dimension, 'not_below_zero'),
    ]
    const again = points.slice(0, index).some((before) => before.quantity === point.quantity && isSame(before.reading.si, point.reading.si))
    return own.length === 0 && again ? [{ field: `${field}.reading`, code: 'rule.same_reading_twice', params: {} }] : own
  })
}

/** Two typed readings, perhaps in two units, that stand for one. */
function isSame(one: number, other: number): boolean {
  return Math.abs(one - other) <= 1e-9 * Math.max(Math.abs(one), Math.abs(other))
}

function checkStated({ uncertainty, drift }: Calibration): RuleProblem[] {
  const once = (lines: readonly { quantity: Quantity }[], field: string) =>
    checkUnique(
      lines.map(({ quantity }) => quantity),
      (index) => `${field}.${index}.quantity`,
    )
  return [
    ...once(uncertainty, 'uncertainty'),
    ...uncertainty.flatMap(({ quantity, expandedAbsolute }, index) => {
      const dimension = DIMENSION_OF_QUANTITY[quantity]
      return checkDifference(`uncertainty.${index}.expandedAbsolute`, expandedAbsolute, dimension, 'not_below_zero')
    }),
    ...once(drift, 'drift'),
    ...drift.flatMap(({ quantity, halfWidth }, index) => {
      const dimension = DIMENSION_OF_QUANTITY[quantity]
      return checkDifference(`drift.${index}.halfWidth`, halfWidth, dimension, 'not_below_zero')
    }),
  ]
}

/** A certificate: dates and range in order, points with one reading each, stated lines once per quantity, units that fit. */
export function checkCalibration(calibration: Calibration): RuleProblem[] {
  const { calibratedOn, dueOn, range } = calibration
  return [
    ...(dueOn < calibratedOn ? [{ field: 'dueOn', code: 'rule.due_before_calibrated', params: { calibratedOn, dueOn } } as const] : []),
    ...(range ? checkRange('range.', range.low, range.high, DIMENSION_OF_QUANTITY[range.quantity]) : []),
    ...checkPoints(calibration),
    ...checkStated(calibration),
  ]
}
