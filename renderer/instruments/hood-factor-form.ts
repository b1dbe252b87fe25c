import type { EntityBody } from '#core/model/entities.ts'
import type { TerminalFace } from '#core/model/terminals.ts'
import type { Entered } from '#core/model/values.ts'
import { plainNumberOf } from '#core/units/plain-number.ts'
import type { FieldProblem } from '../forms/use-form.ts'

type HoodFactor = EntityBody<'instrument'>['hoodFactors'][number]
/** One line of a hood's factors as its form holds it. */
export type HoodFactorForm = {
  /** tells the lines of the form apart */
  line: number
  face: TerminalFace
  low: Entered | null
  high: Entered | null
  factor: string
  uncertainty: Entered | null
  reason: string
}

export function newHoodFactor(line: number): HoodFactorForm {
  return { line, face: 'swirl', low: null, high: null, factor: '', uncertainty: null, reason: '' }
}

export function formOfHoodFactors(factors: readonly HoodFactor[]): HoodFactorForm[] {
  return factors.map(({ face, low, high, factor, uncertaintyPercent, reason }, line) => ({
    line,
    face,
    low,
    high,
    factor: String(factor),
    uncertainty: uncertaintyPercent === null ? null : { si: uncertaintyPercent, typed: String(uncertaintyPercent), unit: '%' },
    reason,
  }))
}

/** A factor as typed, with a point or a comma; null while it is no number above zero and at most 5. */
export function factorOfText(text: string): number | null {
  const factor = plainNumberOf(text, { least: 0, most: 5 })
  return factor > 0 ? factor : null
}

/** The factors that are complete, or null while one is not. */
export function hoodFactorsOfForm(lines: readonly HoodFactorForm[]): HoodFactor[] | null {
  const complete: HoodFactor[] = []
  for (const { face, low, high, factor: text, uncertainty, reason } of lines) {
    const factor = factorOfText(text)
    if (!low || !high || factor === null || reason.trim() === '') return null
    complete.push({ face, low, high, factor, uncertaintyPercent: uncertainty?.si ?? null, reason: reason.trim() })
  }
  return complete
}

/** What is missing or no number, at its field. */
export function hoodFactorProblems(lines: readonly HoodFactorForm[]): FieldProblem[] {
  return lines.flatMap(({ low, high, factor, uncertainty, reason }, index) => {
    const field = (part: string) => `hoodFactors.${index}.${part}`
    const missing = (part: string, there: boolean): FieldProblem[] =>
      there ? [] : [{ field: field(part), code: 'instruments.problem.missing', params: {} }]
    const isShare = uncertainty === null || (uncertainty.si >= 0 && uncertainty.si <= 50)
    return [
      ...missing('low', low !== null),
      ...missing('high', high !== null),
      ...(factorOfText(factor) === null ? [{ field: field('factor'), code: 'instruments.problem.factor', params: {} }] : []),
      ...(isShare ? [] : [{ field: field('uncertaintyPercent'), code: 'instruments.problem.share', params: {} }]),
      ...missing('reason', reason.trim() !== ''),
    ]
  })
}
