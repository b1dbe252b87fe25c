import type { FlowWay } from '#core/model/terminals.ts'
import type { Basis, Dimension, MeasuringPlane, Unit } from '#core/model/values.ts'

/** `mixed`: terminals that were measured in different ways. A room or zone is no grille: null. */
export type MeasuredAt = {
  readonly way: FlowWay | 'mixed'
  readonly of: 'filter' | 'supply_duct' | 'return' | 'exhaust' | null
}

/** How a criterion was held against a figure: the same for every subject, so one object is shared by all its reasons. */
export type Stance = {
  readonly basis: Basis
  readonly plane: MeasuringPlane['kind']
  /** where that is no plane at a filter: how the air was measured instead, and of what it speaks */
  readonly at?: MeasuredAt
  /** spread and deviation have no expanded uncertainty: under a guarded rule they are accepted simply, and the reason says so */
  readonly acceptance: 'simple' | 'guarded' | 'simple_for_spread'
  /** of the expanded uncertainty, that a guard band is wide; 0 under simple acceptance. Results of the first calculation do not have it */
  readonly multiple?: number
  readonly rounded: boolean
  /** why the room or zone has its own wording of this criterion */
  readonly override: string | null
}

/** How sure a figure is, and what that did to its limits, in SI. */
export type Certainty = {
  readonly expanded: number
  readonly coverageFactor: number
  /** what the limits were moved by; null under simple acceptance */
  readonly guardBand: number | null
  /** the guard bands from both sides meet, so that no figure can pass */
  readonly undecidable: boolean
}

/** The numbers of a judgement, in SI. */
export type JudgedFigure = {
  readonly value: number
  /** what was compared, where that was rounded first */
  readonly rounded: number | null
  readonly low: number | null
  readonly high: number | null
  readonly margin: number
  readonly side: 'low' | 'high' | null
  /** null where no uncertainty is known. Results of the first calculation do not have it */
  readonly certainty?: Certainty | null
  readonly dimension: Dimension
  readonly unit: Unit
  /** what a percentage is taken of: the design value, or the mean of the filter or zone */
  readonly relative: {
    readonly to: 'design' | 'filter_mean' | 'zone_mean' | 'open_faces_mean'
    readonly si: number
    readonly percent: number
  } | null
}

/** Use of an instrument on a day its calibration did not cover. Dates are calendar dates at the site. */
export type UncoveredUse = {
  readonly instrument: string
  readonly serialNumber: string
  readonly kind: 'past_due' | 'before_certificate' | 'no_certificate'
  readonly on: string
  readonly dueOn: string | null
}

/** What makes an uncovered use valid after all. `deviation` is its number; null: the later calibration found it in tolerance. */
export type ReleasedUse = UncoveredUse & { readonly certificate: string; readonly deviation: string | null }

/** What a reader of the verdict has to know beside the numbers. */
export type Remarks = {
  /** points with air flowing the wrong way */
  readonly reversed: number
  readonly released: readonly ReleasedUse[]
  /** closed faces that a spread leaves out. Results of earlier calculations do not have it */
  readonly closedFaces?: number
}
