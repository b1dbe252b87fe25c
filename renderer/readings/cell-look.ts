import { keepsHigh, reachesLow } from '#core/criteria/compare-limit.ts'
import type { Location, ReadingFlag } from '#core/model/readings.ts'
import type { ByBasis, CriterionResult, FilterResult, Sentence, ZoneResult } from '#core/model/results.ts'
import type { Basis } from '#core/model/values.ts'
import type { PlacedReading, SavedState } from './reading-book.ts'
import type { FilterView } from './run-desk.ts'
import { keyOf } from './typing.ts'

/** Limits of a filter's velocity that a single point can be seen against, in m/s. */
export type PointLimits = { readonly low: number | null; readonly high: number | null }

/** What turns a velocity on one basis into one on another; 1 while that is not known. */
function factorBetween(from: Basis, to: Basis, byBasis: ByBasis | null): number {
  const before = byBasis?.[from]?.meanVelocityMps
  const after = byBasis?.[to]?.meanVelocityMps
  return before && after ? after / before : 1
}

type Limiting = Pick<CriterionResult, 'quantity' | 'scope' | 'verdict' | 'low' | 'high' | 'basis'>

/**
 * The tightest velocity limits among criteria that hold for each point or for the filter, as they are on one basis. A limit on the mean of a zone marks
 * its points only where no criterion speaks of points: single ones may lie below a mean.
 */
export function pointLimits(criteria: readonly Limiting[], byBasis: ByBasis | null, basis: Basis): PointLimits {
  let low: number | null = null
  let high: number | null = null
  const applied = criteria.filter(({ quantity, verdict }) => quantity === 'face_velocity' && verdict !== 'not_applicable')
  const ofPoints = applied.some(({ scope }) => scope === 'point')
  for (const criterion of applied) {
    if (ofPoints && criterion.scope === 'zone') continue
    const factor = factorBetween(basis, criterion.basis, byBasis)
    if (criterion.low !== null) low = Math.max(low ?? criterion.low / factor, criterion.low / factor)
    if (criterion.high !== null) high = Math.min(high ?? criterion.high / factor, criterion.high / factor)
  }
  return { low, high }
}

/** How the points of a face or plane are seen against their limits. */
export type PointsJudged = {
  /** as the instrument would indicate them, for cells show what was typed */
  readonly limits: PointLimits
  /** which side of the limits a point lies on; its mean as typed serves where the calculation has none of it */
  readonly outside: (point: number, typedMps: number) => 'below' | 'above' | null
}

type Judged = Pick<FilterResult, 'byBasis' | 'basis'> & { readonly criteria: readonly Limiting[] }
type JudgedFilter = Judged & Pick<FilterResult, 'pointMeansMps'>
type JudgedZone = Judged & { readonly planeCells: readonly Omit<ZoneResult['planeCells'][number], 'within'>[] }

/**
 * A point is held against its limits with the velocity that the calculation works with: corrected by the certificate and converted, and not as it was
 * typed. So no cell says otherwise than the verdict, close to a limit either.
 */
export function judgePoints({ result, zone }: { result: JudgedFilter | null; zone: JudgedZone | null }): PointsJudged {
  const judged = result ?? zone
  if (!judged) return NOT_JUDGED
  const limits = pointLimits(judged.criteria, judged.byBasis, 'as_indicated')
  const own = pointLimits(judged.criteria, judged.byBasis, judged.basis)
  const means = new Map((result?.pointMeansMps ?? zone?.planeCells ?? []).map(({ point, meanMps }) => [point, meanMps]))
  return {
    limits,
    outside: (point, typedMps) => {
      const meanMps = means.get(point) ?? null
      return meanMps === null ? outside(typedMps, limits) : outside(meanMps, own)
    },
  }
}

/** Where a point is no face velocity, or nothing is typed as velocity, no limit can be seen at it. */
export const NOT_JUDGED: PointsJudged = { limits: { low: null, high: null }, outside: () => null }

/** Which side of the limits a velocity lies on; null inside. One comparison, the same that decides verdicts. */
function outside(si: number, limits: PointLimits): 'below' | 'above' | null {
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
  /** the limit that it lies outside of, as it is written beside the number; empty inside */
  readonly limit: string
  readonly note: boolean
  /** it was read as found, and stands in this run for a reason */
  readonly carried: boolean
}

const WORST: readonly SavedState[] = ['refused', 'waiting', 'saving', 'saved']

/** How a point looks: its samples, the least saved of them, and every mark that one of them carries. */
export function lookOf(
  view: FilterView,
  point: Location,
  order: number,
  samples: number,
  judged: PointsJudged,
  show: (reading: PlacedReading) => string,
  question: (reading: PlacedReading) => Sentence | null,
  limitText: (typedMps: number, limitMps: number) => string,
): CellLook {
  const readings: PlacedReading[] = []
  for (let sample = 1; sample <= samples; sample += 1) {
    const reading = view.readings.get(keyOf({ point: point.number, sample }))
    if (reading) readings.push(reading)
  }
  // That a whole terminal is carried is told once beside its face, and not at every point of it.
  const flags = new Set(readings.flatMap((reading) => reading.flags).filter((flag) => flag !== 'carried'))
  if (readings.some((reading) => question(reading) !== null)) flags.add('questioned')
  const mean = readings.reduce((sum, reading) => sum + reading.si, 0) / readings.length
  const side = readings.length > 0 ? judged.outside(point.number, mean) : null
  const limit = side === null ? null : side === 'below' ? judged.limits.low : judged.limits.high
  return {
    point: point.number,
    order,
    texts: readings.map(show),
    saved: WORST.find((state) => readings.some((reading) => reading.saved === state)) ?? 'empty',
    flags: [...flags],
    outside: side,
    limit: limit === null ? '' : limitText(mean, limit),
    note: readings.some((reading) => reading.note !== ''),
    carried: readings.some((reading) => reading.flags.includes('carried')),
  }
}
