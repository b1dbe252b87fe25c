import type { UncertaintySettings } from '#core/model/criteria.ts'
import { type NumberRange, plainNumberOf, readPlainNumber } from '#core/units/plain-number.ts'
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

const LEVEL: NumberRange = { least: 50, most: 99.9 }
const FACTOR: NumberRange = { least: 1, most: 5 }

function rangeOf(wanted: UncertaintyNumber): NumberRange {
  return { least: 0, most: UNCERTAINTY_NUMBERS.find(({ field }) => field === wanted)?.most ?? 0 }
}

/** The settings as they are saved; numbers that are none are NaN, and `uncertaintyProblems` says so. */
export function uncertaintyOfDraft(draft: UncertaintyDraft): UncertaintySettings {
  const numberOf = (field: UncertaintyNumber) => plainNumberOf(draft[field], rangeOf(field))
  return {
    coverage:
      draft.coverageKind === 'student'
        ? { kind: 'student', levelPercent: plainNumberOf(draft.levelPercent, LEVEL) }
        : { kind: 'fixed', factor: plainNumberOf(draft.factor, FACTOR) },
    areaPercent: numberOf('areaPercent'),
    volumePercent: numberOf('volumePercent'),
    hoodFactorPercent: numberOf('hoodFactorPercent'),
    correctionFactorPercent: numberOf('correctionFactorPercent'),
    traverseRulePercent: numberOf('traverseRulePercent'),
    flowElementPercent: numberOf('flowElementPercent'),
    temperatureK: numberOf('temperatureK'),
    pressurePa: numberOf('pressurePa'),
    relativeHumidityPercent: numberOf('relativeHumidityPercent'),
  }
}

function problemOf(field: string, typed: string, range: NumberRange): FieldProblem[] {
  const read = readPlainNumber(typed, range)
  if (read.kind === 'one') return []
  if (read.kind !== 'two') return [{ field: `uncertainty.${field}`, code: 'criteria.problem.number', params: range }]
  const params = { typed: typed.trim(), whole: String(read.asWhole), fraction: `${typed.trim()}0` }
  return [{ field: `uncertainty.${field}`, code: 'units.ambiguous', params }]
}

/** What is wrong with the settings as typed, at fields of `uncertainty`. */
export function uncertaintyProblems(draft: UncertaintyDraft): FieldProblem[] {
  const ofCoverage =
    draft.coverageKind === 'student' ? problemOf('levelPercent', draft.levelPercent, LEVEL) : problemOf('factor', draft.factor, FACTOR)
  return [...ofCoverage, ...UNCERTAINTY_NUMBERS.flatMap(({ field }) => problemOf(field, draft[field], rangeOf(field)))]
}
