import type { Project } from '#core/model/places.ts'
import type { Dimension, Unit } from '#core/model/values.ts'

export type DisplayUnits = Project['display']

/** Turns SI values into what people read, in the project's display units and the reader's locale. */
/** `unit` overrides the display unit; `difference` says that the value is the distance of two (a step, a margin), which matters in °F. */
export type FormatOptions = {
  unit?: Unit
  digits?: number
  difference?: boolean
  /** limits that the figure was held against: as many digits as it takes that none is contradicted, SI */
  heldAgainst?: readonly number[]
}

/** How a distance to a limit and the guard band beside it were compared: closer than the band, no closer, or beyond it. */
export type BandRelation = 'closer' | 'no_closer' | 'beyond'

export type Formatter = {
  /** number and unit joined by a no-break space, such as "0.45 m/s"; an em dash for null. `unit` overrides the display unit. */
  readonly quantity: (si: number | null, dimension: Dimension, options?: FormatOptions) => string
  /** the number alone, for table cells whose unit stands in the heading */
  readonly number: (si: number | null, dimension: Dimension, options?: FormatOptions) => string
  /** the unit as it is printed, such as "m³/h" */
  readonly unit: (dimension: Dimension, unit?: Unit) => string
  /** value and limit with as many digits as it takes that the printed pair never contradicts `si < limitSi` or `si > limitSi` */
  readonly against: (
    si: number,
    limitSi: number,
    dimension: Dimension,
    options?: Omit<FormatOptions, 'digits'>,
  ) => { value: string; limit: string }
  /** an expanded uncertainty with its unit, to two significant digits of the display unit */
  readonly uncertainty: (si: number, dimension: Dimension) => string
  /** a figure and its expanded uncertainty, both to the digits of the latter, or to more where the limits ask: "0.452 ± 0.031 m/s" */
  readonly plusMinus: (si: number, expandedSi: number, dimension: Dimension, options?: Pick<FormatOptions, 'heldAgainst'>) => string
  /** a distance to a limit and the guard band, with as many digits as it takes that the pair says how the two were compared */
  readonly distanceAndBand: (
    distanceSi: number,
    bandSi: number,
    dimension: Dimension,
    relation: BandRelation,
  ) => { distance: string; band: string }
  /** a bare number with so many decimals, for what has no dimension of its own: a percentage, a factor, a density */
  readonly decimal: (value: number, digits: number) => string
  /** a bare number to at most so many significant digits, without zeros at its end */
  readonly significant: (value: number, digits: number) => string
  /** a plain date or an instant, in words of the locale */
  readonly date: (value: string) => string
  readonly dateTime: (instant: string) => string
}
