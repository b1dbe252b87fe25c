import type { Verdict } from '#core/model/criteria.ts'
import type { VerdictCounts } from '#core/model/results.ts'

/** How much a verdict weighs in a roll-up, the worst highest; not applicable stands outside. */
const WEIGHT: Readonly<Record<Verdict, number>> = {
  not_applicable: -1,
  pass: 0,
  inconclusive: 1,
  not_tested: 2,
  not_valid: 3,
  fail: 4,
}

/** Positive when `a` is the worse of two verdicts: fail > not valid > not tested > inconclusive > pass > not applicable. */
export function worseThan(a: Verdict, b: Verdict): number {
  return WEIGHT[a] - WEIGHT[b]
}

/**
 * The roll-up of a filter, zone, room or visit: the worst of its verdicts, those that are not applicable left out.
 * Nothing applicable reads not tested, never pass.
 */
export function worstVerdict(verdicts: Iterable<Verdict>): Verdict {
  let worst: Verdict | null = null
  for (const verdict of verdicts) {
    if (verdict === 'not_applicable') continue
    if (worst === null || WEIGHT[verdict] > WEIGHT[worst]) worst = verdict
  }
  return worst ?? 'not_tested'
}

/** No verdicts counted yet. */
export function noVerdicts(): VerdictCounts {
  return { pass: 0, fail: 0, inconclusive: 0, not_tested: 0, not_valid: 0, not_applicable: 0 }
}

/** How many verdicts of each kind there are. */
export function countVerdicts(verdicts: Iterable<Verdict>): VerdictCounts {
  const counts = noVerdicts()
  for (const verdict of verdicts) counts[verdict] += 1
  return counts
}

/** Adds one count to another, in place. */
export function addCounts(into: VerdictCounts, more: VerdictCounts): void {
  into.pass += more.pass
  into.fail += more.fail
  into.inconclusive += more.inconclusive
  into.not_tested += more.not_tested
  into.not_valid += more.not_valid
  into.not_applicable += more.not_applicable
}

/** The roll-up of counts: the worst kind that occurs. */
export function worstOfCounts(counts: VerdictCounts): Verdict {
  if (counts.fail > 0) return 'fail'
  if (counts.not_valid > 0) return 'not_valid'
  if (counts.not_tested > 0) return 'not_tested'
  if (counts.inconclusive > 0) return 'inconclusive'
  return counts.pass > 0 ? 'pass' : 'not_tested'
}

type Judged = { readonly verdict: Verdict }

/** {@link worstVerdict} of things that carry a verdict. */
export function worstOf(judged: readonly Judged[]): Verdict {
  let worst: Verdict | null = null
  for (const { verdict } of judged) if (verdict !== 'not_applicable' && (worst === null || WEIGHT[verdict] > WEIGHT[worst])) worst = verdict
  return worst ?? 'not_tested'
}

/** Adds the verdicts of such things to a count, in place. */
export function tally(into: VerdictCounts, judged: readonly Judged[]): void {
  for (const { verdict } of judged) into[verdict] += 1
}
