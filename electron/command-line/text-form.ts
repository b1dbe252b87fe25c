import { message, say } from '#core/messages/say.ts'
import type { CriterionResult, RunResult, Sentence } from '#core/model/results.ts'
import { createFormatter } from '#core/units/format.ts'
import type { EvaluatedVisit, Evaluation } from './evaluate.ts'

/** An evaluation for a reader, in the project's display units. */
export function evaluationText({ project, visits }: Evaluation): string {
  const formatter = createFormatter(project.display, 'en', project.timeZone)
  const words = ({ code, params }: Sentence) => say('en', formatter, code, params)
  const lines = visits.length === 0 ? [words(message('cli.no_certification', {}))] : visits.flatMap((visit) => visitLines(visit, words))
  return `${lines.join('\n')}\n`
}

type Words = (sentence: Sentence) => string

function visitLines({ certification, verdict, rooms }: EvaluatedVisit, words: Words): string[] {
  const { name, startsOn, endsOn } = certification.body
  const lines = [words(message('cli.certification', { name, startsOn, endsOn, verdict }))]
  for (const room of rooms) {
    const { airChangesPerHour, supplyFlowM3ps } = room.state
    lines.push('')
    lines.push(
      words(message('cli.room', { number: room.number, name: room.name, verdict: room.state.verdict, airChangesPerHour, supplyFlowM3ps })),
    )
    for (const run of room.state.runs) {
      const { phase, state, current } = run
      lines.push(`  ${words(message('cli.run', { phase, state, current, verdict: run.verdict }))}`)
      const result = room.results.find(({ runId }) => runId === run.runId)
      if (result) lines.push(...resultLines(result, words))
    }
  }
  return lines
}

function resultLines(result: RunResult, words: Words): string[] {
  const filters = result.filters.flatMap((filter) => [
    `    ${words(message('cli.filter', filter))}`,
    ...criterionLines(filter.criteria, words),
  ])
  const areas = [...result.zones.flatMap((zone) => zone.criteria), ...result.roomCriteria]
  return [`    ${words(result.headline)}`, ...filters, ...criterionLines(areas, words)]
}

function criterionLines(criteria: readonly CriterionResult[], words: Words): string[] {
  return criteria
    .filter(({ verdict }) => verdict !== 'not_applicable')
    .map(({ verdict, reason }) => `      ${words(message('cli.verdict', { verdict }))} ${words(reason)}`)
}
