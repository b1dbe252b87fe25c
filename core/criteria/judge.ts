import { message } from '#core/messages/say.ts'
import type { Verdict } from '#core/model/criteria.ts'
import type { CriterionResult, Sentence, Uncertainty } from '#core/model/results.ts'
import type { Unit, Uuid } from '#core/model/values.ts'
import { compareLimit, keepsHigh, reachesLow } from './compare-limit.ts'
import { type LimitDigits, roundToLimit } from './limit-digits.ts'
import type { PreparedCriterion } from './prepare.ts'
import type { Certainty, JudgedFigure, ReleasedUse, Remarks, UncoveredUse } from './stance.ts'

/** Why a figure does not exist, and what its criteria then read. */
export type NoFigure = {
  readonly verdict: 'not_tested' | 'fail' | 'not_applicable'
  readonly reason: (criterion: PreparedCriterion) => Sentence
}

/** What is missing from a set of readings, for the reason. */
export type Gap = {
  readonly measured: number
  readonly planned: number
  /** readings left out because they lie above the instrument's or the calibrated range */
  readonly aboveRange: number
  /** tags of the terminals that lack points or flow, the first few */
  readonly terminals: readonly string[]
  /** how many more lack them than are named */
  readonly more: number
  readonly cause: 'inaccessible' | 'obstructed' | 'not_in_operation' | 'other' | null
}

/** One figure of one subject, ready to be held against a criterion. */
export type Evidence = {
  readonly subjectId: Uuid
  /** SI; null with `none` */
  readonly value: number | null
  readonly none: NoFigure | null
  /** the subject as a whole is outside this criterion (closed, other scope) */
  readonly outside: ((criterion: PreparedCriterion) => Sentence) | null
  readonly gap: Gap | null
  /** the lowest value the figure could take, whatever the missing part is; null without a bound */
  readonly leastPossible: number | null
  /** of the value, in its unit; null where none can be given */
  readonly uncertainty: Uncertainty | null
  readonly design: { readonly si: number; readonly unit: Unit } | null
  readonly reversed: number
  /** closed faces that the figure leaves out, to be said; none where that is not given */
  readonly closedFaces?: number
  readonly allBelowRange: boolean
  readonly uncovered: readonly UncoveredUse[]
  readonly released: readonly ReleasedUse[]
}

export type Limits = {
  readonly low: number | null
  readonly high: number | null
  readonly relative: JudgedFigure['relative']
  readonly unit: Unit
}

type Ruling = {
  readonly verdict: Verdict
  readonly margin: number | null
  readonly reason: Sentence
  readonly value?: number | null
  readonly point?: number
  readonly certainty?: Certainty | null
}

/** What a guarded rule moves the limits by: 0 under simple acceptance, null where it needs an uncertainty and there is none. */
function guardBandFor(criterion: PreparedCriterion, { uncertainty }: Evidence): number | null {
  if (!criterion.guarded) return 0
  return uncertainty ? criterion.multiple * uncertainty.expanded : null
}

function certaintyOf(evidence: Evidence, criterion: PreparedCriterion, guardBand: number, undecidable: boolean): Certainty | null {
  const { uncertainty } = evidence
  if (!uncertainty) return null
  const { expanded, coverageFactor } = uncertainty
  return { expanded, coverageFactor, guardBand: criterion.guarded ? guardBand : null, undecidable }
}

/** Every reason names the decision rule: one that was made without a comparison is given it here. What does not apply is not decided. */
function namingTheRule(criterion: PreparedCriterion, ruling: Ruling): Sentence {
  const { reason } = ruling
  if (ruling.verdict === 'not_applicable' || 'stance' in reason.params || 'judged' in reason.params) return reason
  return { code: reason.code, params: { ...reason.params, stance: criterion.stance } }
}

/** The value as it is compared: itself, or rounded to the limit's digits; a percentage of design or mean rounds as a percentage. */
export function comparedValue(value: number, limits: Limits, digits: LimitDigits | null): number {
  if (!digits) return value
  if (!limits.relative) return roundToLimit(value, digits)
  const { si } = limits.relative
  return si === 0 ? value : (si * roundToLimit((100 * value) / si, digits)) / 100
}

/** Puts a ruling into the form of a result; uncovered use of an instrument turns it into not valid, which beats everything. */
export function resultOf(criterion: PreparedCriterion, evidence: Evidence, limits: Limits, ruling: Ruling): CriterionResult {
  const invalid = evidence.uncovered.length > 0 && ruling.verdict !== 'not_applicable'
  const would = ruling.verdict === 'pass' || ruling.verdict === 'fail' ? ruling.verdict : null
  const value = ruling.value === undefined ? evidence.value : ruling.value
  const certainty = ruling.certainty ?? null
  const reason = namingTheRule(criterion, ruling)
  return {
    key: criterion.key,
    title: criterion.title,
    quantity: criterion.quantity,
    scope: criterion.scope,
    subjectId: evidence.subjectId,
    point: ruling.point ?? null,
    dimension: criterion.dimension,
    unit: limits.unit,
    value,
    low: limits.low,
    high: limits.high,
    margin: ruling.margin,
    expandedUncertainty: certainty?.expanded ?? null,
    coverageFactor: certainty?.coverageFactor ?? null,
    guardBand: certainty?.guardBand ?? null,
    basis: criterion.stance.basis,
    verdict: invalid ? 'not_valid' : ruling.verdict,
    would: invalid ? would : null,
    alert: value === null || ruling.verdict === 'not_applicable' ? null : alertOf(criterion, value),
    reason: invalid
      ? message('reason.not_valid', {
          title: criterion.title,
          source: criterion.source,
          uses: evidence.uncovered,
          outcome: { would, inconclusive: ruling.verdict === 'inconclusive' },
          otherwise: reason,
        })
      : reason,
    source: criterion.source,
  }
}

function alertOf(criterion: PreparedCriterion, value: number): 'low' | 'high' | null {
  if (criterion.alertLow !== null && !reachesLow(value, criterion.alertLow)) return 'low'
  if (criterion.alertHigh !== null && !keepsHigh(value, criterion.alertHigh)) return 'high'
  return null
}

/** Limits of a criterion for one subject; null where it has no design value to be a percentage of. */
export function limitsFor(criterion: PreparedCriterion, { design }: Pick<Evidence, 'design'>): Limits | null {
  if (criterion.form.kind !== 'within_percent_of_design')
    return { low: criterion.low, high: criterion.high, relative: null, unit: criterion.unit }
  if (!design || !(design.si > 0)) return null
  const { percent } = criterion.form
  return {
    low: (design.si * (100 - percent)) / 100,
    high: (design.si * (100 + percent)) / 100,
    relative: { to: 'design', si: design.si, percent },
    unit: design.unit,
  }
}

const NO_REMARKS: Remarks = { reversed: 0, released: [] }

function remarksOf({ reversed, released, closedFaces = 0 }: Evidence): Remarks {
  if (closedFaces > 0) return { reversed, released, closedFaces }
  return reversed === 0 && released.length === 0 ? NO_REMARKS : { reversed, released }
}

/** The reason of a comparison that was made. */
export function judgedReason(
  criterion: PreparedCriterion,
  evidence: Evidence,
  limits: Limits,
  numbers: {
    value: number
    compared: number
    margin: number
    side: 'low' | 'high' | null
    verdict: 'pass' | 'fail' | 'inconclusive'
    certainty: Certainty | null
  },
): Sentence {
  const judged = {
    title: criterion.title,
    source: criterion.source,
    figure: {
      value: numbers.value,
      rounded: criterion.digits ? numbers.compared : null,
      low: limits.low,
      high: limits.high,
      margin: numbers.margin,
      side: numbers.side,
      certainty: numbers.certainty,
      dimension: criterion.dimension,
      unit: limits.unit,
      relative: limits.relative,
    },
    stance: criterion.stance,
    remarks: remarksOf(evidence),
  }
  return numbers.verdict === 'inconclusive'
    ? message('reason.inconclusive', judged)
    : message('reason.judged', { ...judged, met: numbers.verdict === 'pass' })
}

function rule(criterion: PreparedCriterion, evidence: Evidence, limits: Limits): Ruling {
  const { title, source } = criterion
  const { value, gap } = evidence
  const guardBand = guardBandFor(criterion, evidence)
  if (gap) {
    const least = evidence.leastPossible
    if (least !== null && limits.high !== null && guardBand !== null && !keepsHigh(least, limits.high + guardBand)) {
      const figure = { least, high: limits.high, dimension: criterion.dimension, unit: limits.unit }
      return {
        verdict: 'fail',
        margin: limits.high - least,
        reason: message('reason.beyond_rescue', { title, source, gap, figure, stance: criterion.stance }),
      }
    }
    return { verdict: 'not_tested', margin: null, reason: message('reason.incomplete', { title, source, gap }) }
  }
  if (value === null)
    return evidence.none
      ? { verdict: evidence.none.verdict, margin: null, reason: evidence.none.reason(criterion) }
      : { verdict: 'not_tested', margin: null, reason: message('reason.no_reading', { title, source }) }
  if (guardBand === null) return { verdict: 'not_tested', margin: null, reason: message('reason.no_uncertainty', { title, source }) }
  if (limits.low === null && limits.high === null)
    return { verdict: 'not_tested', margin: null, reason: message('reason.unfit', { title, source }) }
  const compared = comparedValue(value, limits, criterion.digits)
  const outcome = compareLimit(compared, limits.low, limits.high, guardBand)
  const supportedFail = outcome.verdict === 'fail' && outcome.side === 'low'
  if (evidence.allBelowRange && !supportedFail)
    return { verdict: 'not_tested', margin: null, reason: message('reason.below_range', { title, source }) }
  const certainty = certaintyOf(evidence, criterion, guardBand, outcome.undecidable)
  const numbers = { value, compared, margin: outcome.margin, side: outcome.side, verdict: outcome.verdict, certainty }
  return {
    verdict: outcome.verdict,
    margin: Number.isFinite(outcome.margin) ? outcome.margin : null,
    reason: judgedReason(criterion, evidence, limits, numbers),
    certainty,
  }
}

/** What a ruling needs to say that a criterion has no place here. */
export function notApplicable(criterion: PreparedCriterion, evidence: Evidence, reason: Sentence): CriterionResult {
  const limits: Limits = { low: criterion.low, high: criterion.high, relative: null, unit: criterion.unit }
  return resultOf(criterion, evidence, limits, { verdict: 'not_applicable', margin: null, reason })
}

/** What excludes a criterion for this subject, as a result; null when it is to be judged. */
export function excludedResult(criterion: PreparedCriterion, evidence: Evidence): CriterionResult | null {
  if (criterion.excluded) return notApplicable(criterion, evidence, criterion.excluded)
  return evidence.outside ? notApplicable(criterion, evidence, evidence.outside(criterion)) : null
}

/**
 * Holds one figure against one criterion. In order: what does not apply is not applicable; an uncovered instrument makes
 * the verdict not valid and says what it would have been; without a limit or design value, without a figure, or with a
 * part missing it is not tested, except that an incomplete set fails when no value of the missing part could rescue it; a guarded rule
 * without an expanded uncertainty is not tested, and with one is inconclusive near a limit; a figure made only of readings below the
 * instrument's range may support a fail of a lower limit, never a pass. Source: the house's rules A1, A3 and A4 (common practice); comparison as `compareLimit`.
 */
export function judgeFigure(criterion: PreparedCriterion, evidence: Evidence): CriterionResult {
  const excluded = excludedResult(criterion, evidence)
  if (excluded) return excluded
  const limits = limitsFor(criterion, evidence)
  const none: Limits = { low: null, high: null, relative: null, unit: criterion.unit }
  const { title, source } = criterion
  if (criterion.unsettled) {
    const shown = criterion.withoutFigure ? { value: null } : {}
    return resultOf(criterion, evidence, none, { verdict: 'not_tested', margin: null, reason: criterion.unsettled, ...shown })
  }
  if (!limits)
    return resultOf(criterion, evidence, none, {
      verdict: 'not_tested',
      margin: null,
      reason: message('reason.no_design', { title, source }),
    })
  return resultOf(criterion, evidence, limits, rule(criterion, evidence, limits))
}
