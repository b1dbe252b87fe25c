import { limitsHeld } from '#core/criteria/limits-held.ts'
import { message, say } from '#core/messages/say.ts'
import type { CriterionResult, RoomState, RunResult, Sentence } from '#core/model/results.ts'
import type { MethodId } from '#core/model/runs.ts'
import type { Basis } from '#core/model/values.ts'
import { createFormatter } from '#core/units/format.ts'
import type { EvaluatedRoom, EvaluatedVisit, Evaluation } from './evaluate.ts'

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
      words(
        message('cli.room', {
          number: room.number,
          name: room.name,
          verdict: room.state.verdict,
          airChangesPerHour,
          supplyFlowM3ps,
          of: { basis: basisOf(room), method: namedMethod(room.state), heldAgainst: roomLimits(figuresOf(room)?.roomCriteria ?? []) },
        }),
      ),
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

/** The run that the room's own figures come from. */
function figuresOf({ state, results }: EvaluatedRoom): RunResult | undefined {
  return results.find(({ runId }) => runId === state.figuresFrom?.runId)
}

/** The air that the room's own figures speak of. */
function basisOf(room: EvaluatedRoom): Basis {
  return figuresOf(room)?.room.basis ?? 'as_indicated'
}

/** The limits that a room's air changes and flow were held against. */
function roomLimits(criteria: readonly CriterionResult[]) {
  return { airChanges: limitsHeld(criteria, 'air_changes'), flow: limitsHeld(criteria, 'flow') }
}

/** The method that the room's own figures come from, where another one measured the whole room as well. */
function namedMethod({ figuresFrom }: RoomState): MethodId | null {
  return figuresFrom && !figuresFrom.alone ? figuresFrom.method : null
}

function resultLines(result: RunResult, words: Words): string[] {
  const { air, room, doors, zones } = result
  const line = (sentence: Sentence) => `    ${words(sentence)}`
  const filters = result.filters.flatMap((filter) => [
    line(message('cli.filter', { of: filter })),
    ...criterionLines(filter.criteria, words),
  ])
  const areas = zones.flatMap((zone) => [line(message('cli.zone', { of: zone })), ...criterionLines(zone.criteria, words)])
  const offset = room.uncertainty?.offset ?? null
  return [
    line(result.headline),
    ...result.notes.map(line),
    ...(air ? [line(message('cli.air', { of: air })), ...air.remarks.map((remark) => `      ${words(remark)}`)] : []),
    ...filters,
    ...areas,
    ...(room.supplyFlowM3ps === null ? [] : [line(message('cli.room_totals', { of: room, heldAgainst: roomLimits(result.roomCriteria) }))]),
    ...criterionLines(result.roomCriteria, words),
    ...(room.balance ? [line(message('cli.room_balance', { of: room.balance, offset }))] : []),
    ...doors.map((door) => line(message('cli.door', { of: door }))),
  ]
}

function criterionLines(criteria: readonly CriterionResult[], words: Words): string[] {
  return criteria
    .filter(({ verdict }) => verdict !== 'not_applicable')
    .map(({ verdict, reason }) => `      ${words(message('cli.verdict', { verdict }))} ${words(reason)}`)
}
