import type { Unit } from '#core/model/values.ts'
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

  'refusal.cannot_sense': (p: { instrument: string; quantity: string }) =>
    `${p.instrument} does not measure ${p.quantity.replaceAll('_', ' ')}. Choose the instrument that was used.`,
  'refusal.no_reverse_flow': (p: { instrument: string }) =>
    `${p.instrument} does not report reverse flow, so a velocity below zero cannot be its reading. Type it without the minus.`,
}
