import { expect, test } from 'vitest'
import type { Calibration, Instrument } from '#core/model/instruments.ts'
import { LATER_FIELDS } from '#core/model/later-fields.ts'
import { checkBody } from '#core/model/rules.ts'
import type { Terminal } from '#core/model/terminals.ts'
import type { Entered, Unit } from '#core/model/values.ts'
import { parseEntered } from '#core/units/parse.ts'

function typed(text: string, unit: Unit): Entered {
  const parsed = parseEntered(text, unit)
  if (!parsed.ok) throw new Error(text)
  return parsed.value
}

const hood: Instrument = {
  name: 'Hood',
  serialNumber: 'H-1',
  senses: [{ quantity: 'flow', low: typed('40', 'm3/h'), high: typed('4000', 'm3/h'), resolution: typed('1', 'm3/h'), accuracy: null }],
  sensing: 'not_directional',
  reportsReverseFlow: false,
  ...LATER_FIELDS.instrument,
  averagingTimeS: null,
  basis: 'standard',
  standardCondition: { temperature: typed('21.1', 'degC'), pressure: typed('101.325', 'kPa') },
  active: true,
  note: '',
}
const certificate: Calibration = {
  certificateNumber: 'C-1',
  laboratory: '',
  calibratedOn: '2026-01-05',
  dueOn: '2027-01-04',
  range: null,
  foundInTolerance: null,
  release: null,
  ...LATER_FIELDS.calibration,
  note: '',
}
const factor = (face: 'swirl' | 'grille', low: string, high: string): Instrument['hoodFactors'][number] => ({
  face,
  low: typed(low, 'm3/h'),
  high: typed(high, 'm3/h'),
  factor: 1.05,
  uncertaintyPercent: null,
  reason: 'duct traverse',
})
const point = (reading: string, trueValue: string, unit: Unit, uncertainty = '0.01'): Calibration['points'][number] => ({
  quantity: 'velocity',
  reading: typed(reading, unit),
  trueValue: typed(trueValue, unit),
  expandedUncertainty: typed(uncertainty, unit),
  coverageFactor: 2,
})
const ofInstrument = (patch: Partial<Instrument>) => checkBody('instrument', { ...hood, ...patch }).map(({ field, code }) => [field, code])
const ofCertificate = (patch: Partial<Calibration>) =>
  checkBody('calibration', { ...certificate, ...patch }).map(({ field, code }) => [field, code])

test('a standard condition is a temperature and a pressure of a sensible state', () => {
  expect(ofInstrument({})).toEqual([])
  const at = (temperature: Entered, pressure: Entered) => ofInstrument({ standardCondition: { temperature, pressure } })
  expect(at(typed('70', 'degF'), typed('29.92', 'inHg'))).toEqual([])
  expect(at(typed('101', 'degC'), typed('21', 'Pa'))).toEqual([
    ['standardCondition.temperature', 'rule.standard_condition_range'],
    ['standardCondition.pressure', 'rule.standard_condition_range'],
  ])
  expect(at(typed('1', 'm'), typed('101.325', 'kPa'))).toEqual([['standardCondition.temperature', 'rule.dimension']])
})

test('hood factors of one face may touch but not lie over each other; those of another face may', () => {
  expect(
    ofInstrument({ hoodFactors: [factor('swirl', '100', '500'), factor('swirl', '500', '900'), factor('grille', '200', '700')] }),
  ).toEqual([])
  expect(ofInstrument({ hoodFactors: [factor('swirl', '100', '500'), factor('swirl', '499', '900')] })).toEqual([
    ['hoodFactors.1.low', 'rule.factor_ranges_overlap'],
  ])
  expect(ofInstrument({ hoodFactors: [factor('swirl', '500', '100')] })).toEqual([['hoodFactors.0.high', 'rule.low_not_below_high']])
})

test('calibration points have one reading each, also across units, and units of their quantity', () => {
  expect(ofCertificate({ points: [point('0.2', '0.21', 'm/s'), point('0.5', '0.49', 'm/s')] })).toEqual([])
  // 100 ft/min is 0.508 m/s exactly (1 ft = 0.3048 m by definition).
  expect(ofCertificate({ points: [point('100', '101', 'ft/min', '2'), point('0.508', '0.51', 'm/s')] })).toEqual([
    ['points.1.reading', 'rule.same_reading_twice'],
  ])
  expect(ofCertificate({ points: [point('5', '5', 'Pa')] }).map(([field]) => field)).toEqual([
    'points.0.reading',
    'points.0.trueValue',
    'points.0.expandedUncertainty',
  ])
  expect(ofCertificate({ points: [point('0.2', '0.21', 'm/s', '-0.01')] })).toEqual([
    ['points.0.expandedUncertainty', 'rule.not_below_zero'],
  ])
})

test('stated uncertainty and drift stand once per quantity', () => {
  const drift = { quantity: 'velocity', halfWidth: typed('0.01', 'm/s') } as const
  expect(ofCertificate({ drift: [drift, drift] })).toEqual([['drift.1.quantity', 'rule.repeated']])
  const stated = { quantity: 'velocity', expandedPercentOfReading: 2, expandedAbsolute: typed('1', 'Pa'), coverageFactor: 2 } as const
  expect(ofCertificate({ uncertainty: [stated] })).toEqual([['uncertainty.0.expandedAbsolute', 'rule.dimension']])
})

test('a duct is traversed by a rule that its shape has, and an orifice is smaller than its duct', () => {
  const terminal: Terminal = {
    tag: 'D-1',
    kind: 'duct_section',
    zoneId: null,
    x: 0,
    y: 0,
    rotationDegrees: 0,
    mounting: 'duct',
    grossWidth: typed('0.4', 'm'),
    grossDepth: typed('0.3', 'm'),
    effectiveArea: typed('0.12', 'm2'),
    face: 'bare',
    airSource: 'air_handler',
    designVelocity: null,
    designFlow: null,
    correctionFactor: null,
    grid: null,
    closed: null,
    ...LATER_FIELDS.terminal,
    note: '',
  }
  const duct: NonNullable<Terminal['duct']> = {
    section: { shape: 'round', diameter: typed('315', 'mm') },
    rule: 'log_tchebycheff',
    lines: null,
    pointsPerLine: null,
    measures: 'velocity',
    pitotCoefficient: 1,
    direction: 'supply',
    countsInRoom: true,
    straightBefore: null,
    straightAfter: null,
    cyclonic: null,
  }
  const problems = (patch: Partial<Terminal>) => checkBody('terminal', { ...terminal, ...patch }).map(({ field, code }) => [field, code])
  expect(problems({ duct })).toEqual([['duct.rule', 'rule.traverse_rule_shape']])
  expect(problems({ duct: { ...duct, rule: 'log_linear' } })).toEqual([])
  expect(problems({ duct: { ...duct, rule: 'equal_area', straightBefore: typed('-1', 'm') } })).toEqual([
    ['duct.straightBefore', 'rule.not_below_zero'],
  ])
  const sizes = { boreDiameter: typed('0.3', 'm'), ductDiameter: typed('0.3', 'm') }
  const flowElement = { kind: 'discharge', coefficient: 0.6, expansibility: 1, uncertaintyPercent: null, ...sizes } as const
  expect(problems({ flowElement })).toEqual([['flowElement.boreDiameter', 'rule.bore_not_below_duct']])
})
