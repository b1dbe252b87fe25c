import { isWeakForPitot, LEAST_PITOT_PRESSURE_PA, LEAST_PITOT_VELOCITY_MPS, velocityFromPressureMps } from '#core/air/velocity-pressure.ts'
import { decimalsOf } from '#core/criteria/limit-digits.ts'
import type { EntityBody } from '#core/model/entities.ts'
import type { FlowWay } from '#core/model/terminals.ts'
import type { Dimension, Quantity, Unit } from '#core/model/values.ts'
import { dimensionOf, fromSi } from '#core/units/units.ts'
import { REFERENCE_DENSITY_KGPM3 } from './air-of-run.ts'
import { type Question, questionReading } from './plausibility.ts'
import { sensedRange } from './reading-flags.ts'

/** Duct velocities above this are questioned, never refused (common practice), m/s. */
export const USUAL_DUCT_VELOCITY_MPS = 30
/** Neighbours or design within these factors are nothing to ask about; a pressure goes with the square of its velocity. */
const HONEST_FACTOR = { above: 3, below: 4 } as const

export type QuestionAt = {
  /** null: the point lies at no terminal, as on the plane of a zone */
  readonly way: FlowWay | null
  readonly quantity: Quantity
  /** air that moves against its terminal's direction can be told by its sign: a hood at a return shows it as negative by nature */
  readonly mayBeNegative: boolean
  readonly si: number
  readonly typed: string
  readonly unit: Unit
  /** readings of the same quantity around it: the same terminal's, for a hood those of like terminals of the room */
  readonly neighbours: readonly number[]
  readonly designVelocityMps: number | null
  readonly designFlowM3ps: number | null
  readonly instrument: EntityBody<'instrument'> | null
}

type Shown = { readonly si: number; readonly unit: Unit; readonly digits: number; readonly of: { readonly dimension: Dimension } }

function shownOf({ si, unit }: QuestionAt): Shown {
  const digits = Math.min(4, decimalsOf(fromSi(si, unit)))
  return { si, unit, digits, of: { dimension: dimensionOf(unit) } }
}

function median(values: readonly number[]): number | null {
  const ordered = values.filter((value) => value > 0).sort((a, b) => a - b)
  const upper = ordered[Math.floor(ordered.length / 2)]
  const lower = ordered[Math.ceil(ordered.length / 2) - 1]
  return upper === undefined || lower === undefined ? null : (upper + lower) / 2
}

function fits(si: number, expected: number | null, power: 1 | 2): boolean {
  if (expected === null || !(expected > 0)) return false
  return si < expected * HONEST_FACTOR.above ** power && si > expected / HONEST_FACTOR.below ** power
}

/** A value far from what is expected of its quantity: of a flow its design, else the others; of a duct's point the other points. */
function questionOfSize(input: QuestionAt, shown: Shown, power: 1 | 2): Question | null {
  const size = Math.abs(input.si)
  const design = input.quantity === 'flow' ? input.designFlowM3ps : null
  const near = median(input.neighbours.map(Math.abs))
  if ((design === null && near === null) || size === 0) return null
  if (fits(size, design, power) || fits(size, near, power)) return null
  const isDesign = near === null || (design !== null && input.quantity === 'flow')
  const nearSi = isDesign ? design : near
  return nearSi === null ? null : { code: 'question.far_from_expected', params: { ...shown, expected: { si: nearSi, isDesign } } }
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
 * pressure: against the other points of the duct; over 30 m/s; a pressure under 5 Pa or 3 m/s at reference density, too small for a pitot tube. Every
 * quantity: air the wrong way, and the instrument's range. SI; limits are common practice.
 */
export function questionAt(input: QuestionAt): Question | null {
  const { way, quantity, si, typed, unit } = input
  if (quantity === 'velocity' && (way === 'face_grid' || way === null)) {
    const { neighbours: neighboursMps, designVelocityMps, instrument } = input
    return questionReading({ si, typed, unit, neighboursMps, designVelocityMps, instrument })
  }
  const shown = shownOf(input)
  if (si < 0 && !input.mayBeNegative) return { code: 'question.wrong_way', params: shown }
  if (quantity === 'velocity_pressure' && isWeakForPitot(si, velocityFromPressureMps(si, REFERENCE_DENSITY_KGPM3))) {
    const least = { pressurePa: LEAST_PITOT_PRESSURE_PA, velocityMps: LEAST_PITOT_VELOCITY_MPS }
    return { code: 'question.weak_for_pitot', params: { ...shown, least } }
  }
  const ofSize = questionOfSize(input, shown, quantity === 'velocity_pressure' || quantity === 'pressure_difference' ? 2 : 1)
  if (ofSize) return ofSize
  if (quantity === 'velocity' && si > USUAL_DUCT_VELOCITY_MPS)
    return { code: 'question.unusual_duct_velocity', params: { ...shown, mostMps: USUAL_DUCT_VELOCITY_MPS } }
  return questionOfRange(input, shown)
}
