import type { UncertaintySettings } from '#core/model/criteria.ts'
import { readNumber } from '#core/units/number-text.ts'
import type { FieldProblem } from '../forms/use-form.ts'

/** The numbers of the settings, in the order of the form, each with what it may be. */
export const UNCERTAINTY_NUMBERS = [
  { field: 'areaPercent', most: 50 },
  { field: 'volumePercent', most: 50 },
  { field: 'hoodFactorPercent', most: 50 },
  { field: 'correctionFactorPercent', most: 50 },
  { field: 'traverseRulePercent', most: 50 },
  { field: 'flowElementPercent', most: 50 },
  { field: 'temperatureK', most: 20 },
  { field: 'pressurePa', most: 20_000 },
  { field: 'relativeHumidityPercent', most: 50 },
] as const
export type UncertaintyNumber = (typeof UNCERTAINTY_NUMBERS)[number]['field']

/** The settings as they are typed. */
export type UncertaintyDraft = Record<UncertaintyNumber, string> & {
  coverageKind: UncertaintySettings['coverage']['kind']
  levelPercent: string
  factor: string
}

export function draftOfUncertainty(settings: UncertaintySettings): UncertaintyDraft {
  const { coverage, ...numbers } = settings
  return {
    areaPercent: String(numbers.areaPercent),
    volumePercent: String(numbers.volumePercent),
    hoodFactorPercent: String(numbers.hoodFactorPercent),
    correctionFactorPercent: String(numbers.correctionFactorPercent),
    traverseRulePercent: String(numbers.traverseRulePercent),
    flowElementPercent: String(numbers.flowElementPercent),
    temperatureK: String(numbers.temperatureK),
    pressurePa: String(numbers.pressurePa),
    relativeHumidityPercent: String(numbers.relativeHumidityPercent),
    coverageKind: coverage.kind,
    levelPercent: String(coverage.kind === 'student' ? coverage.levelPercent : 95),
    factor: String(coverage.kind === 'fixed' ? coverage.factor : 2),
  }
}

function numberOf(text: string): number {
  const read = readNumber(text.trim())
  return read?.kind === 'one' ? read.value : Number.NaN
}

/** The settings as they are saved; numbers that are none are NaN, and `uncertaintyProblems` says so. */
export function uncertaintyOfDraft(draft: UncertaintyDraft): UncertaintySettings {
  return {
    coverage:
      draft.coverageKind === 'student'
        ? { kind: 'student', levelPercent: numberOf(draft.levelPercent) }
        : { kind: 'fixed', factor: numberOf(draft.factor) },
    areaPercent: numberOf(draft.areaPercent),
    volumePercent: numberOf(draft.volumePercent),
    hoodFactorPercent: numberOf(draft.hoodFactorPercent),
    correctionFactorPercent: numberOf(draft.correctionFactorPercent),
    traverseRulePercent: numberOf(draft.traverseRulePercent),
    flowElementPercent: numberOf(draft.flowElementPercent),
    temperatureK: numberOf(draft.temperatureK),
    pressurePa: numberOf(draft.pressurePa),
    relativeHumidityPercent: numberOf(draft.relativeHumidityPercent),
  }
}

function outside(field: string, value: number, least: number, most: number): FieldProblem[] {
  if (value >= least && value <= most) return []
  return [{ field: `uncertainty.${field}`, code: 'criteria.problem.number', params: { least, most } }]
}

/** What is wrong with the settings as typed, at fields of `uncertainty`. */
export function uncertaintyProblems(draft: UncertaintyDraft): FieldProblem[] {
  const settings = uncertaintyOfDraft(draft)
  const { coverage } = settings
  const ofCoverage =
    coverage.kind === 'student' ? outside('levelPercent', coverage.levelPercent, 50, 99.9) : outside('factor', coverage.factor, 1, 5)
  return [...ofCoverage, ...UNCERTAINTY_NUMBERS.flatMap(({ field, most }) => outside(field, settings[field], 0, most))]
}
