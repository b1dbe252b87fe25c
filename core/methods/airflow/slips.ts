import type { Dimension, Unit } from '#core/model/values.ts'
import { fromSi, toSi } from '#core/units/units.ts'

/** A value as it was most likely meant: with its decimal sign one to three places off, or in another unit. SI. */
export type Slip = { readonly kind: 'decimal' | 'unit'; readonly meantSi: number; readonly meantUnit: Unit }

const DECIMAL_FACTORS = [1e-3, 1e-2, 0.1, 10, 100, 1000] as const

/** Units that instruments for the air in rooms and ducts show (common practice); a value typed in one of them may have been read in another. */
const SHOWN_UNITS: Partial<Record<Dimension, readonly Unit[]>> = {
  velocity: ['m/s', 'ft/min'],
  flow: ['m3/h', 'L/s', 'cfm', 'm3/s'],
  pressure: ['Pa', 'inH2O'],
}

/** By which factor two values above zero are apart, 1 or more. */
export function factorApart(a: number, b: number): number {
  return a > b ? a / b : b / a
}

/**
 * A value above zero, in SI, read as if it had been shown in each of the other units of its dimension.
 */
export function unitSlips(si: number, unit: Unit, dimension: Dimension): Slip[] {
  const others = (SHOWN_UNITS[dimension] ?? []).filter((other) => other !== unit)
  return others.map((meantUnit) => ({ kind: 'unit', meantSi: toSi(fromSi(si, unit), meantUnit), meantUnit }))
}

/**
 * The slip that brings a value above zero closest to what is expected, in SI; null where none brings it within `fitsWithin` times. A unit goes
 * before a decimal sign that would do as well. Common practice.
 */
export function likeliestSlip(
  value: { readonly si: number; readonly unit: Unit; readonly dimension: Dimension },
  expected: readonly number[],
  fitsWithin: number,
): Slip | null {
  const { si, unit, dimension } = value
  const apart = ({ meantSi }: Slip) => Math.min(...expected.map((one) => factorApart(meantSi, one)))
  const decimals = DECIMAL_FACTORS.map((factor): Slip => ({ kind: 'decimal', meantSi: si * factor, meantUnit: unit }))
  const [best] = [...unitSlips(si, unit, dimension), ...decimals]
    .map((slip) => ({ slip, apart: apart(slip) }))
    .sort((a, b) => a.apart - b.apart)
  return best && best.apart <= fitsWithin ? best.slip : null
}

/** A whole number typed with a zero in front, such as "046", as it was meant: nobody writes one so. Null for every other text. */
export function withoutDecimalSign(typed: string): number | null {
  const digits = /^0(\d{1,3})$/.exec(typed.trim())?.[1]
  return digits === undefined || Number(digits) === 0 ? null : Number(`0.${digits}`)
}
