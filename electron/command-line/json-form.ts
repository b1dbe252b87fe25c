import { say } from '#core/messages/say.ts'
import type { CriterionResult } from '#core/model/results.ts'
import type { Dimension } from '#core/model/values.ts'
import { createFormatter } from '#core/units/format.ts'
import type { Formatter } from '#core/units/formatter.ts'
import { type Evaluation, exitOf } from './evaluate.ts'

const SUFFIX: { readonly [D in Dimension]: string } = {
  velocity: 'Mps',
  flow: 'M3ps',
  length: 'M',
  area: 'M2',
  volume: 'M3',
  pressure: 'Pa',
  temperature: 'DegC',
  percent: 'Percent',
  air_change_rate: 'PerHour',
  duration: 'S',
}

/** An evaluation as JSON: SI with the unit in every key's name, and each sentence beside its code. */
export function inUnits(evaluation: Evaluation): unknown {
  const { file, project, calculationVersion, verdict, counts, visits } = evaluation
  const formatter = createFormatter(project.display, 'en', project.timeZone)
  const told = {
    file,
    project: project.name,
    calculationVersion,
    basis: 'as_indicated',
    verdict,
    counts,
    exitStatus: exitOf(evaluation),
    certifications: visits.map(({ certification, rooms, ...visit }) => ({
      id: certification.id,
      name: certification.body.name,
      startsOn: certification.body.startsOn,
      endsOn: certification.body.endsOn,
      ...visit,
      rooms: rooms.map(({ number, name, state, results }) => ({
        number,
        name,
        ...state,
        runs: state.runs.map((run) => ({ ...run, result: results.find(({ runId }) => runId === run.runId) ?? null })),
      })),
    })),
  }
  return walk(told, (code, params) => say('en', formatter, code, params))
}

/** Any answer of a service as JSON: each sentence beside its code, limits with their unit in the name. */
export function withSentences(value: unknown, formatter: Formatter): unknown {
  return walk(value, (code, params) => say('en', formatter, code, params))
}

type InWords = (code: string, params: Record<string, unknown>) => string

function walk(value: unknown, words: InWords): unknown {
  if (Array.isArray(value)) return value.map((item) => walk(item, words))
  if (typeof value !== 'object' || value === null) return value
  if (isSentence(value)) return { ...value, text: words(value.code, value.params) }
  const entries = Object.entries(value).map(([name, item]): [string, unknown] => [
    isCriterion(value) ? withUnit(name, value) : name,
    walk(item, words),
  ])
  return Object.fromEntries(entries)
}

function isSentence(value: object): value is { code: string; params: Record<string, unknown> } {
  return 'code' in value && typeof value.code === 'string' && 'params' in value && typeof value.params === 'object' && value.params !== null
}

function isCriterion(value: object): value is CriterionResult {
  return 'key' in value && 'margin' in value && 'dimension' in value
}

/** value, limits, margin, U and guard band of a criterion have the unit of its dimension. */
function withUnit(name: string, criterion: CriterionResult): string {
  return ['value', 'low', 'high', 'margin', 'expandedUncertainty', 'guardBand'].includes(name)
    ? `${name}${SUFFIX[criterion.dimension]}`
    : name
}
