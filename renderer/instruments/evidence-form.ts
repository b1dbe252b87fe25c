import type { EntityBody } from '#core/model/entities.ts'
import type { Entered, Quantity } from '#core/model/values.ts'
import { plainNumberOf } from '#core/units/plain-number.ts'
import type { FieldProblem } from '../forms/use-form.ts'

type Calibration = EntityBody<'calibration'>
export type PointForm = {
  /** tells the lines of the form apart */
  line: number
  quantity: Quantity
  reading: Entered | null
  trueValue: Entered | null
  expandedUncertainty: Entered | null
  coverageFactor: string
}
export type StatedForm = {
  line: number
  quantity: Quantity
  percentOfReading: Entered | null
  absolute: Entered | null
  coverageFactor: string
}
export type DriftForm = { line: number; quantity: Quantity; halfWidth: Entered | null }
/** What a certificate says beyond its dates, as the form holds it. */
export type EvidenceForm = { points: PointForm[]; uncertainty: StatedForm[]; drift: DriftForm[] }

export const USUAL_COVERAGE = '2'

export function formOfEvidence({ points, uncertainty, drift }: Pick<Calibration, 'points' | 'uncertainty' | 'drift'>): EvidenceForm {
  return {
    points: points.map((point, line) => ({ ...point, line, coverageFactor: String(point.coverageFactor) })),
    uncertainty: uncertainty.map(({ quantity, expandedPercentOfReading, expandedAbsolute, coverageFactor }, line) => ({
      line,
      quantity,
      percentOfReading: { si: expandedPercentOfReading, typed: String(expandedPercentOfReading), unit: '%' },
      absolute: expandedAbsolute,
      coverageFactor: String(coverageFactor),
    })),
    drift: drift.map((one, line) => ({ ...one, line })),
  }
}

/** The lines that are complete; {@link evidenceProblems} says what the others miss. */
export function evidenceOfForm(form: EvidenceForm): Pick<Calibration, 'points' | 'uncertainty' | 'drift'> {
  return {
    points: form.points.flatMap(({ quantity, reading, trueValue, expandedUncertainty, coverageFactor: text }) => {
      const coverageFactor = coverageOfText(text)
      if (!reading || !trueValue || !expandedUncertainty || coverageFactor === null) return []
      return [{ quantity, reading, trueValue, expandedUncertainty, coverageFactor }]
    }),
    uncertainty: form.uncertainty.flatMap(({ quantity, percentOfReading, absolute, coverageFactor: text }) => {
      const coverageFactor = coverageOfText(text)
      if (!absolute || coverageFactor === null) return []
      return [{ quantity, expandedPercentOfReading: percentOfReading?.si ?? 0, expandedAbsolute: absolute, coverageFactor }]
    }),
    drift: form.drift.flatMap(({ quantity, halfWidth }) => (halfWidth ? [{ quantity, halfWidth }] : [])),
  }
}

/** A coverage factor as typed; null while it is no number above 0 and at most 10. */
export function coverageOfText(text: string): number | null {
  const factor = plainNumberOf(text, { least: 0, most: 10 })
  return factor > 0 ? factor : null
}

export function evidenceProblems(form: EvidenceForm): FieldProblem[] {
  const missing = (field: string, value: Entered | null): FieldProblem[] =>
    value ? [] : [{ field, code: 'instruments.problem.missing', params: {} }]
  const coverage = (field: string, text: string): FieldProblem[] =>
    coverageOfText(text) === null ? [{ field, code: 'instruments.problem.coverage', params: {} }] : []
  return [
    ...form.points.flatMap((point, index) => [
      ...missing(`points.${index}.reading`, point.reading),
      ...missing(`points.${index}.trueValue`, point.trueValue),
      ...missing(`points.${index}.expandedUncertainty`, point.expandedUncertainty),
      ...coverage(`points.${index}.coverageFactor`, point.coverageFactor),
    ]),
    ...form.uncertainty.flatMap((stated, index) => {
      const field = `uncertainty.${index}`
      const isShare = !stated.percentOfReading || (stated.percentOfReading.si >= 0 && stated.percentOfReading.si <= 100)
      return [
        ...(isShare ? [] : [{ field: `${field}.percentOfReading`, code: 'rule.not_below_zero', params: {} }]),
        ...missing(`${field}.expandedAbsolute`, stated.absolute),
        ...coverage(`${field}.coverageFactor`, stated.coverageFactor),
      ]
    }),
    ...form.drift.flatMap(({ halfWidth }, index) => missing(`drift.${index}.halfWidth`, halfWidth)),
  ]
}

/** Corrections that the complete points of one quantity make, in the order of their readings, in SI. */
export type CorrectionMark = { readonly reading: number; readonly correction: number; readonly expandedUncertainty: number }

export function correctionsOf(points: readonly PointForm[], quantity: Quantity): CorrectionMark[] {
  return points
    .flatMap((point) => {
      const { reading, trueValue, expandedUncertainty } = point
      if (point.quantity !== quantity || !reading || !trueValue || !expandedUncertainty) return []
      return [{ reading: reading.si, correction: trueValue.si - reading.si, expandedUncertainty: expandedUncertainty.si }]
    })
    .sort((one, other) => one.reading - other.reading)
}
