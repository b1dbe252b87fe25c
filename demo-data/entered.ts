import type { Entered, Unit } from '#core/model/values.ts'
import { toSi } from '#core/units/units.ts'

export const entered = (typed: string, unit: Unit): Entered => ({ si: toSi(Number(typed), unit), typed, unit })

/** Plan coordinates to the millimetre, as a person would have typed them. */
export const round = (value: number): number => Math.round(value * 1000) / 1000
