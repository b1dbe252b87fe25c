import type { Criterion } from './form.ts'
import { si } from './form.ts'

export type Held = { readonly value: number | null; readonly design: number | null; readonly U: number | null; readonly complete: boolean }
export type Rule = { readonly kind: string; readonly multiple?: number }

/** The limits of a criterion for one subject, from its form. */
export function limitsOf({ form }: Criterion, held: Held, requiredPerHour: number | null): { low: number | null; high: number | null } {
  const { kind, percent = Number.NaN, low, high } = form
  if (kind === 'at_least') return { low: requiredPerHour, high: null }
  if (kind === 'between' && low && high) return { low: si(low.value), high: si(high.value) }
  if (kind === 'spread_at_most') return { low: null, high: percent }
  if (kind === 'within_percent_of_design' && held.design !== null)
    return { low: held.design * (1 - percent / 100), high: held.design * (1 + percent / 100) }
  throw new Error(`The second evaluator knows no form ${kind}.`)
}

const AT = 1e-9
const under = (value: number, limit: number): boolean => value < limit - AT * Math.abs(limit)
const over = (value: number, limit: number): boolean => value > limit + AT * Math.abs(limit)

/** Pass, fail, or inconclusive within the guard band; an incomplete set never passes. Limits are inclusive. Domain A4, JCGM 106. */
export function verdictOf(held: Held, { low, high }: { low: number | null; high: number | null }, guard: number): string {
  const { value } = held
  if (value === null || !held.complete) return 'not_tested'
  if ((low !== null && under(value, low - guard)) || (high !== null && over(value, high + guard))) return 'fail'
  return (low !== null && under(value, low + guard)) || (high !== null && over(value, high - guard)) ? 'inconclusive' : 'pass'
}

/** Every point within so many percent of a mean. */
export function pointsVerdict(points: readonly number[], middle: number | null, percent: number, complete: boolean): string {
  if (middle === null || !complete) return 'not_tested'
  const inside = points.every((point) => !under(point, middle * (1 - percent / 100)) && !over(point, middle * (1 + percent / 100)))
  return inside ? 'pass' : 'fail'
}

const ORDER = ['pass', 'inconclusive', 'not_tested', 'not_valid', 'fail']
/** The worst of verdicts; none reads not tested. */
export function worst(verdicts: readonly string[]): string {
  const weights = verdicts.map((verdict) => ORDER.indexOf(verdict))
  return weights.length === 0 ? 'not_tested' : (ORDER[Math.max(...weights)] ?? 'not_tested')
}
