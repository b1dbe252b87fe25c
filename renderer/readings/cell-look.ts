import { keepsHigh, reachesLow } from '#core/criteria/compare-limit.ts'
import type { Location, ReadingFlag } from '#core/model/readings.ts'
import type { ByBasis, CriterionResult, Sentence } from '#core/model/results.ts'
import type { Basis } from '#core/model/values.ts'
import type { PlacedReading, SavedState } from './reading-book.ts'
import type { FilterView } from './run-desk.ts'
import { keyOf } from './typing.ts'

/** Limits of a filter's velocity that a single point can be seen against, in m/s as the instrument indicates. */
export type PointLimits = { readonly low: number | null; readonly high: number | null }

/** What turns a velocity as indicated into one on a basis; 1 while that is not known. */
function factorTo(basis: Basis, byBasis: ByBasis | null): number {
  const on = byBasis?.[basis]?.meanVelocityMps
  const indicated = byBasis?.as_indicated.meanVelocityMps
  return on && indicated ? on / indicated : 1
}

/**
 * The tightest velocity limits among criteria that hold for each point or for the filter. Cells show what was typed, so a limit on actual or
 * standard air is told as the instrument would indicate it.
 */
export function pointLimits(criteria: readonly CriterionResult[], byBasis: ByBasis | null): PointLimits {
  let low: number | null = null
  let high: number | null = null
  for (const criterion of criteria) {
    if (criterion.quantity !== 'face_velocity' || criterion.verdict === 'not_applicable') continue
    const factor = factorTo(criterion.basis, byBasis)
    if (criterion.low !== null) low = Math.max(low ?? criterion.low / factor, criterion.low / factor)
    if (criterion.high !== null) high = Math.min(high ?? criterion.high / factor, criterion.high / factor)
  }
  return { low, high }
}

/** Where a point is no face velocity, or nothing is typed as velocity, no limit can be seen at it. */
export const NO_LIMITS: PointLimits = { low: null, high: null }

/** Which side of the limits a velocity lies on; null inside. One comparison, the same that decides verdicts. */
export function outside(si: number, limits: PointLimits): 'below' | 'above' | null {
  if (limits.low !== null && !reachesLow(si, limits.low)) return 'below'
  return limits.high !== null && !keepsHigh(si, limits.high) ? 'above' : null
}

/** One cell of the face, in plain values, so that an unchanged cell is not drawn again. */
export type CellLook = {
  readonly point: number
  /** place in the filter's own path, from 1 */
  readonly order: number
  readonly texts: readonly string[]
  readonly saved: SavedState | 'empty'
  readonly flags: readonly ReadingFlag[]
  readonly outside: 'below' | 'above' | null
  readonly note: boolean
}

const WORST: readonly SavedState[] = ['refused', 'waiting', 'saving', 'saved']

/** How a point looks: its samples, the least saved of them, and every mark that one of them carries. */
export function lookOf(
  view: FilterView,
  point: Location,
  order: number,
  samples: number,
  limits: PointLimits,
  show: (reading: PlacedReading) => string,
  question: (reading: PlacedReading) => Sentence | null,
): CellLook {
  const readings: PlacedReading[] = []
  for (let sample = 1; sample <= samples; sample += 1) {
    const reading = view.readings.get(keyOf({ point: point.number, sample }))
    if (reading) readings.push(reading)
  }
  const flags = new Set(readings.flatMap((reading) => reading.flags))
  if (readings.some((reading) => question(reading) !== null)) flags.add('questioned')
  const mean = readings.reduce((sum, reading) => sum + reading.si, 0) / readings.length
  return {
    point: point.number,
    order,
    texts: readings.map(show),
    saved: WORST.find((state) => readings.some((reading) => reading.saved === state)) ?? 'empty',
    flags: [...flags],
    outside: readings.length > 0 ? outside(mean, limits) : null,
    note: readings.some((reading) => reading.note !== ''),
  }
}
