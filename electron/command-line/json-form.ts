import { say } from '#core/messages/say.ts'
import type { CriterionResult, Uncertainty } from '#core/model/results.ts'
import type { Basis, Dimension } from '#core/model/values.ts'
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
    basis: commonBasis(evaluation),
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

/** The air that all the figures speak of; null where runs differ, and then each says its own. */
function commonBasis({ visits }: Evaluation): Basis | null {
  const known = new Set(visits.flatMap(({ rooms }) => rooms.flatMap(({ results }) => results.map(({ basis }) => basis))))
  const [only = 'as_indicated'] = known
  return known.size > 1 ? null : only
}

type InWords = (code: string, params: Record<string, unknown>) => string

function walk(value: unknown, words: InWords, key = ''): unknown {
  if (Array.isArray(value)) return value.map((item) => walk(item, words))
  if (typeof value !== 'object' || value === null) return value
  if (isSentence(value)) return { ...value, text: words(value.code, value.params) }
  const dimension = isUncertainty(value) ? OF_UNCERTAINTY[key] : undefined
  const entries = Object.entries(value).map(([name, item]): [string, unknown] => [
    dimension && name === 'expanded' ? `${name}${SUFFIX[dimension]}` : isCriterion(value) ? withUnit(name, value) : name,
    walk(item, words, name),
  ])
  return Object.fromEntries(entries)
}

/** What an expanded uncertainty is in, by the figure that it belongs to. That of a zone is of its mean velocity. */
const OF_UNCERTAINTY: { readonly [figure: string]: Dimension | undefined } = {
  meanVelocity: 'velocity',
  uncertainty: 'velocity',
  flow: 'flow',
  supplyFlow: 'flow',
  offset: 'flow',
  percentOfDesign: 'percent',
  airChanges: 'air_change_rate',
}

function isUncertainty(value: object): value is Uncertainty {
  return 'expanded' in value && 'coverageFactor' in value && 'degreesOfFreedom' in value && Object.keys(value).length === 3
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
