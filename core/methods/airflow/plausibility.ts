import { decimalsOf } from '#core/criteria/limit-digits.ts'
import type { Message } from '#core/messages/say.ts'
import type { EntityBody } from '#core/model/entities.ts'
import type { Unit } from '#core/model/values.ts'
import { fromSi } from '#core/units/units.ts'
import { sensedRange } from './reading-flags.ts'
import { likeliestSlip, withoutDecimalSign } from './slips.ts'

/** Face velocities outside this are questioned, never refused (common practice), in m/s. */
export const USUAL_VELOCITY_MPS = { low: 0.05, high: 1.5 } as const

/** Where neither neighbours nor design say what to expect, slips are told apart by a usual face velocity (common practice). */
const TYPICAL_VELOCITY_MPS = 0.45

/**
 * Within these factors of its neighbours or the design a value is nothing to ask about: real faces are that uneven, and more
 * so downwards, in the shadow of a lamp or a loaded corner.
 */
const HONEST_FACTOR = { above: 3, below: 4 } as const
/** A slip is named only when the corrected value comes this close to the neighbours. */
const FITS_WITHIN_FACTOR = 2

export type Question = Extract<Message, { code: `question.${string}` }>
type Instrument = EntityBody<'instrument'>

export type QuestionInput = {
  readonly si: number
  readonly typed: string
  readonly unit: Unit
  /** velocities measured around this point, the same filter's first; may be empty */
  readonly neighboursMps: readonly number[]
  readonly designVelocityMps: number | null
  readonly instrument: Instrument | null
}

function isUsual(velocityMps: number): boolean {
  return velocityMps >= USUAL_VELOCITY_MPS.low && velocityMps <= USUAL_VELOCITY_MPS.high
}

function median(values: readonly number[]): number | null {
  const ordered = [...values].sort((a, b) => a - b)
  const upper = ordered[Math.floor(ordered.length / 2)]
  const lower = ordered[Math.ceil(ordered.length / 2) - 1]
  return upper === undefined || lower === undefined ? null : (upper + lower) / 2
}

/** What is usual around a point on a face: the median of the face velocities among its neighbours, m/s; null where there is none. */
export function usualFaceVelocityMps(neighboursMps: readonly number[]): number | null {
  // An odd value that was left standing must not make the honest ones after it look odd.
  return median(neighboursMps.filter(isUsual))
}

function expected({ neighboursMps, designVelocityMps }: QuestionInput): { nearMps: number; isDesign: boolean } | null {
  const near = usualFaceVelocityMps(neighboursMps)
  if (near !== null) return { nearMps: near, isDesign: false }
  return designVelocityMps !== null && designVelocityMps > 0 ? { nearMps: designVelocityMps, isDesign: true } : null
}

/**
 * A question about a face velocity as it was typed, for the page to show beside the figure; null when there is nothing to ask.
 * Never a refusal: the value stays as typed. Asked about, in this order: air moving backwards; a decimal sign forgotten; a
 * value far from its neighbours (without neighbours: from the design velocity), which is named as a decimal slip or the other
 * unit where that explains it; a value outside what the instrument senses; a value that no face usually has
 * ({@link USUAL_VELOCITY_MPS}); more decimals than the instrument shows. Values in m/s; limits are common practice.
 */
export function questionReading(input: QuestionInput): Question | null {
  const { si, typed, unit, designVelocityMps, instrument } = input
  // As many decimals as the value needs, and two at least in m/s, as instruments show it.
  const digits = Math.max(unit === 'm/s' ? 2 : 0, Math.min(4, decimalsOf(fromSi(si, unit))))
  const value = { si, unit, digits }
  if (si < 0) return { code: 'question.reverse_flow', params: value }

  const meantMps = unit === 'm/s' ? withoutDecimalSign(typed) : null
  if (meantMps !== null) return { code: 'question.no_decimal_sign', params: { ...value, typed: typed.trim(), meantMps } }

  if (si > 0) {
    const near = expected(input)
    const fits = (mps: number | null) => mps !== null && mps > 0 && si / mps < HONEST_FACTOR.above && mps / si < HONEST_FACTOR.below
    const odd = near ? !fits(near.nearMps) && !fits(designVelocityMps) : !isUsual(si)
    const slip = odd
      ? likeliestSlip({ si, unit, dimension: 'velocity' }, [near?.nearMps ?? TYPICAL_VELOCITY_MPS], FITS_WITHIN_FACTOR)
      : null
    if (slip?.kind === 'unit') {
      return { code: 'question.other_unit', params: { ...value, meantMps: slip.meantSi, meantUnit: slip.meantUnit } }
    }
    if (slip && near) return { code: 'question.decimal_slip', params: { ...value, ...near } }
    if (near && odd) return { code: 'question.far_from_others', params: { ...value, ...near } }
  }

  const range = instrument ? sensedRange(instrument, 'velocity') : null
  const name = instrument?.name ?? ''
  if (range && si < range.low) return { code: 'question.below_range', params: { ...value, limitMps: range.low, instrument: name } }
  if (range && si > range.high) return { code: 'question.above_range', params: { ...value, limitMps: range.high, instrument: name } }
  if (!isUsual(si)) {
    return { code: 'question.unusual_velocity', params: { ...value, lowMps: USUAL_VELOCITY_MPS.low, highMps: USUAL_VELOCITY_MPS.high } }
  }

  const step = instrument?.senses.find((sensed) => sensed.quantity === 'velocity')?.resolution
  if (step && step.si > 0 && step.unit === unit) {
    const stepDigits = decimalsOf(fromSi(step.si, unit))
    if (digits > Math.max(stepDigits, unit === 'm/s' ? 2 : 0)) {
      return { code: 'question.too_many_digits', params: { ...value, stepMps: step.si, stepDigits, instrument: name } }
    }
  }
  return null
}

export { flagsFor, refuseReading } from './reading-flags.ts'
