import type { Dimension, Unit } from '#core/model/values.ts'
import type { Formatter } from '#core/units/formatter.ts'

/** A velocity as the technician typed it: SI value, the unit it was typed in, and as many decimals as were typed. */
export type TypedVelocity = { si: number; unit: Unit; digits: number }
/** What the reading is held against: the points measured around it, or the design velocity while there are none. */
export type Near = { nearMps: number; isDesign: boolean }

const asTyped = (p: TypedVelocity, f: Formatter) => f.quantity(p.si, 'velocity', { unit: p.unit, digits: p.digits })
const near = (p: TypedVelocity & Near, f: Formatter) => {
  const figure = f.number(p.nearMps, 'velocity', { unit: p.unit })
  return p.isDesign ? `The design is ${figure}.` : `The others lie near ${figure}.`
}

/** A reading of any quantity as it was typed. */
export type TypedReading = { si: number; unit: Unit; digits: number; of: { dimension: Dimension } }

const reading = (p: TypedReading, f: Formatter) => f.quantity(p.si, p.of.dimension, { unit: p.unit, digits: p.digits })
const inItsUnit = (si: number, p: TypedReading, f: Formatter) => f.quantity(si, p.of.dimension, { unit: p.unit })

/** Questions asked beside a reading. They never block: an honest odd value stays as it is. */
export const questions = {
  'question.decimal_slip': (p: TypedVelocity & Near, f: Formatter) => `${asTyped(p, f)}? ${near(p, f)}`,
  'question.far_from_others': (p: TypedVelocity & Near, f: Formatter) => `${asTyped(p, f)}? ${near(p, f)}`,
  'question.no_decimal_sign': (p: TypedVelocity & { typed: string; meantMps: number }, f: Formatter) =>
    `“${p.typed}”? Was ${f.quantity(p.meantMps, 'velocity', { unit: p.unit })} meant?`,
  'question.other_unit': (p: TypedVelocity & { meantMps: number; meantUnit: Unit }, f: Formatter) =>
    `${asTyped(p, f)}? It would fit as ${f.quantity(p.meantMps, 'velocity', { unit: p.meantUnit })}.`,
  'question.below_range': (p: TypedVelocity & { limitMps: number; instrument: string }, f: Formatter) =>
    `${asTyped(p, f)}? ${p.instrument} measures from ${f.quantity(p.limitMps, 'velocity', { unit: p.unit })}. Kept as below its range.`,
  'question.above_range': (p: TypedVelocity & { limitMps: number; instrument: string }, f: Formatter) =>
    `${asTyped(p, f)}? ${p.instrument} measures up to ${f.quantity(p.limitMps, 'velocity', { unit: p.unit })}. Kept, but it does not count.`,
  'question.unusual_velocity': (p: TypedVelocity & { lowMps: number; highMps: number }, f: Formatter) =>
    `${asTyped(p, f)}? Face velocities usually lie between ${f.number(p.lowMps, 'velocity', { unit: p.unit })} and ${f.number(p.highMps, 'velocity', { unit: p.unit })}.`,
  'question.reverse_flow': (p: TypedVelocity, f: Formatter) => `${asTyped(p, f)}? This says that air moves back into the filter.`,
  'question.too_many_digits': (p: TypedVelocity & { stepMps: number; stepDigits: number; instrument: string }, f: Formatter) =>
    `${asTyped(p, f)}? ${p.instrument} shows steps of ${f.quantity(p.stepMps, 'velocity', { unit: p.unit, digits: p.stepDigits })}.`,
  'question.wrong_way': (p: TypedReading, f: Formatter) => `${reading(p, f)}? This says that air moves the wrong way.`,
  'question.far_from_expected': (p: TypedReading & { expected: { si: number; isDesign: boolean } }, f: Formatter) =>
    `${reading(p, f)}? ${p.expected.isDesign ? 'The design is' : 'The others lie near'} ${inItsUnit(p.expected.si, p, f)}.`,
  'question.in_other_unit': (p: TypedReading & { meant: { si: number; unit: Unit } }, f: Formatter) =>
    `${reading(p, f)}? It would fit as ${f.quantity(p.meant.si, p.of.dimension, { unit: p.meant.unit })}.`,
  'question.decimal_sign_off': (
    p: TypedReading & { meant: { si: number; unit: Unit }; expected: { si: number; isDesign: boolean } },
    f: Formatter,
  ) =>
    `${reading(p, f)}? As ${inItsUnit(p.meant.si, p, f)} it would lie near the ${p.expected.isDesign ? 'design' : 'others'}, ${inItsUnit(p.expected.si, p, f)}.`,
  'question.decimal_sign_left_out': (p: TypedReading & { typed: string; meant: number }, f: Formatter) =>
    `“${p.typed}”? Was ${inItsUnit(p.meant, p, f)} meant?`,
  'question.weak_for_pitot': (p: TypedReading & { least: { pressurePa: number; velocityMps: number } }, f: Formatter) =>
    `${reading(p, f)}? Under ${f.quantity(p.least.pressurePa, 'pressure', { unit: p.unit })} or ${f.quantity(p.least.velocityMps, 'velocity')} a pitot tube is not to be trusted.`,
  'question.unusual_duct_velocity': (p: TypedReading & { mostMps: number }, f: Formatter) =>
    `${reading(p, f)}? Ducts seldom carry more than ${f.quantity(p.mostMps, 'velocity', { unit: p.unit })}.`,
  'question.under_range': (p: TypedReading & { limit: number; instrument: string }, f: Formatter) =>
    `${reading(p, f)}? ${p.instrument} measures from ${inItsUnit(p.limit, p, f)}. Kept as below its range.`,
  'question.over_range': (p: TypedReading & { limit: number; instrument: string }, f: Formatter) =>
    `${reading(p, f)}? ${p.instrument} measures up to ${inItsUnit(p.limit, p, f)}. Kept, but it does not count.`,

  'refusal.cannot_sense': (p: { instrument: string; quantity: string }) =>
    `${p.instrument} does not measure ${p.quantity.replaceAll('_', ' ')}. Choose the instrument that was used.`,
  'refusal.no_reverse_flow': (p: { instrument: string }) =>
    `${p.instrument} does not report reverse flow, so a velocity below zero cannot be its reading. Type it without the minus.`,
}
