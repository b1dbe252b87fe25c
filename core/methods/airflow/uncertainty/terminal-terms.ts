import type { UncertaintySettings } from '#core/model/criteria.ts'
import type { Basis } from '#core/model/values.ts'
import { type BudgetFactor, flowTerms, type MeasuredMean, meanTerms, type Sampling } from '#core/uncertainty/filter-terms.ts'
import type { Uncertain } from '#core/uncertainty/room-terms.ts'
import type { Term } from '#core/uncertainty/term.ts'
import type { FilterFigures } from '../filter-figures.ts'
import { areaGroup, type BudgetBook, DENSITY_GROUP, INSTRUMENT_DENSITY_GROUP, relativeOf } from './budget-book.ts'
import { slopesOf } from './reading-slopes.ts'
import { terminalOnBasis } from './run-errors.ts'
import { areaPercent, correctionRelative, elementPercent, flowsThroughArea, hoodFactorOf } from './terminal-errors.ts'

/** The terms of a terminal's mean and flow, line by line; null where no uncertainty is given. */
export type TerminalTerms = { readonly mean: Uncertain | null; readonly flow: Uncertain | null }

function samplingOf({ way }: FilterFigures, settings: UncertaintySettings): Sampling {
  if (way === 'duct_traverse') return { kind: 'traverse', rulePercent: settings.traverseRulePercent }
  return way === 'face_grid' ? { kind: 'face_grid' } : { kind: 'repeats' }
}

function measuredMean(filter: FilterFigures, basis: Basis, settings: UncertaintySettings, book: BudgetBook): MeasuredMean | null {
  const { of } = filter
  const on = terminalOnBasis(filter, basis)
  if (!on || of.readings.some(({ use }) => !book.instrumentOf(use).stated)) return null
  let moved = 0
  let movedAtInstrument = 0
  let count = 0
  const measured = of.readings.map((share) => {
    const { slope, sum, densityExponents } = slopesOf(of, share, basis)
    moved += sum * densityExponents.atFilter
    movedAtInstrument += sum * densityExponents.atInstrument
    count += share.indicated.length
    const readings = share.indicated.map((indicated, index) => ({
      indicated,
      sensitivity: typeof slope === 'number' ? slope : (slope[index] ?? 0),
    }))
    return { instrument: book.instrumentOf(share.use).budget, readings }
  })
  const exponentOf = (by: number) => (on.mean === 0 ? 0 : by / count / on.mean)
  const exponent = exponentOf(moved)
  const atInstrument = exponentOf(movedAtInstrument)
  return {
    terminalId: of.terminal.id,
    value: on.mean,
    parts: on.parts,
    sampling: samplingOf(filter, settings),
    measured,
    density: exponent === 0 ? null : { relativeUncertainty: book.densityRelative(settings, of.air), exponent, group: DENSITY_GROUP },
    ...(atInstrument === 0
      ? {}
      : {
          instrumentDensity: {
            relativeUncertainty: book.instrumentDensityRelative(settings, of.air),
            exponent: atInstrument,
            group: INSTRUMENT_DENSITY_GROUP,
          },
        }),
  }
}

/** An instrument's term says at which terminal as well: the same instrument reads at many. */
function placed(term: Term, terminalId: string): Term {
  return term.of === null || term.of === terminalId ? term : { ...term, of: `${term.of} ${terminalId}` }
}

/**
 * The terms behind a terminal's mean and flow on a basis: what `meanErrors` and `flowErrors` come to, line by line, for a budget that is read. A
 * closed terminal is a recorded zero without terms.
 */
export function terminalTerms(filter: FilterFigures, basis: Basis, settings: UncertaintySettings, book: BudgetBook): TerminalTerms {
  const { of } = filter
  if (of.readings.length === 0) {
    const zero = of.terminal.body.closed ? { value: 0, terms: [] } : null
    return { mean: zero, flow: filter.flowM3ps === null ? null : zero }
  }
  const mean = measuredMean(filter, basis, settings, book)
  const terms = mean && meanTerms(mean)?.map((term) => placed(term, of.terminal.id))
  if (!mean || !terms) return { mean: null, flow: null }
  if (filter.flowM3ps === null) return { mean: { value: mean.value, terms }, flow: null }
  const factors: BudgetFactor[] = []
  const correction = correctionRelative(of, settings)
  if (correction !== null)
    factors.push({ source: 'correction_factor', factor: filter.correctionFactor, relativeUncertainty: correction, group: null })
  const hood = hoodFactorOf(of, settings)
  // The readings have the hood's factor in them already; here it brings its uncertainty alone.
  if (hood) factors.push({ source: 'hood_factor', factor: 1, relativeUncertainty: hood.relative, group: hood.group })
  const element = elementPercent(of, settings)
  // A pressure has become a flow by the element already.
  if (element !== null) factors.push({ source: 'flow_element', factor: 1, relativeUncertainty: relativeOf(element), group: null })
  const percent = areaPercent(of, settings)
  const size = {
    size: filter.areaM2,
    relativeUncertainty: relativeOf(percent),
    group: areaGroup(of.terminal.id, of.terminal.body, percent, book.models),
  }
  const flow = flowTerms(mean, flowsThroughArea(of) ? size : null, factors)
  return {
    mean: { value: mean.value, terms },
    flow: flow && { value: flow.flowM3ps, terms: flow.terms.map((term) => placed(term, of.terminal.id)) },
  }
}
