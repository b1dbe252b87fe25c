import { expect, test } from 'vitest'
import { say } from '#core/messages/say.ts'
import { questionReading } from '#core/methods/airflow/plausibility.ts'
import { flagsFor, refuseReading } from '#core/methods/airflow/reading-flags.ts'
import type { EntityBody } from '#core/model/entities.ts'
import { LATER_FIELDS } from '#core/model/later-fields.ts'
import type { Unit } from '#core/model/values.ts'
import { createFormatter } from '#core/units/format.ts'
import { parseEntered } from '#core/units/parse.ts'

const formatter = createFormatter({ velocity: 'm/s', flow: 'm3/h', length: 'm', pressure: 'Pa', temperature: 'degC' }, 'en', 'UTC')

const instrument: EntityBody<'instrument'> = {
  name: 'Anemometer 3',
  serialNumber: 'A-3',
  senses: [
    {
      quantity: 'velocity',
      low: { si: 0.05, typed: '0.05', unit: 'm/s' },
      high: { si: 30, typed: '30', unit: 'm/s' },
      resolution: { si: 0.01, typed: '0.01', unit: 'm/s' },
      accuracy: null,
    },
  ],
  sensing: 'directional',
  reportsReverseFlow: false,
  ...LATER_FIELDS.instrument,
  averagingTimeS: 5,
  basis: 'as_indicated',
  active: true,
  note: '',
}
const reversing: EntityBody<'instrument'> = { ...instrument, reportsReverseFlow: true }

const MPS = [0.46, 0.44, 0.45, 0.47]
const FPM = [92, 88, 90, 94].map((value) => value * 0.00508)
const TURBULENT = [0.22, 0.61, 0.38, 0.15]

type Case = { typed: string; unit: Unit; near?: number[]; design?: number | null; with?: EntityBody<'instrument'> }

function ask({ typed, unit, near = [], design = null, with: used = instrument }: Case) {
  const parsed = parseEntered(typed, unit)
  if (!parsed.ok) throw new Error(`${typed} is not read at all: ${parsed.problem.code}`)
  const { si, unit: typedUnit } = parsed.value
  return questionReading({ si, typed, unit: typedUnit, neighboursMps: near, designVelocityMps: design, instrument: used })
}

// Slips that technicians make (common practice): the decimal sign, the unit, a key twice or left out, a value no probe can see.
const slips: readonly (Case & { slip: string; code: string })[] = [
  { slip: 'a place too far', typed: '4.6', unit: 'm/s', near: MPS, code: 'question.decimal_slip' },
  { slip: 'a place too far, comma', typed: '4,6', unit: 'm/s', near: MPS, code: 'question.decimal_slip' },
  { slip: 'no decimal sign', typed: '45', unit: 'm/s', near: MPS, code: 'question.decimal_slip' },
  { slip: 'no decimal sign, zero in front', typed: '046', unit: 'm/s', near: MPS, code: 'question.no_decimal_sign' },
  { slip: 'no decimal sign, first reading', typed: '046', unit: 'm/s', code: 'question.no_decimal_sign' },
  { slip: 'no decimal sign, three digits', typed: '460', unit: 'm/s', near: MPS, code: 'question.decimal_slip' },
  { slip: 'a zero too many', typed: '0.045', unit: 'm/s', near: MPS, code: 'question.decimal_slip' },
  { slip: 'two zeros too many', typed: '0.0045', unit: 'm/s', near: MPS, code: 'question.decimal_slip' },
  { slip: 'first reading against the design', typed: '4.4', unit: 'm/s', design: 0.45, code: 'question.decimal_slip' },
  { slip: 'ft/min typed as m/s', typed: '92', unit: 'm/s', near: MPS, code: 'question.other_unit' },
  { slip: 'ft/min typed as m/s, first reading', typed: '92', unit: 'm/s', code: 'question.other_unit' },
  { slip: 'ft/min typed as m/s, only the design known', typed: '88', unit: 'm/s', design: 0.45, code: 'question.other_unit' },
  { slip: 'm/s typed as ft/min', typed: '0.46', unit: 'ft/min', near: FPM, code: 'question.other_unit' },
  { slip: 'm/s typed as ft/min, first reading', typed: '0.46', unit: 'ft/min', code: 'question.other_unit' },
  { slip: 'the wrong unit written out', typed: '0.46 fpm', unit: 'm/s', near: MPS, code: 'question.other_unit' },
  { slip: 'a digit left out', typed: '9', unit: 'ft/min', near: FPM, code: 'question.decimal_slip' },
  { slip: 'a digit twice', typed: '922', unit: 'ft/min', near: FPM, code: 'question.decimal_slip' },
  { slip: 'a zero behind', typed: '920', unit: 'ft/min', near: FPM, code: 'question.decimal_slip' },
  { slip: 'a digit in front', typed: '1.45', unit: 'm/s', near: MPS, code: 'question.far_from_others' },
  { slip: 'a digit twice behind the sign', typed: '0.446', unit: 'm/s', near: MPS, code: 'question.too_many_digits' },
  { slip: 'two readings run together', typed: '0.4546', unit: 'm/s', near: MPS, code: 'question.too_many_digits' },
  { slip: 'a decimal sign where none belongs', typed: '9.2', unit: 'ft/min', near: FPM, code: 'question.decimal_slip' },
  { slip: 'a slip in turbulent air', typed: '3.8', unit: 'm/s', near: TURBULENT, code: 'question.decimal_slip' },
  { slip: 'another place than the filter', typed: '2.1', unit: 'm/s', near: MPS, code: 'question.far_from_others' },
  { slip: 'no such face velocity', typed: '2.1', unit: 'm/s', code: 'question.unusual_velocity' },
  { slip: 'below what the probe senses', typed: '0.03', unit: 'm/s', code: 'question.below_range' },
  { slip: 'zero', typed: '0', unit: 'm/s', near: MPS, code: 'question.below_range' },
  { slip: 'above what the probe senses', typed: '35', unit: 'm/s', near: [], design: 20, code: 'question.above_range' },
  { slip: 'a minus that slipped in', typed: '-0.45', unit: 'm/s', near: MPS, with: reversing, code: 'question.reverse_flow' },
]

test.each(slips)('asked: $typed for $unit ($slip)', ({ code, ...typed }) => {
  const question = ask(typed)
  expect(question?.code).toBe(code)
  if (question) expect(say('en', formatter, question.code, question.params)).toMatch(/^[^?]+\? [^?]+[.?]$/)
})

const honest: readonly (Case & { why: string })[] = [
  { why: 'like its neighbours', typed: '0.46', unit: 'm/s', near: MPS },
  { why: 'like its neighbours, comma', typed: '0,43', unit: 'm/s', near: MPS },
  { why: 'like its neighbours, ft/min', typed: '92', unit: 'ft/min', near: FPM },
  { why: 'the first reading of a run', typed: '0.45', unit: 'm/s' },
  { why: 'the first reading, ft/min', typed: '90', unit: 'ft/min' },
  { why: 'the first reading of a filter with a design', typed: '0.38', unit: 'm/s', design: 0.45 },
  { why: 'a failing filter', typed: '0.31', unit: 'm/s', near: MPS },
  { why: 'the shadow of a lamp', typed: '0.19', unit: 'm/s', near: MPS },
  { why: 'a leaking frame', typed: '0.72', unit: 'm/s', near: MPS },
  { why: 'twice the others', typed: '0.92', unit: 'm/s', near: MPS },
  { why: 'a low turbulent point', typed: '0.12', unit: 'm/s', near: TURBULENT },
  { why: 'a high turbulent point', typed: '0.85', unit: 'm/s', near: TURBULENT },
  { why: 'low flow at its design', typed: '0.10', unit: 'm/s', near: [0.11, 0.1], design: 0.1 },
  { why: 'high flow at its design', typed: '1.20', unit: 'm/s', near: [1.15, 1.22], design: 1.2 },
  { why: 'a trailing zero', typed: '0.450', unit: 'm/s', near: MPS },
  { why: 'one decimal', typed: '0.5', unit: 'm/s', near: MPS },
  { why: 'no zero in front', typed: '.46', unit: 'm/s', near: MPS },
  { why: 'the other unit, written out and right', typed: '92 fpm', unit: 'm/s', near: MPS },
  { why: 'the neighbour before it was a slip left standing', typed: '0.45', unit: 'm/s', near: [4.6] },
  { why: 'two slips among the neighbours', typed: '0.44', unit: 'm/s', near: [4.6, 45, 0.46, 0.45] },
  { why: 'three figures in ft/min', typed: '105', unit: 'ft/min', near: FPM },
  { why: 'the damper was opened since', typed: '0.46', unit: 'm/s', near: [0.12, 0.13, 0.12], design: 0.45 },
  { why: 'the lower end of the range', typed: '0.05', unit: 'm/s', near: [0.08, 0.1, 0.06] },
  { why: 'tenths in ft/min from an instrument that shows m/s', typed: '90.6', unit: 'ft/min', near: FPM },
]

test.each(honest)('not asked: $typed for $unit ($why)', (typed) => {
  expect(ask(typed)).toBeNull()
})

test('the question is in the words and digits of the entry', () => {
  const words = (typed: Case) => {
    const question = ask(typed)
    return question && say('en', formatter, question.code, question.params).replaceAll('\u00a0', ' ')
  }
  expect(words({ typed: '4.6', unit: 'm/s', near: MPS })).toBe('4.60 m/s? The others lie near 0.46.')
  expect(words({ typed: '0.46', unit: 'ft/min', near: FPM })).toBe('0.46 ft/min? It would fit as 0.46 m/s.')
  expect(words({ typed: '92', unit: 'm/s', near: MPS })).toBe('92.00 m/s? It would fit as 92 ft/min.')
  expect(words({ typed: '046', unit: 'm/s' })).toBe('“046”? Was 0.46 m/s meant?')
})

const certificate: EntityBody<'calibration'> = {
  certificateNumber: 'C-1',
  laboratory: '',
  calibratedOn: '2025-11-01',
  dueOn: '2026-11-01',
  range: {
    quantity: 'velocity',
    low: { si: 0.2, typed: '0.2', unit: 'm/s' },
    high: { si: 2, typed: '2', unit: 'm/s' },
  },
  foundInTolerance: null,
  ...LATER_FIELDS.calibration,
  release: null,
  note: '',
}
const usual = {
  quantity: 'velocity',
  instrument,
  calibrations: [certificate],
  localDate: '2026-11-01',
  averagingTimeS: 5,
  leastAveragingTimeS: 5,
  questioned: false,
} as const

test('flags: calibrated range as well as the instrument range, due date, averaging, question', () => {
  expect(flagsFor({ ...usual, si: 0.45 })).toEqual([])
  expect(flagsFor({ ...usual, si: 0.1 })).toEqual(['below_range'])
  // Zero is below any range, also one that begins at zero.
  const [sensed] = usual.instrument.senses
  if (!sensed) throw new Error('the probe senses something')
  const fromZero = { ...usual.instrument, senses: [{ ...sensed, low: { si: 0, typed: '0', unit: 'm/s' } as const }] }
  expect(flagsFor({ ...usual, calibrations: [], instrument: fromZero, si: 0 })).toContain('below_range')
  expect(flagsFor({ ...usual, si: 0.1, calibrations: [{ ...certificate, range: null }] })).toEqual([])
  expect(flagsFor({ ...usual, si: 2.5 })).toEqual(['above_range'])
  expect(flagsFor({ ...usual, si: 0.45, localDate: '2026-11-02' })).toEqual(['past_due'])
  expect(flagsFor({ ...usual, si: 0.45, localDate: '2025-10-31' })).toEqual(['past_due'])
  expect(flagsFor({ ...usual, si: 0.45, calibrations: [] })).toEqual(['past_due'])
  expect(flagsFor({ ...usual, si: 0.45, averagingTimeS: 3 })).toEqual(['short_averaging'])
  expect(flagsFor({ ...usual, si: 0.45, averagingTimeS: 5, leastAveragingTimeS: 10 })).toEqual(['short_averaging'])
  expect(flagsFor({ ...usual, si: 4.5, questioned: true })).toEqual(['above_range', 'questioned'])
  expect(flagsFor({ ...usual, si: -0.45, instrument: reversing })).toEqual(['reverse_flow'])
  expect(flagsFor({ ...usual, si: 0.2 })).toEqual([])
  expect(flagsFor({ ...usual, si: 2 })).toEqual([])
})

test('refused: a quantity that cannot be sensed, and reverse flow from a probe that does not know the sign', () => {
  expect(refuseReading({ si: 0.45, quantity: 'velocity', instrument })).toBeNull()
  expect(refuseReading({ si: 21, quantity: 'temperature', instrument })).toMatchObject({ code: 'refusal.cannot_sense' })
  expect(refuseReading({ si: -0.1, quantity: 'velocity', instrument })).toMatchObject({ code: 'refusal.no_reverse_flow' })
  expect(refuseReading({ si: -0.1, quantity: 'velocity', instrument: reversing })).toBeNull()
})
