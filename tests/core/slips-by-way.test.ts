import { expect, test } from 'vitest'
import { say } from '#core/messages/say.ts'
import { questionAt } from '#core/methods/airflow/plausibility-by-way.ts'
import type { FlowWay } from '#core/model/terminals.ts'
import type { Quantity, Unit } from '#core/model/values.ts'
import { createFormatter } from '#core/units/format.ts'
import { parseEntered } from '#core/units/parse.ts'
import { anInstrument } from './face-run.ts'
import { aMeter } from './room-run.ts'

/* What is typed at hoods, ducts and flow elements. Slips and honest values are common practice, what a technician sees in an ordinary room: hoods at
   100 to 2000 m3/h, ducts at 2 to 20 m/s, pitot pressures of 5 to 250 Pa. 1 L/s = 3.6 m3/h, 1 cfm = 1.699 m3/h, 1 m/s = 196.85 ft/min and 1 inH2O =
   249.09 Pa (NIST SP 811). */

type Case = {
  readonly way: FlowWay
  readonly quantity: Quantity
  readonly typed: string
  readonly unit: Unit
  /** in `unit`, or as written */
  readonly near?: readonly string[]
  readonly design?: string
  readonly negative?: boolean
}

const HOOD = { way: 'hood', quantity: 'flow' } as const
const DUCT = { way: 'duct_traverse', quantity: 'velocity' } as const
const PITOT = { way: 'duct_traverse', quantity: 'velocity_pressure' } as const
const ORIFICE = { way: 'flow_element', quantity: 'pressure_difference' } as const

function siOf(text: string, unit: Unit) {
  const parsed = parseEntered(text, unit)
  if (!parsed.ok) throw new Error(`${text} is not read at all: ${parsed.problem.code}`)
  return parsed.value
}

function ask({ way, quantity, typed, unit, near = [], design, negative = false }: Case) {
  const entered = siOf(typed, unit)
  return questionAt({
    way,
    quantity,
    mayBeNegative: negative,
    si: entered.si,
    typed,
    unit: entered.unit,
    neighbours: near.map((text) => siOf(text, unit).si),
    designVelocityMps: null,
    designFlowM3ps: design === undefined ? null : siOf(design, unit).si,
    instrument: anInstrument(aMeter()),
  })
}

const DECIMAL = 'question.decimal_sign_off'
const UNIT = 'question.in_other_unit'
const FAR = 'question.far_from_expected'

const slips: readonly (Case & { slip: string; code: string; meant?: string })[] = [
  { ...HOOD, slip: 'a zero behind', typed: '4800', unit: 'm3/h', design: '480', code: DECIMAL, meant: '480 m3/h' },
  { ...HOOD, slip: 'a digit left out', typed: '47', unit: 'm3/h', design: '480', code: DECIMAL, meant: '470 m3/h' },
  { ...HOOD, slip: 'two places off, against the others', typed: '5.1', unit: 'm3/h', near: ['500', '520', '490'], code: DECIMAL },
  { ...HOOD, slip: 'three places off', typed: '0.25', unit: 'cfm', near: ['250', '260'], code: DECIMAL },
  {
    ...HOOD,
    slip: 'L/s typed as m3/s, or the sign left out: the same flow',
    typed: '133',
    unit: 'm3/s',
    design: '0.14',
    code: UNIT,
    meant: '133 L/s',
  },
  { ...HOOD, slip: 'no decimal sign, zero in front', typed: '0135', unit: 'm3/s', code: 'question.decimal_sign_left_out' },
  { ...HOOD, slip: 'm3/h typed as L/s', typed: '485', unit: 'L/s', design: '133', code: UNIT, meant: '485 m3/h' },
  { ...HOOD, slip: 'L/s typed as m3/h', typed: '133', unit: 'm3/h', design: '480', code: UNIT, meant: '133 L/s' },
  { ...HOOD, slip: 'cfm typed as m3/s', typed: '280', unit: 'm3/s', design: '0.13', code: UNIT, meant: '280 cfm' },
  { ...HOOD, slip: 'm3/s typed as m3/h', typed: '0.135', unit: 'm3/h', near: ['480', '500'], code: UNIT, meant: '0.135 m3/s' },
  { ...HOOD, slip: 'm3/s typed as cfm', typed: '0.12', unit: 'cfm', design: '250', code: UNIT, meant: '0.12 m3/s' },
  { ...HOOD, slip: 'm3/h typed as m3/s', typed: '480', unit: 'm3/s', design: '0.13', code: UNIT, meant: '480 m3/h' },
  { ...HOOD, slip: 'a return, negative by nature', typed: '-4300', unit: 'm3/h', negative: true, near: ['-420', '-450'], code: DECIMAL },
  { ...HOOD, slip: 'a minus that slipped in', typed: '-480', unit: 'm3/h', design: '480', code: 'question.wrong_way' },
  { ...HOOD, slip: 'another terminal', typed: '1750', unit: 'm3/h', design: '480', code: FAR },
  { ...DUCT, slip: 'ft/min typed as m/s', typed: '1220', unit: 'm/s', near: ['6.1', '6.4', '5.8'], code: UNIT, meant: '1220 ft/min' },
  { ...DUCT, slip: 'm/s typed as ft/min', typed: '6.2', unit: 'ft/min', near: ['1200', '1250'], code: UNIT, meant: '6.2 m/s' },
  { ...DUCT, slip: 'ft/min typed as m/s, first point', typed: '1220', unit: 'm/s', code: UNIT, meant: '1220 ft/min' },
  { ...DUCT, slip: 'm/s typed as ft/min, first point', typed: '6.2', unit: 'ft/min', code: UNIT, meant: '6.2 m/s' },
  { ...DUCT, slip: 'no decimal sign', typed: '61', unit: 'm/s', near: ['6.1', '6.4'], code: DECIMAL, meant: '6.1 m/s' },
  { ...DUCT, slip: 'no decimal sign, zero in front', typed: '06', unit: 'm/s', code: 'question.decimal_sign_left_out' },
  { ...DUCT, slip: 'no such duct', typed: '45', unit: 'm/s', code: 'question.unusual_duct_velocity' },
  { ...PITOT, slip: 'inH2O typed as Pa', typed: '0.2', unit: 'Pa', near: ['48', '52', '50'], code: UNIT, meant: '0.2 inH2O' },
  { ...PITOT, slip: 'Pa typed as inH2O', typed: '50', unit: 'inH2O', near: ['0.2', '0.21'], code: UNIT, meant: '50 Pa' },
  { ...PITOT, slip: 'Pa typed as inH2O, first point', typed: '50', unit: 'inH2O', code: UNIT, meant: '50 Pa' },
  { ...PITOT, slip: 'a zero behind', typed: '520', unit: 'Pa', near: ['50', '48', '53'], code: DECIMAL, meant: '52 Pa' },
  { ...PITOT, slip: 'two places off', typed: '0.52', unit: 'Pa', near: ['50', '48', '53'], code: DECIMAL, meant: '52 Pa' },
  { ...PITOT, slip: 'too small for a pitot tube', typed: '3.1', unit: 'Pa', near: ['5.5', '6'], code: 'question.weak_for_pitot' },
  { ...ORIFICE, slip: 'inH2O typed as Pa, against its samples', typed: '1', unit: 'Pa', near: ['250'], code: UNIT, meant: '1 inH2O' },
  { ...ORIFICE, slip: 'tubes the wrong way round', typed: '-250', unit: 'Pa', near: ['248'], code: 'question.wrong_way' },
]

const formatter = createFormatter({ velocity: 'm/s', flow: 'm3/h', length: 'm', pressure: 'Pa', temperature: 'degC' }, 'en', 'UTC')

test.each(slips)('asked: $typed for $unit ($slip)', ({ code, meant, ...typed }) => {
  const question = ask(typed)
  expect(question?.code).toBe(code)
  if (!question) return
  const words = say('en', formatter, question.code, question.params).replaceAll('\u00a0', ' ')
  expect(words).toMatch(/^[^?]+\? [^?]+[.?]$/)
  if (meant === undefined) return
  const { si, unit } = siOf(meant, typed.unit)
  expect(question.params).toMatchObject({ meant: { si: expect.closeTo(si, 9), unit } })
})

const honest: readonly (Case & { why: string })[] = [
  { ...HOOD, why: 'at its design', typed: '480', unit: 'm3/h', design: '480' },
  { ...HOOD, why: 'the first reading without a design', typed: '480', unit: 'm3/h' },
  { ...HOOD, why: 'a loaded filter', typed: '285', unit: 'm3/h', design: '480' },
  { ...HOOD, why: 'a damper left wide open', typed: '1300', unit: 'm3/h', design: '480' },
  { ...HOOD, why: 'a damper nearly closed', typed: '165', unit: 'm3/h', design: '480' },
  { ...HOOD, why: 'unlike the others, as its design is', typed: '1400', unit: 'm3/h', design: '1500', near: ['150', '160', '140'] },
  { ...HOOD, why: 'like the others, whatever the design says', typed: '150', unit: 'm3/h', design: '1500', near: ['150', '160', '140'] },
  { ...HOOD, why: 'a decimal comma', typed: '0,135', unit: 'm3/s', design: '0.13' },
  { ...HOOD, why: 'the other unit, written out and right', typed: '133 L/s', unit: 'm3/h', design: '480' },
  { ...HOOD, why: 'a return, negative by nature', typed: '-430', unit: 'm3/h', negative: true, near: ['-420', '-450'] },
  { ...HOOD, why: 'a return that its hood shows as positive', typed: '430', unit: 'm3/h', negative: true, near: ['-420', '-450'] },
  { ...DUCT, why: 'near the wall', typed: '3.2', unit: 'm/s', near: ['6.1', '6.4', '5.8'] },
  { ...DUCT, why: 'behind a bend', typed: '11.5', unit: 'm/s', near: ['6.1', '6.4', '5.8'] },
  { ...DUCT, why: 'the first point', typed: '8.4', unit: 'm/s' },
  { ...DUCT, why: 'the first point, ft/min', typed: '1650', unit: 'ft/min' },
  { ...DUCT, why: 'slow air, ft/min', typed: '180', unit: 'ft/min', near: ['210', '195'] },
  { ...PITOT, why: 'near the wall: half the velocity, a quarter of the pressure', typed: '12.5', unit: 'Pa', near: ['50', '52', '49'] },
  { ...PITOT, why: 'twice the velocity, four times the pressure', typed: '200', unit: 'Pa', near: ['50', '52', '49'] },
  { ...PITOT, why: 'inches of water', typed: '0.18', unit: 'inH2O', near: ['0.2', '0.21'] },
  { ...PITOT, why: 'the first point', typed: '36', unit: 'Pa' },
  { ...PITOT, why: 'hectopascals, written out and right', typed: '0.5 hPa', unit: 'Pa', near: ['50', '48'] },
  { ...ORIFICE, why: 'the first value', typed: '250', unit: 'Pa' },
  { ...ORIFICE, why: 'a small pressure of a low flow', typed: '4', unit: 'Pa' },
]

test.each(honest)('not asked: $typed for $unit ($why)', (typed) => {
  expect(ask(typed)).toBeNull()
})

test('the question names the slip in the words and units of the entry', () => {
  const words = (typed: Case) => {
    const question = ask(typed)
    return question && say('en', formatter, question.code, question.params).replaceAll('\u00a0', ' ')
  }
  expect(words({ ...HOOD, typed: '4800', unit: 'm3/h', design: '480' })).toBe(
    '4800 m³/h? As 480 m³/h it would lie near the design, 480 m³/h.',
  )
  expect(words({ ...HOOD, typed: '133', unit: 'm3/h', design: '480' })).toBe('133 m³/h? It would fit as 133.0 L/s.')
  expect(words({ ...PITOT, typed: '520', unit: 'Pa', near: ['50'] })).toBe('520 Pa? As 52.0 Pa it would lie near the others, 50.0 Pa.')
  expect(words({ ...HOOD, typed: '0135', unit: 'm3/s' })).toBe('“0135”? Was 0.135 m³/s meant?')
})
