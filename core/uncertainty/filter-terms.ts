import { sampleStandardDeviation } from '#core/statistics/statistics.ts'
import { type BudgetInstrument, instrumentTerms, type SensitiveReading } from './instrument-terms.ts'
import { scaleTerms, standardTerm, type Term } from './term.ts'

/** How the points stand for the whole face or duct. */
export type Sampling =
  | { readonly kind: 'face_grid' }
  /** the rule's error as a relative standard uncertainty, percent */
  | { readonly kind: 'traverse'; readonly rulePercent: number }
  /** one value by nature, such as a hood: repeats of it, if any, say how well it repeats */
  | { readonly kind: 'repeats' }

/** The readings of one instrument that went into a mean. */
export type InstrumentReadings = { readonly instrument: BudgetInstrument; readonly readings: readonly SensitiveReading[] }

/** A density that a figure was converted with: the figure changes by `exponent` times its relative change. */
export type ConversionDensity = { readonly relativeUncertainty: number; readonly exponent: number; readonly group: string }

/** A measured mean of a terminal, a velocity in m/s or a flow in m3/s, on the basis that is judged. */
export type MeasuredMean = {
  readonly terminalId: string
  readonly value: number
  /** means of the points, or repeats of the whole, on the same basis */
  readonly parts: readonly number[]
  readonly sampling: Sampling
  readonly measured: readonly InstrumentReadings[]
  /** the density that the conversion used; `exponent` as in BasisConversion; null where nothing was converted */
  readonly density: ConversionDensity | null
  /** of the air at the instrument, where that was recorded separately */
  readonly instrumentDensity?: ConversionDensity
}

/** A factor that a flow is multiplied by, with its relative standard uncertainty as a fraction. */
export type BudgetFactor = {
  readonly source: 'hood_factor' | 'correction_factor' | 'flow_element'
  readonly factor: number
  readonly relativeUncertainty: number
  /** hood factor of one face type: the same error wherever it is used */
  readonly group: string | null
}

/** Area or volume with its relative standard uncertainty, as a fraction. `group`: filters of one model have the same area error. */
export type BudgetSize = { readonly size: number; readonly relativeUncertainty: number; readonly group: string | null }

function samplingTerm({ sampling, parts, value, terminalId }: MeasuredMean): Term | null | 'one_point' {
  if (sampling.kind === 'traverse') return standardTerm('traverse_rule', terminalId, (sampling.rulePercent / 100) * Math.abs(value))
  const deviation = sampleStandardDeviation(parts)
  if (deviation === null) return sampling.kind === 'face_grid' ? 'one_point' : null
  const source = sampling.kind === 'face_grid' ? 'spatial' : 'repeat'
  const term = standardTerm(source, terminalId, deviation / Math.sqrt(parts.length), parts.length - 1)
  return { ...term, distribution: 'student' }
}

/**
 * Terms of a terminal's mean velocity (or directly measured flow): every instrument by its share of the readings, sampling, and the density
 * that the conversion used. Sampling: a face grid has s / sqrt(n) with n - 1 degrees of freedom (a conservative convention), a traverse the rule's own
 * term instead, a hood the repeats where there are two or more. Null when a face grid has one point: then there is no U, and a guarded
 * criterion is not tested. With unequal numbers of samples per point the shares of readings stand for those of points. Source:
 * GUM 4.2.3, 5.1; the choice of terms is the house's.
 */
export function meanTerms(mean: MeasuredMean): Term[] | null {
  const sampling = samplingTerm(mean)
  if (sampling === 'one_point') return null
  const count = mean.measured.reduce((sum, { readings }) => sum + readings.length, 0)
  const terms = mean.measured.flatMap(({ instrument, readings }) => instrumentTerms(instrument, readings, readings.length / count))
  if (sampling) terms.push(sampling)
  for (const density of [mean.density, mean.instrumentDensity]) {
    if (!density || density.exponent === 0) continue
    terms.push({
      ...standardTerm('density', mean.terminalId, density.relativeUncertainty, Number.POSITIVE_INFINITY, density.group),
      sensitivity: density.exponent * mean.value,
    })
  }
  return terms
}

function relativeTerm(source: Term['source'], of: string, relative: number, value: number, group: string | null): Term {
  return { ...standardTerm(source, of, relative, Number.POSITIVE_INFINITY, group), sensitivity: value }
}

/**
 * Terms of a terminal's flow, m3/s, Q = mean velocity x area x factors: the mean's terms scaled, with the area's and the factors' own. Area in
 * m2; null for a flow measured as such (`mean.value` in m3/s). Null as {@link meanTerms}. Source: GUM 5.1.2, product of inputs.
 */
export function flowTerms(
  mean: MeasuredMean,
  area: BudgetSize | null,
  factors: readonly BudgetFactor[],
): { readonly flowM3ps: number; readonly terms: Term[] } | null {
  const ofMean = meanTerms(mean)
  if (ofMean === null) return null
  const scale = factors.reduce((product, { factor }) => product * factor, area?.size ?? 1)
  const flowM3ps = mean.value * scale
  const terms = scaleTerms(ofMean, scale)
  if (area) terms.push(relativeTerm('area', mean.terminalId, area.relativeUncertainty, flowM3ps, area.group))
  for (const { source, relativeUncertainty, group } of factors)
    if (relativeUncertainty > 0) terms.push(relativeTerm(source, mean.terminalId, relativeUncertainty, flowM3ps, group))
  return { flowM3ps, terms }
}
