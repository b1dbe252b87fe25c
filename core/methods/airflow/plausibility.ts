import { decimalsOf } from '#core/criteria/limit-digits.ts'
import type { Message } from '#core/messages/say.ts'
import type { EntityBody } from '#core/model/entities.ts'
import type { Unit } from '#core/model/values.ts'
import { fromSi, toSi } from '#core/units/units.ts'
import { sensedRange } from './reading-flags.ts'

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

/** By which factor two velocities above zero are apart, 1 or more. */
function factorApart(a: number, b: number): number {
  return a > b ? a / b : b / a
}

function expected({ neighboursMps, designVelocityMps }: QuestionInput): { nearMps: number; isDesign: boolean } | null {
  // An odd value that was left standing must not make the honest ones after it look odd.
  const near = median(neighboursMps.filter(isUsual))
  if (near !== null) return { nearMps: near, isDesign: false }
  return designVelocityMps !== null && designVelocityMps > 0 ? { nearMps: designVelocityMps, isDesign: true } : null
}

type Slip = { readonly kind: 'decimal' | 'unit'; readonly meantMps: number; readonly meantUnit: Unit }

/** The slip that explains a value best: a decimal sign one to three places off, or the other velocity unit. */
function likeliestSlip(si: number, unit: Unit, nearMps: number): Slip | null {
  const otherUnit: Unit = unit === 'ft/min' ? 'm/s' : 'ft/min'
  const slips: Slip[] = [
    { kind: 'unit', meantMps: toSi(fromSi(si, unit), otherUnit), meantUnit: otherUnit },
    ...[1e-3, 1e-2, 0.1, 10, 100, 1000].map((factor): Slip => ({ kind: 'decimal', meantMps: si * factor, meantUnit: unit })),
  ]
  const [best] = slips.sort((a, b) => factorApart(a.meantMps, nearMps) - factorApart(b.meantMps, nearMps))
  return best && factorApart(best.meantMps, nearMps) <= FITS_WITHIN_FACTOR ? best : null
}

/** Typed without its decimal sign: "046" for 0.46. Nobody writes a whole number with a leading zero. */
function withoutDecimalSign(typed: string, unit: Unit): number | null {
  const digits = /^0(\d{1,3})$/.exec(typed.trim())?.[1]
  return digits === undefined || Number(digits) === 0 || unit !== 'm/s' ? null : Number(`0.${digits}`)
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

  const meantMps = withoutDecimalSign(typed, unit)
  if (meantMps !== null) return { code: 'question.no_decimal_sign', params: { ...value, typed: typed.trim(), meantMps } }

  if (si > 0) {
    const near = expected(input)
    const fits = (mps: number | null) => mps !== null && mps > 0 && si / mps < HONEST_FACTOR.above && mps / si < HONEST_FACTOR.below
    const odd = near ? !fits(near.nearMps) && !fits(designVelocityMps) : !isUsual(si)
    const slip = odd ? likeliestSlip(si, unit, near?.nearMps ?? TYPICAL_VELOCITY_MPS) : null
    if (slip?.kind === 'unit') {
      return { code: 'question.other_unit', params: { ...value, meantMps: slip.meantMps, meantUnit: slip.meantUnit } }
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
