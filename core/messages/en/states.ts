import type { Verdict } from '#core/model/criteria.ts'
import type { Phase } from '#core/model/values.ts'

/** The phases of a run in words. */
export const PHASE: Readonly<Record<Phase, string>> = { as_found: 'as found', as_left: 'as left' }

/** The verdicts in words. */
export const VERDICT: Readonly<Record<Verdict, string>> = {
  pass: 'pass',
  fail: 'fail',
  inconclusive: 'inconclusive',
  not_tested: 'not tested',
  not_valid: 'not valid',
  not_applicable: 'not applicable',
}
