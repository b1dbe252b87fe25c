import { basisConversion, type Indication } from '#core/air/basis-conversion.ts'
import type { EntityBody } from '#core/model/entities.ts'
import type { RunAir } from './air-of-run.ts'
import { standardDensityKgpm3 } from './air-of-run.ts'

/** The bases beside the figure as indicated. */
export const OTHER_BASES = ['standard', 'actual'] as const
export type OtherBasis = (typeof OTHER_BASES)[number]

/**
 * Why a figure cannot be had on a basis: no conditions, no standard condition on the instrument, nobody said what it indicates, or the instruments
 * mean standard air of different conditions, which does not add up.
 */
export type NoBasis = 'conditions' | 'standard_condition' | 'not_stated' | 'standards_differ'

/** How what an instrument indicates becomes a figure on another basis. */
export type BasisStep = {
  /** times the velocity or flow as indicated; NaN where it cannot be had, and then `missing` says why */
  readonly factor: number
  readonly missing: NoBasis | null
  /** relative change of the figure for a relative change of the actual density */
  readonly actualDensityExponent: number
}

export type InstrumentConversion = Readonly<Record<OtherBasis, BasisStep>> & {
  readonly standardKgpm3: number | null
  /** every basis that can be had has the figure as indicated */
  readonly sameOnAll: boolean
}

function none(missing: NoBasis): BasisStep {
  return { factor: Number.NaN, missing, actualDensityExponent: 0 }
}

/** What the display speaks of; null: as indicated, which is never converted. */
export function indicationOf(instrument: Pick<EntityBody<'instrument'>, 'basis' | 'worksByPressure'>): Indication | null {
  if (instrument.basis === 'as_indicated') return null
  if (instrument.basis === 'actual') return 'actual'
  return instrument.worksByPressure ? 'standard_pressure' : 'standard'
}

/**
 * How a velocity or flow that an instrument shows becomes one of standard air and one of the air at the filter. The display is converted with
 * the air at the instrument; where that differs from the air at the filter the mass stays and the volume follows the two densities. An
 * instrument whose basis was not stated is never converted. Source: {@link basisConversion}; conservation of mass.
 */
export function instrumentConversion(instrument: EntityBody<'instrument'> | null, air: RunAir): InstrumentConversion {
  const standardKgpm3 = standardDensityKgpm3(instrument)
  const indication = instrument && indicationOf(instrument)
  if (!indication) return { standard: none('not_stated'), actual: none('not_stated'), standardKgpm3, sameOnAll: true }
  const densities = { standardKgpm3, actualKgpm3: air.atInstrumentKgpm3 }
  const step = (basis: OtherBasis): BasisStep => {
    const { factor, missing, actualDensityExponent } = basisConversion(indication, basis, densities)
    if (factor === null) return none(missing ?? 'conditions')
    if (basis === 'standard' || air.atInstrumentKgpm3 === air.actualKgpm3) return { factor, missing: null, actualDensityExponent }
    if (air.atInstrumentKgpm3 === null || air.actualKgpm3 === null) return none('conditions')
    return { factor: (factor * air.atInstrumentKgpm3) / air.actualKgpm3, missing: null, actualDensityExponent }
  }
  const [standard, actual] = [step('standard'), step('actual')]
  const sameOnAll = [standard, actual].every(({ factor, missing }) => missing !== null || factor === 1)
  return { standard, actual, standardKgpm3, sameOnAll }
}
