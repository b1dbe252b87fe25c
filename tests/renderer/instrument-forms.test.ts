import { describe, expect, test } from 'vitest'
import { ENTITY_SCHEMAS, type EntityBody } from '#core/model/entities.ts'
import { LATER_FIELDS } from '#core/model/later-fields.ts'
import type { Entered } from '#core/model/values.ts'
import { calibrationOfForm, calibrationProblems, formOfCalibration, NEW_CALIBRATION } from '#renderer/instruments/calibration-form.ts'
import { calibrationState, coverOfVisit } from '#renderer/instruments/calibration-state.ts'
import { correctionsOf } from '#renderer/instruments/evidence-form.ts'
import { standardDensityKgpm3 } from '#renderer/instruments/indication-form.ts'
import {
  formOfInstrument,
  instrumentOfForm,
  instrumentProblems,
  NEW_INSTRUMENT,
  NEW_SENSED,
} from '#renderer/instruments/instrument-form.ts'

const mps = (si: number): Entered => ({ si, typed: String(si), unit: 'm/s' })
const cubic = (perHour: number): Entered => ({ si: perHour / 3600, typed: String(perHour), unit: 'm3/h' })

const anemometer: EntityBody<'instrument'> = {
  name: 'Anemometer 1',
  serialNumber: 'S-1',
  senses: [
    {
      quantity: 'velocity',
      low: mps(0.05),
      high: mps(5),
      resolution: mps(0.01),
      accuracy: { form: 'greater_of', percentOfReading: 3, absolute: mps(0.02) },
    },
    {
      quantity: 'temperature',
      low: { si: -10, typed: '-10', unit: 'degC' },
      high: { si: 60, typed: '60', unit: 'degC' },
      resolution: { si: 0.1, typed: '0.1', unit: 'degC' },
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
const fields = (problems: readonly { field: string }[]) => problems.map((problem) => problem.field)

describe('the form of an instrument', () => {
  test('holds a saved instrument and gives the same one back', () => {
    const body = instrumentOfForm(formOfInstrument(anemometer))
    expect(body).toEqual(anemometer)
    expect(ENTITY_SCHEMAS.instrument.parse(body)).toEqual(anemometer)
    expect(instrumentProblems(formOfInstrument(anemometer))).toEqual([])
  })

  test('a new one says at each field what is missing', () => {
    expect(fields(instrumentProblems(NEW_INSTRUMENT))).toEqual([
      'name',
      'serialNumber',
      'senses.0.low',
      'senses.0.high',
      'senses.0.resolution',
      'standardCondition.temperature',
      'standardCondition.pressure',
    ])
    expect(instrumentOfForm(NEW_INSTRUMENT)).toBeNull()
  })

  test('a range the wrong way round is said at its high end, a wrong averaging time at its field', () => {
    const form = formOfInstrument(anemometer)
    const [velocity, temperature] = form.senses
    if (!velocity || !temperature) throw new Error('two lines were made')
    const turned = { ...form, senses: [{ ...velocity, low: mps(5), high: mps(0.05) }, temperature] }
    expect(fields(instrumentProblems(turned))).toEqual(['senses.0.high'])
    expect(fields(instrumentProblems({ ...form, averagingTime: { si: 0, typed: '0', unit: 's' } }))).toEqual(['averagingTimeS'])
  })
})

test('what its quantity makes no question of is neither asked nor kept', () => {
  const form = formOfInstrument(anemometer)
  const [, temperature] = form.senses
  if (!temperature) throw new Error('two lines were made')
  // A new instrument starts as a thermal probe; whoever makes a thermometer of it is asked for no standard condition.
  const thermometer = { ...form, senses: [temperature], sensing: 'directional', basis: 'standard' } as const
  expect(instrumentProblems({ ...thermometer, senses: [temperature] })).toEqual([])
  expect(instrumentOfForm({ ...thermometer, senses: [temperature] })).toMatchObject({ basis: 'as_indicated', sensing: 'not_directional' })
  const hood = { ...NEW_SENSED, quantity: 'flow' as const, low: cubic(70), high: cubic(4200), resolution: cubic(1) }
  expect(fields(instrumentProblems({ ...thermometer, senses: [hood] }))).toEqual([
    'standardCondition.temperature',
    'standardCondition.pressure',
  ])
  expect(instrumentOfForm({ ...thermometer, senses: [hood] })).toMatchObject({ basis: 'standard', sensing: 'not_directional' })
})

const certificate: EntityBody<'calibration'> = {
  certificateNumber: 'C-1',
  laboratory: 'A laboratory',
  calibratedOn: '2026-01-06',
  dueOn: '2027-01-06',
  range: null,
  foundInTolerance: true,
  ...LATER_FIELDS.calibration,
  release: null,
  note: '',
}

describe('the form of a certificate', () => {
  test('holds a saved certificate and gives the same one back, with range and release too', () => {
    const full = {
      ...certificate,
      range: { quantity: 'velocity' as const, low: mps(0.1), high: mps(2) },
      foundInTolerance: null,
      ...LATER_FIELDS.calibration,
      release: { number: 'DEV-1', reason: 'Found in tolerance' },
    }
    expect(calibrationOfForm(formOfCalibration(certificate))).toEqual(certificate)
    expect(calibrationOfForm(formOfCalibration(full))).toEqual(full)
    expect(calibrationProblems(formOfCalibration(full))).toEqual([])
  })

  test('says at each field what is missing or wrong', () => {
    expect(fields(calibrationProblems(NEW_CALIBRATION))).toEqual(['certificateNumber', 'calibratedOn', 'dueOn'])
    const form = formOfCalibration(certificate)
    expect(fields(calibrationProblems({ ...form, dueOn: '2026-01-05' }))).toEqual(['dueOn'])
    expect(fields(calibrationProblems({ ...form, isNarrower: true }))).toEqual(['range.low', 'range.high'])
    expect(fields(calibrationProblems({ ...form, releaseNumber: 'DEV-2' }))).toEqual(['release.reason'])
    expect(fields(calibrationProblems({ ...form, releaseReason: 'late' }))).toEqual(['release.number'])
  })
})

describe('how a calibration stands', () => {
  const earlier = { ...certificate, calibratedOn: '2025-01-07', dueOn: '2025-12-31' }

  test('the due date is the last valid day', () => {
    expect(calibrationState([certificate], '2026-03-01')).toEqual({ kind: 'valid', dueOn: '2027-01-06', days: 311 })
    expect(calibrationState([certificate], '2026-11-25')).toEqual({ kind: 'ends_soon', dueOn: '2027-01-06', days: 42 })
    expect(calibrationState([certificate], '2027-01-06')).toEqual({ kind: 'ends_soon', dueOn: '2027-01-06', days: 0 })
    expect(calibrationState([certificate], '2027-01-07')).toEqual({ kind: 'past_due', dueOn: '2027-01-06', days: 1 })
  })

  test('without a certificate, and before the first', () => {
    expect(calibrationState([], '2026-11-25')).toEqual({ kind: 'none' })
    expect(calibrationState([{ ...certificate, foundInTolerance: false }], '2025-11-25')).toEqual({ kind: 'before_first' })
  })

  test('a visit is covered only when its first and its last day are', () => {
    expect(coverOfVisit([earlier, certificate], '2026-07-06', '2026-07-09')).toEqual({ kind: 'covered', dueOn: '2027-01-06' })
    expect(coverOfVisit([certificate], '2027-01-05', '2027-01-08')).toEqual({ kind: 'ends_inside', dueOn: '2027-01-06' })
    expect(coverOfVisit([certificate], '2027-01-05', '2027-01-06')).toEqual({ kind: 'covered', dueOn: '2027-01-06' })
    expect(coverOfVisit([certificate], '2027-02-01', '2027-02-03')).toEqual({ kind: 'ended', dueOn: '2027-01-06' })
    expect(coverOfVisit([], '2027-02-01', '2027-02-03')).toEqual({ kind: 'none' })
  })
})

describe('what a certificate and a hood say beyond dates', () => {
  const point = {
    quantity: 'velocity',
    reading: mps(0.5),
    trueValue: mps(0.48),
    expandedUncertainty: mps(0.01),
    coverageFactor: 2,
  } as const
  const evidence: Partial<EntityBody<'calibration'>> = {
    points: [point, { ...point, reading: mps(0.2), trueValue: mps(0.21) }],
    uncertainty: [{ quantity: 'velocity', expandedPercentOfReading: 1.5, expandedAbsolute: mps(0.01), coverageFactor: 2 }],
    drift: [{ quantity: 'velocity', halfWidth: mps(0.005) }],
  }

  test('points, stated uncertainty and drift survive the form', () => {
    const body = { ...certificate, ...evidence }
    expect(calibrationOfForm(formOfCalibration(body))).toEqual(body)
    expect(calibrationProblems(formOfCalibration(body))).toEqual([])
  })

  test('a half point is refused at its fields and never dropped in silence', () => {
    const form = formOfCalibration({ ...certificate, ...evidence })
    const [first, ...others] = form.points
    if (!first) throw new Error('two points were made')
    const half = { ...form, points: [{ ...first, trueValue: null, coverageFactor: 'two' }, ...others] }
    expect(fields(calibrationProblems(half))).toEqual(['points.0.trueValue', 'points.0.coverageFactor'])
  })

  test('corrections are true value minus reading, in the order of readings', () => {
    const form = formOfCalibration({ ...certificate, ...evidence })
    const marks = correctionsOf(form.points, 'velocity')
    expect(marks.map(({ reading }) => reading)).toEqual([0.2, 0.5])
    expect(marks[0]?.correction).toBeCloseTo(0.01, 12)
    expect(marks[1]?.correction).toBeCloseTo(-0.02, 12)
  })

  test('a standard condition and hood factors survive the form, a comma is read, and half a condition is refused', () => {
    const flow = (si: number): Entered => ({ si, typed: String(si), unit: 'm3/s' })
    const body: EntityBody<'instrument'> = {
      ...anemometer,
      basis: 'standard',
      standardCondition: {
        temperature: { si: 21.1, typed: '21.1', unit: 'degC' },
        pressure: { si: 101_325, typed: '101.325', unit: 'kPa' },
      },
      hoodFactors: [{ face: 'swirl', low: flow(0.02), high: flow(0.5), factor: 1.08, uncertaintyPercent: 3, reason: 'duct traverse' }],
    }
    const form = formOfInstrument(body)
    expect(instrumentOfForm(form)).toEqual(body)
    expect(instrumentProblems(form)).toEqual([])
    expect(fields(instrumentProblems({ ...form, standardPressure: null }))).toEqual(['standardCondition.pressure'])
    const [factor] = form.hoodFactors
    if (!factor) throw new Error('one factor was made')
    expect(instrumentOfForm({ ...form, hoodFactors: [{ ...factor, factor: '1,08' }] })).toEqual(body)
    expect(fields(instrumentProblems({ ...form, hoodFactors: [{ ...factor, factor: '0' }] }))).toEqual(['hoodFactors.0.factor'])
  })

  test('the density of a standard condition is that of dry air there', () => {
    // 1.1995 kg/m3 at 21.1 degC and 101.325 kPa: ideal gas with R = 287.05 J/(kg K) gives 101325 / (287.05 x 294.25) = 1.1996.
    const density = standardDensityKgpm3({
      standardTemperature: { si: 21.1, typed: '21.1', unit: 'degC' },
      standardPressure: { si: 101_325, typed: '101.325', unit: 'kPa' },
    })
    expect(density).toBeCloseTo(101_325 / (287.05 * 294.25), 3)
    expect(standardDensityKgpm3({ standardTemperature: null, standardPressure: null })).toBeNull()
  })
})
