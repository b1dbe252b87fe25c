import type { ReleasedUse, UncoveredUse } from '#core/criteria/stance.ts'
import type { FlowWay } from '#core/model/terminals.ts'
import type { FoundFactor } from '../hood/hood-flow.ts'
import type { MeasuredPoint, Pinned } from '../method.ts'
import type { RunAir } from './air-of-run.ts'
import type { NoBasis } from './instrument-conversion.ts'
import type { InstrumentUse } from './instrument-use.ts'

/** Point means on a basis beside the indicated one. */
export type OnOtherBasis = {
  /** in the order of `numbers`; the very list of the means as indicated where every reading is the same on both; useless with `missing` */
  means: number[]
  /** why they cannot be had */
  missing: NoBasis | null
}

/** The readings of one instrument and day in a terminal's figures, as indicated, in the order they came. */
export type ReadingsOfUse = { readonly use: InstrumentUse; readonly indicated: number[] }

/** The readings of one terminal, brought together by point in path order. */
export type Gathered = {
  /** among the terminals of the run, from 0 */
  readonly place: number
  readonly terminal: Pinned<'terminal'>
  readonly way: FlowWay
  /** the air that its readings are converted with: the run's, or that of the run they were carried from */
  readonly air: RunAir
  readonly planned: readonly MeasuredPoint[]
  /** points with at least one valid sample */
  readonly numbers: number[]
  /** means of those points as indicated: m/s, or m3/s where the way gives flows */
  readonly means: number[]
  readonly standard: OnOtherBasis
  readonly actual: OnOtherBasis
  /** for the uncertainty budget */
  readonly readings: ReadingsOfUse[]
  /** whether every sample of a measured point lies below the range; empty while none does */
  belowRange: boolean[]
  belowPoints: number
  aboveRange: number
  /** valid samples flagged as averaged too short */
  averagedShort: number
  /** measured points with fewer valid samples than the run plans, and how many samples they lack together */
  shortPoints: number
  samplesLacking: number
  /** samples that calibration points corrected, and those of them that lie beyond the points */
  corrected: number
  correctedBeyond: number
  /** samples of a pressure too small to trust a pitot tube */
  weak: number
  /** samples that say nothing of the air: of another quantity, or a flow element blown backwards */
  unusable: number
  /** factor and entry of each sample by hood */
  readonly hoodFactors: { readonly factor: number; readonly found: FoundFactor | null }[]
  carried: boolean
  uncovered: UncoveredUse[]
  released: ReleasedUse[]
}

/** A terminal before any reading of it was counted. */
export function emptyFor(place: number, terminal: Pinned<'terminal'>, way: FlowWay, air: RunAir, planned: MeasuredPoint[]): Gathered {
  const means: number[] = []
  return {
    place,
    terminal,
    way,
    air,
    planned,
    numbers: [],
    means,
    standard: { means, missing: null },
    actual: { means, missing: null },
    readings: [],
    belowRange: [],
    belowPoints: 0,
    aboveRange: 0,
    averagedShort: 0,
    shortPoints: 0,
    samplesLacking: 0,
    corrected: 0,
    correctedBeyond: 0,
    weak: 0,
    unusable: 0,
    hoodFactors: [],
    carried: false,
    uncovered: [],
    released: [],
  }
}
