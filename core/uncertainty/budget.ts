import { twoSidedCoverageFactor } from '#core/statistics/t-quantile.ts'
import { contributionOf, type Term } from './term.ts'

/** How the coverage factor is chosen: from t at the effective degrees of freedom for a level such as 0.95, or a fixed number such as 2. */
export type Coverage = { readonly kind: 'student'; readonly level: number } | { readonly kind: 'fixed'; readonly factor: number }

/** 95 % two-sided: what a criteria set starts with. */
export const COVERAGE_95: Coverage = { kind: 'student', level: 0.95 }
export const COVERAGE_K2: Coverage = { kind: 'fixed', factor: 2 }

/** What stands as one in the sum of squares: a single term, or the fully correlated terms of one group, added with their signs. */
export type Component = {
  readonly group: string | null
  readonly terms: readonly Term[]
  /** in the unit of the result, with sign */
  readonly contribution: number
  readonly degreesOfFreedom: number
  /** of the combined variance, percent; 0 when nothing is uncertain */
  readonly sharePercent: number
}

export type Budget = {
  /** the result, in the unit that every contribution has */
  readonly value: number
  readonly components: readonly Component[]
  readonly combined: number
  /** by Welch and Satterthwaite, before truncation; infinity when no term limits it */
  readonly effectiveDegreesOfFreedom: number
  /** truncated down, at least 1: what t was taken at */
  readonly usedDegreesOfFreedom: number
  readonly coverage: Coverage
  readonly coverageFactor: number
  readonly expanded: number
}

function gather(terms: readonly Term[]): Omit<Component, 'sharePercent'>[] {
  const components: Omit<Component, 'sharePercent'>[] = []
  const groups = new Map<string, Term[]>()
  for (const term of terms) {
    if (term.group === null) {
      components.push({ group: null, terms: [term], contribution: contributionOf(term), degreesOfFreedom: term.degreesOfFreedom })
      continue
    }
    const members = groups.get(term.group)
    if (members) members.push(term)
    else groups.set(term.group, [term])
  }
  for (const [group, members] of groups) {
    const contribution = members.reduce((sum, term) => sum + contributionOf(term), 0)
    const degreesOfFreedom = members.reduce((least, term) => Math.min(least, term.degreesOfFreedom), Number.POSITIVE_INFINITY)
    components.push({ group, terms: members, contribution, degreesOfFreedom })
  }
  return components
}

/**
 * Effective degrees of freedom by the Welch-Satterthwaite formula, not truncated: uc^4 / sum(ui^4 / vi) over contributions that are
 * independent of each other. Infinity when no component has a limited number, or nothing is uncertain. Source: GUM (JCGM 100:2008) G.4.1, equation
 * G.2b.
 */
export function welchSatterthwaite(parts: readonly { readonly contribution: number; readonly degreesOfFreedom: number }[]): number {
  const variance = parts.reduce((sum, { contribution }) => sum + contribution ** 2, 0)
  if (variance === 0) return Number.POSITIVE_INFINITY
  // shares keep the fourth powers of small figures from vanishing
  const limited = parts.reduce((sum, { contribution, degreesOfFreedom }) => sum + (contribution ** 2 / variance) ** 2 / degreesOfFreedom, 0)
  return limited === 0 ? Number.POSITIVE_INFINITY : 1 / limited
}

/** Above so many degrees of freedom nothing limits k: t and the normal distribution agree to nine digits. */
const BOUNDLESS = 1e9

/**
 * Degrees of freedom as t is taken at: truncated down, at least 1; infinity from 10^9 on. A whole number may come out of the formula a hair
 * under itself. Source: GUM (JCGM 100:2008) G.4.1, note 1.
 */
export function truncateDown(degreesOfFreedom: number): number {
  return degreesOfFreedom < BOUNDLESS ? Math.max(1, Math.floor(degreesOfFreedom * (1 + 1e-12))) : Number.POSITIVE_INFINITY
}

/**
 * Combines the terms of a result to a budget: the contributions of each correlated group are summed with their signs to one term first (its
 * degrees of freedom the least among them), then squares are added; the effective degrees of freedom are truncated down; U = k u. All
 * contributions in the unit of `value`. Every term must have a divisor and degrees of freedom above zero: {@link Term}s made in this
 * folder do. Source: GUM (JCGM 100:2008) 5.1.2, 5.2.2 with r = 1 inside a group, 6.2, G.3, G.4.
 */
export function combine(value: number, terms: readonly Term[], coverage: Coverage): Budget {
  const parts = gather(terms)
  const variance = parts.reduce((sum, { contribution }) => sum + contribution ** 2, 0)
  const combined = Math.sqrt(variance)
  const effectiveDegreesOfFreedom = welchSatterthwaite(parts)
  const usedDegreesOfFreedom = truncateDown(effectiveDegreesOfFreedom)
  const coverageFactor = coverage.kind === 'fixed' ? coverage.factor : twoSidedCoverageFactor(usedDegreesOfFreedom, coverage.level)
  const components = parts.map((part) => ({ ...part, sharePercent: variance === 0 ? 0 : (100 * part.contribution ** 2) / variance }))
  return {
    value,
    components,
    combined,
    effectiveDegreesOfFreedom,
    usedDegreesOfFreedom,
    coverage,
    coverageFactor,
    expanded: coverageFactor * combined,
  }
}
