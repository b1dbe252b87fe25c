import { twoSidedCoverageFactor } from '#core/statistics/t-quantile.ts'
import { type Coverage, truncateDown } from './budget.ts'

/**
 * What the budget of a figure comes to, without its lines: for figures that are wanted by the thousand. `shared[i]` is the signed contribution of
 * the correlated group `groups[i]`, in the unit of the figure; all that is independent stands in two sums, of u^2 and of u^4 / v. Groups
 * have unlimited degrees of freedom. {@link expandedOf} gives the same U, k and degrees of freedom as `combine` on the full terms.
 */
export type ErrorSums = {
  readonly groups: readonly number[]
  readonly shared: readonly number[]
  /** sum of u^2 of the independent terms */
  readonly variance: number
  /** sum of u^4 / v over the independent terms with limited degrees of freedom */
  readonly limited: number
}

/** A figure that is not uncertain: a recorded zero. */
export const NO_ERROR: ErrorSums = { groups: [], shared: [], variance: 0, limited: 0 }

/** An expanded uncertainty as results keep it; degrees of freedom as used for k, null where nothing limits them. */
export type Expanded = { readonly expanded: number; readonly coverageFactor: number; readonly degreesOfFreedom: number | null }

/** Gives every correlated group of a run its number. */
export class GroupNumbers {
  readonly #numbers = new Map<string, number>()

  of(name: string): number {
    const known = this.#numbers.get(name)
    if (known !== undefined) return known
    const number = this.#numbers.size
    this.#numbers.set(name, number)
    return number
  }
}

/** Adds up errors: an instrument's, a face's, a room's over its filters with their sensitivities. */
export class ErrorTotal {
  readonly #groups: number[] = []
  readonly #shared: number[] = []
  #variance = 0
  #limited = 0

  add(sums: ErrorSums, sensitivity: number): void {
    for (let i = 0; i < sums.groups.length; i += 1) this.addShared(sums.groups[i] ?? 0, (sums.shared[i] ?? 0) * sensitivity)
    this.#variance += sums.variance * sensitivity * sensitivity
    this.#limited += sums.limited * sensitivity ** 4
  }

  /** A contribution of a correlated group, with its sign. */
  addShared(group: number, contribution: number): void {
    if (contribution === 0) return
    // A run has few groups: a list is faster than a map.
    const place = this.#groups.indexOf(group)
    if (place < 0) {
      this.#groups.push(group)
      this.#shared.push(contribution)
    } else this.#shared[place] = (this.#shared[place] ?? 0) + contribution
  }

  addIndependent(contribution: number, degreesOfFreedom = Number.POSITIVE_INFINITY): void {
    const square = contribution * contribution
    this.#variance += square
    if (degreesOfFreedom < Number.POSITIVE_INFINITY) this.#limited += (square * square) / degreesOfFreedom
  }

  /** The total so far; nothing is added to it afterwards. */
  sums(): ErrorSums {
    return { groups: this.#groups, shared: this.#shared, variance: this.#variance, limited: this.#limited }
  }
}

/**
 * U, k and degrees of freedom of a figure: squares of the groups and of what is independent, effective degrees of freedom by
 * Welch and Satterthwaite, truncated down. Source: GUM (JCGM 100:2008) 5.1.2, 5.2.2, 6.2, G.4.
 */
export function expandedOf(sums: ErrorSums, coverage: Coverage): Expanded {
  let variance = sums.variance
  for (const contribution of sums.shared) variance += contribution * contribution
  const used = sums.limited === 0 ? Number.POSITIVE_INFINITY : truncateDown((variance * variance) / sums.limited)
  const coverageFactor = coverage.kind === 'fixed' ? coverage.factor : twoSidedCoverageFactor(used, coverage.level)
  return {
    expanded: coverageFactor * Math.sqrt(variance),
    coverageFactor,
    degreesOfFreedom: Number.isFinite(used) ? used : null,
  }
}
