import type { UncertaintySettings } from '#core/model/criteria.ts'
import type { Uncertainty } from '#core/model/results.ts'
import type { Basis } from '#core/model/values.ts'
import { settledSum } from '#core/rooms/settled-sum.ts'
import { sampleStandardDeviation } from '#core/statistics/statistics.ts'
import { type ErrorSums, ErrorTotal, expandedOf } from '#core/uncertainty/error-sums.ts'
import type { FilterFigures } from '../filter-figures.ts'
import { type BudgetBook, coverageOf, DENSITY_GROUP, relativeOf } from './budget-book.ts'
import { repeatsOf } from './reading-slopes.ts'
import { flowErrors, meanErrors, type TerminalOnBasis } from './terminal-errors.ts'

/** A terminal in a sum: supply counts up, what leaves the room counts down. */
export type SignedTerminal = { readonly filter: FilterFigures; readonly sign: 1 | -1 }

/** What the uncertainty of a terminal's figures comes to: the sums, to add up over a room, and U by the coverage that reigns there. */
export type OfTerminal = {
  readonly filter: FilterFigures
  readonly mean: ErrorSums | null
  readonly flow: ErrorSums | null
  readonly meanExpanded: Uncertainty | null
  readonly flowExpanded: Uncertainty | null
}

/** The criteria set's settings that reign over a terminal. */
export type SettingsFor = (filter: FilterFigures) => UncertaintySettings

/**
 * A terminal's figures as its budget sees them; null without a figure. A grid or traverse has its points as parts, a flow that was measured as
 * one value its repeats.
 */
export function terminalOnBasis(filter: FilterFigures, basis: Basis): (TerminalOnBasis & { readonly parts: readonly number[] }) | null {
  const { correctionFactor, flowM3ps, areaM2 } = filter
  const mean = filter.meanMps ?? (flowM3ps === null ? null : flowM3ps / correctionFactor)
  if (mean === null) return null
  const single = filter.meanMps === null
  const parts = single ? repeatsOf(filter.of, basis) : filter.parts
  const deviation = single ? sampleStandardDeviation(parts) : filter.standardDeviationMps
  return { basis, mean, deviation, points: parts.length, parts, flowM3ps, areaM2, correctionFactor }
}

/** Sums over lists of terminals, by the very list: an area keeps its own. */
type KnownSums = Record<Basis, Map<readonly FilterFigures[], ErrorSums | null>>

function once(
  known: Map<readonly FilterFigures[], ErrorSums | null>,
  filters: readonly FilterFigures[],
  work: () => ErrorSums | null,
): ErrorSums | null {
  const before = known.get(filters)
  if (before !== undefined) return before
  const sums = work()
  known.set(filters, sums)
  return sums
}

/** The uncertainties of one run's figures, each worked out once and only when it is asked for. */
export class RunErrors {
  readonly #book: BudgetBook
  readonly #settingsFor: SettingsFor
  /** by the place of the terminal in the run */
  readonly #known: Record<Basis, (OfTerminal | undefined)[]> = { as_indicated: [], standard: [], actual: [] }
  readonly #areaMeans: KnownSums = { as_indicated: new Map(), standard: new Map(), actual: new Map() }
  readonly #supplies: KnownSums = { as_indicated: new Map(), standard: new Map(), actual: new Map() }

  constructor(book: BudgetBook, settingsFor: SettingsFor) {
    this.#book = book
    this.#settingsFor = settingsFor
  }

  ofTerminal(filter: FilterFigures, basis: Basis): OfTerminal {
    const known = this.#known[basis]
    const { place } = filter.of
    const before = known[place]
    if (before?.filter === filter) return before
    const on = terminalOnBasis(filter, basis)
    const settings = this.#settingsFor(filter)
    const mean = on && meanErrors(filter.of, on, settings, this.#book)
    const flow = on && flowErrors(filter.of, on, mean, settings, this.#book)
    const made = { filter, mean, flow, meanExpanded: expandedBy(mean, settings), flowExpanded: expandedBy(flow, settings) }
    known[place] = made
    return made
  }

  /** Of the velocity through all the faces, weighted by their areas, which are taken as exact weights: an error that all share cancels. */
  ofAreaMean(filters: readonly FilterFigures[], basis: Basis): ErrorSums | null {
    return once(this.#areaMeans[basis], filters, () => this.#areaMeanOf(filters, basis))
  }

  #areaMeanOf(filters: readonly FilterFigures[], basis: Basis): ErrorSums | null {
    let areaM2 = 0
    for (const filter of filters) areaM2 += filter.areaM2
    if (!(areaM2 > 0)) return null
    const total = new ErrorTotal()
    for (const filter of filters) {
      const { mean } = this.ofTerminal(filter, basis)
      if (mean === null) return null
      total.add(mean, filter.areaM2 / areaM2)
    }
    return total.sums()
  }

  /** Of the flows of these terminals together, m3/s. Null as {@link ofFlows}. */
  ofSupply(filters: readonly FilterFigures[], basis: Basis): ErrorSums | null {
    return once(this.#supplies[basis], filters, () => this.#supplyOf(filters, basis))
  }

  #supplyOf(filters: readonly FilterFigures[], basis: Basis): ErrorSums | null {
    if (filters.length === 0) return null
    const total = new ErrorTotal()
    for (const filter of filters) {
      const { flow } = this.ofTerminal(filter, basis)
      if (flow === null) return null
      total.add(flow, 1)
    }
    return total.sums()
  }

  /** Of a sum of flows with their signs, m3/s, or with sensitivities of their own. Null where one of them has none: no uncertainty is given with a hole in it. */
  ofFlows(parts: readonly SignedTerminal[], basis: Basis, sensitivity = (part: SignedTerminal): number => part.sign): ErrorSums | null {
    if (parts.length === 0) return null
    const total = new ErrorTotal()
    for (const part of parts) {
      const { flow } = this.ofTerminal(part.filter, basis)
      if (flow === null) return null
      total.add(flow, sensitivity(part))
    }
    return total.sums()
  }

  /** Of actual flows told as standard ones: the density that they are multiplied by has the same error that made them actual. */
  ofFlowsTimesDensity(parts: readonly SignedTerminal[], settings: UncertaintySettings): ErrorSums | null {
    const actual = this.ofFlows(parts, 'actual')
    if (!actual) return null
    const total = new ErrorTotal()
    total.add(actual, 1)
    const group = this.#book.groups.of(DENSITY_GROUP)
    for (const { filter, sign } of parts)
      total.addShared(group, sign * (filter.flowM3ps ?? 0) * this.#book.densityRelative(settings, filter.of.air))
    return total.sums()
  }
}

/** Of air changes, 1/h, from those of the flow: the volume's own error with it. */
export function airChangeErrors(flow: ErrorSums, volumeM3: number, perHour: number, volumePercent: number): ErrorSums {
  const total = new ErrorTotal()
  total.add(flow, 3600 / volumeM3)
  total.addIndependent(perHour * relativeOf(volumePercent))
  return total.sums()
}

/** U, k and degrees of freedom by the coverage of the settings; null for a figure without errors known. */
export function expandedBy(sums: ErrorSums | null, settings: UncertaintySettings): Uncertainty | null {
  return sums && expandedOf(sums, coverageOf(settings))
}

/** An uncertainty times an exact number: percent of design, whose design value has none. */
export function timesExactly(uncertainty: Uncertainty | null, by: number): Uncertainty | null {
  return uncertainty && { ...uncertainty, expanded: uncertainty.expanded * Math.abs(by) }
}

/** Flow of the parts with their signs, of supply alone, and of all of them whatever their sign, m3/s on the basis of the parts. */
export function flowsOf(parts: readonly SignedTerminal[]): {
  readonly supplyM3ps: number
  readonly offsetM3ps: number
  readonly sizeM3ps: number
} {
  let supplyM3ps = 0
  let offsetM3ps = 0
  let sizeM3ps = 0
  for (const { filter, sign } of parts) {
    const flowM3ps = filter.flowM3ps ?? 0
    offsetM3ps += sign * flowM3ps
    sizeM3ps += Math.abs(flowM3ps)
    if (sign === 1) supplyM3ps += flowM3ps
  }
  return { supplyM3ps, offsetM3ps: settledSum(offsetM3ps, sizeM3ps), sizeM3ps }
}

/**
 * How much an offset in percent of supply, 100 (S - R - E) / S, moves for a unit of each part's flow; null without supply. Source: GUM 5.1.3,
 * partial derivatives.
 */
export function percentSensitivities(parts: readonly SignedTerminal[]): ((part: SignedTerminal) => number) | null {
  const { supplyM3ps, offsetM3ps } = flowsOf(parts)
  if (!(supplyM3ps > 0)) return null
  const perSupply = (-100 * offsetM3ps) / supplyM3ps ** 2
  return ({ sign }) => (sign * 100) / supplyM3ps + (sign === 1 ? perSupply : 0)
}
