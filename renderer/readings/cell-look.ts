import { keepsHigh, reachesLow } from '#core/criteria/compare-limit.ts'
import { questionReading } from '#core/methods/airflow/plausibility.ts'
import type { EntityBody } from '#core/model/entities.ts'
import type { Location, ReadingFlag } from '#core/model/readings.ts'
import type { CriterionResult, Sentence } from '#core/model/results.ts'
import type { PlacedReading, SavedState } from './reading-book.ts'
import type { FilterView } from './run-desk.ts'
import { keyOf } from './typing.ts'

/** Limits of a filter's velocity that a single point can be seen against, in m/s. */
export type PointLimits = { readonly low: number | null; readonly high: number | null }

/** The tightest velocity limits among criteria that hold for each point or for the filter. */
export function pointLimits(criteria: readonly CriterionResult[]): PointLimits {
  let low: number | null = null
  let high: number | null = null
  for (const criterion of criteria) {
    if (criterion.quantity !== 'face_velocity' || criterion.verdict === 'not_applicable') continue
    if (criterion.low !== null) low = Math.max(low ?? criterion.low, criterion.low)
    if (criterion.high !== null) high = Math.min(high ?? criterion.high, criterion.high)
  }
  return { low, high }
}

/** Which side of the limits a velocity lies on; null inside. One comparison, the same that decides verdicts. */
export function outside(si: number, limits: PointLimits): 'below' | 'above' | null {
  if (limits.low !== null && !reachesLow(si, limits.low)) return 'below'
  return limits.high !== null && !keepsHigh(si, limits.high) ? 'above' : null
}

/** Velocities of the other places of a filter, m/s. */
export function othersMps(view: FilterView, except: string): number[] {
  const others: number[] = []
  for (const [key, reading] of view.readings) if (key !== except) others.push(reading.si)
  return others
}

/** What is odd about a number that stands on the screen, as a question; null when nothing is. */
export function questionOf(
  view: FilterView,
  reading: Pick<PlacedReading, 'place' | 'si' | 'typed' | 'unit'>,
  designVelocityMps: number | null,
  instrument: EntityBody<'instrument'> | null,
): Sentence | null {
  return questionReading({
    si: reading.si,
    typed: reading.typed,
    unit: reading.unit,
    neighboursMps: othersMps(view, keyOf(reading.place)),
    designVelocityMps,
    instrument,
  })
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
