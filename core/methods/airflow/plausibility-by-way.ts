import { isWeakForPitot, LEAST_PITOT_PRESSURE_PA, LEAST_PITOT_VELOCITY_MPS, velocityFromPressureMps } from '#core/air/velocity-pressure.ts'
import { decimalsOf } from '#core/criteria/limit-digits.ts'
import type { EntityBody } from '#core/model/entities.ts'
import type { AirDirection, FlowWay } from '#core/model/terminals.ts'
import type { Dimension, Quantity, Unit } from '#core/model/values.ts'
import { dimensionOf, fromSi, toSi } from '#core/units/units.ts'
import { REFERENCE_DENSITY_KGPM3 } from './air-of-run.ts'
import { type Question, questionReading, usualFaceVelocityMps } from './plausibility.ts'
import { sensedRange } from './reading-flags.ts'
import { factorApart, likeliestSlip, type Slip, unitSlips, withoutDecimalSign } from './slips.ts'

/** Duct velocities above this are questioned, never refused (common practice), m/s. */
export const USUAL_DUCT_VELOCITY_MPS = 30
/** What ducts carry, as far as it tells one unit from another where nothing was read there yet (common practice), m/s. */
const TELLING_DUCT_VELOCITY_MPS = { low: 0.5, high: USUAL_DUCT_VELOCITY_MPS } as const
/** Neighbours or design within these factors are nothing to ask about; a pressure goes with the square of its velocity. */
const HONEST_FACTOR = { above: 3, below: 4 } as const
/**
 * A slip is named only when the corrected value comes this close to what is expected. For a pressure the square of it would let a power of
 * ten explain any value, so that it is less.
 */
const FITS_WITHIN_FACTOR = { 1: 2, 2: 3 } as const
/** Litres a second and cubic metres an hour are 3.6 times apart, no more than honest values: this close the other unit is named all the same. */
const FITS_CLOSELY_FACTOR = 1.1
/** Units in which a reading is usually below one, so that a zero in front means a decimal sign left out. */
const UNITS_OF_FRACTIONS: readonly Unit[] = ['m/s', 'm3/s', 'inH2O']

export type QuestionAt = {
  /** null: the point lies at no terminal, as on the plane of a zone */
  readonly way: FlowWay | null
  readonly quantity: Quantity
  /** air that moves against its terminal's direction can be told by its sign: {@link mayBeNegative} */
  readonly mayBeNegative: boolean
  readonly si: number
  readonly typed: string
  readonly unit: Unit
  /** readings of the same quantity around it: `neighboursOf`, or what is usual of them by {@link usualAmong} */
  readonly neighbours: readonly number[]
  readonly designVelocityMps: number | null
  readonly designFlowM3ps: number | null
  readonly instrument: EntityBody<'instrument'> | null
}

type Shown = { readonly si: number; readonly unit: Unit; readonly digits: number; readonly of: { readonly dimension: Dimension } }
type Power = 1 | 2

/** A hood at a return or exhaust shows its air as negative by nature. */
export function mayBeNegative(way: FlowWay | null, direction: AirDirection): boolean {
  return way === 'hood' && direction !== 'supply'
}

function shownOf({ si, unit }: QuestionAt): Shown {
  const digits = Math.min(4, decimalsOf(fromSi(si, unit)))
  return { si, unit, digits, of: { dimension: dimensionOf(unit) } }
}

function isOfFace(way: FlowWay | null, quantity: Quantity): boolean {
  return quantity === 'velocity' && (way === 'face_grid' || way === null)
}

function powerOf(quantity: Quantity): Power {
  return quantity === 'velocity_pressure' || quantity === 'pressure_difference' ? 2 : 1
}

function median(values: readonly number[]): number | null {
  const ordered = values.filter((value) => value > 0).sort((a, b) => a - b)
  const upper = ordered[Math.floor(ordered.length / 2)]
  const lower = ordered[Math.ceil(ordered.length / 2) - 1]
  return upper === undefined || lower === undefined ? null : (upper + lower) / 2
}

/** Neighbours as the one value that a question asks of them, or none: the same question follows from either, and many rows can share it. */
export function usualAmong(way: FlowWay | null, quantity: Quantity, neighbours: readonly number[]): readonly number[] {
  const usual = isOfFace(way, quantity) ? usualFaceVelocityMps(neighbours) : median(neighbours.map(Math.abs))
  return usual === null ? [] : [usual]
}

function fits(si: number, expected: number, power: Power): boolean {
  return si < expected * HONEST_FACTOR.above ** power && si > expected / HONEST_FACTOR.below ** power
}

/** In which other unit a value comes so close to what is expected that nothing else is likely; null where it is near enough as it is. */
function closelyOtherUnit(size: number, { unit, of }: Shown, expected: readonly number[], power: Power): Slip | null {
  if (expected.some((one) => factorApart(size, one) < HONEST_FACTOR.above ** power)) return null
  const fitting = ({ meantSi }: Slip) => expected.some((one) => factorApart(meantSi, one) <= FITS_CLOSELY_FACTOR)
  return unitSlips(size, unit, of.dimension).find(fitting) ?? null
}

/** A value far from what is expected of its quantity: of a flow its design, else the others; of a duct's point the other points. */
function questionOfSize(input: QuestionAt, shown: Shown): Question | null {
  const size = Math.abs(input.si)
  const power = powerOf(input.quantity)
  const design = input.quantity === 'flow' && input.designFlowM3ps !== null && input.designFlowM3ps > 0 ? input.designFlowM3ps : null
  const near = median(input.neighbours.map(Math.abs))
  const expected = [design, near].filter((one) => one !== null)
  const [first] = expected
  if (first === undefined || size === 0) return null
  const odd = !expected.some((one) => fits(size, one, power))
  const slip = odd
    ? likeliestSlip({ si: size, unit: shown.unit, dimension: shown.of.dimension }, expected, FITS_WITHIN_FACTOR[power])
    : closelyOtherUnit(size, shown, expected, power)
  if (!odd && !slip) return null
  if (slip) return questionOfSlip(shown, slip, expected, design)
  if (isWeak(input)) return null
  return { code: 'question.far_from_expected', params: { ...shown, expected: { si: first, isDesign: first === design } } }
}

function questionOfSlip(shown: Shown, slip: Slip, expected: readonly number[], design: number | null): Question {
  const meant = { si: Math.sign(shown.si) * slip.meantSi, unit: slip.meantUnit }
  if (slip.kind === 'unit') return { code: 'question.in_other_unit', params: { ...shown, meant } }
  const [closest = slip.meantSi] = [...expected].sort((a, b) => factorApart(a, slip.meantSi) - factorApart(b, slip.meantSi))
  return { code: 'question.decimal_sign_off', params: { ...shown, meant, expected: { si: closest, isDesign: closest === design } } }
}

/** Too small for a pitot tube. */
function isWeak({ quantity, si }: QuestionAt): boolean {
  return quantity === 'velocity_pressure' && isWeakForPitot(si, velocityFromPressureMps(si, REFERENCE_DENSITY_KGPM3))
}

/** The first value of a duct, with nothing to hold it against, that is a usual one in the other unit alone. */
function questionOfFirst(input: QuestionAt, shown: Shown): Question | null {
  const { quantity, way, si, unit } = input
  if (way !== 'duct_traverse' || si <= 0 || median(input.neighbours.map(Math.abs)) !== null) return null
  const velocityOf = (value: number) => (quantity === 'velocity' ? value : (velocityFromPressureMps(value, REFERENCE_DENSITY_KGPM3) ?? 0))
  const { low, high } = TELLING_DUCT_VELOCITY_MPS
  // A weak pressure is weak in its own unit first: nothing says that it was another one.
  if (velocityOf(si) <= high && (quantity !== 'velocity' || velocityOf(si) >= low)) return null
  const least = quantity === 'velocity' ? 2 * low : LEAST_PITOT_VELOCITY_MPS
  const usual = unitSlips(si, unit, shown.of.dimension).find(({ meantSi }) => velocityOf(meantSi) >= least && velocityOf(meantSi) <= high)
  return usual ? questionOfSlip(shown, usual, [], null) : null
}

function questionOfRange(input: QuestionAt, shown: Shown): Question | null {
  const { instrument, si } = input
  const range = instrument ? sensedRange(instrument, input.quantity) : null
  if (!instrument || !range) return null
  const size = range.low < 0 ? si : Math.abs(si)
  const name = instrument.name
  if (size < range.low) return { code: 'question.under_range', params: { ...shown, limit: range.low, instrument: name } }
  return size > range.high ? { code: 'question.over_range', params: { ...shown, limit: range.high, instrument: name } } : null
}

/**
 * A question about a reading as it was typed, by the way its terminal is measured; null when there is nothing to ask. Never a refusal. A face
 * grid or plane: {@link questionReading}. A hood's flow: against its design flow, else against the others. A duct's velocity or velocity
 * pressure: against the other points of the duct; over 30 m/s; a pressure under 5 Pa or 3 m/s at reference density, too small for a pitot tube.
 * What is far off is named as a decimal sign one to three places off, or as another unit, where the value would fit so. Every
 * quantity: a decimal sign left out, air the wrong way, and the instrument's range. SI; limits are common practice.
 */
export function questionAt(input: QuestionAt): Question | null {
  const { way, quantity, si, typed, unit } = input
  if (isOfFace(way, quantity)) {
    const { neighbours: neighboursMps, designVelocityMps, instrument } = input
    return questionReading({ si, typed, unit, neighboursMps, designVelocityMps, instrument })
  }
  const shown = shownOf(input)
  if (si < 0 && !input.mayBeNegative) return { code: 'question.wrong_way', params: shown }
  const meant = UNITS_OF_FRACTIONS.includes(unit) ? withoutDecimalSign(typed) : null
  if (meant !== null) return { code: 'question.decimal_sign_left_out', params: { ...shown, typed: typed.trim(), meant: toSi(meant, unit) } }
  const ofSize = questionOfSize(input, shown) ?? questionOfFirst(input, shown)
  if (ofSize) return ofSize
  if (isWeak(input)) {
    const least = { pressurePa: LEAST_PITOT_PRESSURE_PA, velocityMps: LEAST_PITOT_VELOCITY_MPS }
    return { code: 'question.weak_for_pitot', params: { ...shown, least } }
  }
  if (quantity === 'velocity' && si > USUAL_DUCT_VELOCITY_MPS)
    return { code: 'question.unusual_duct_velocity', params: { ...shown, mostMps: USUAL_DUCT_VELOCITY_MPS } }
  return questionOfRange(input, shown)
}
