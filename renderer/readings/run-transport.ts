import type { ErrorKind } from '#core/api/errors.ts'
import { api } from '../app/client.ts'
import { failureOf } from '../app/failure.ts'
import type { Answer } from './outbox.ts'
import type { Outgoing } from './outgoing.ts'

/** Failures that may pass by themselves: the same command is tried again. Anything else needs the person. */
const PASSING: ReadonlySet<ErrorKind> = new Set(['internal', 'locked', 'disk_full', 'no_project'])

/** Tells the project one item of the queue. Never throws: what went wrong is an answer, too. */
export async function tell(runId: string, item: Outgoing): Promise<Answer> {
  const command = { id: item.commandId, personId: item.personId, reason: item.reason }
  try {
    if (item.kind === 'record') {
      const entries = item.entries.map(({ point, sample, typed, unit, replaces, note }) => ({
        point,
        sample,
        typed,
        unit,
        note,
        // A link to a command that was never answered stands for nothing the project knows.
        replaces: replaces?.by === 'reading' ? replaces.id : null,
      }))
      return { kind: 'done', readings: await api.readings.record({ command, runId, instrumentId: item.instrumentId, entries }) }
    }
    await (item.kind === 'undo' ? api.commands.undo({ command, scope: runId }) : api.commands.redo({ command, scope: runId }))
    return { kind: 'done', readings: [] }
  } catch (error) {
    const failure = failureOf(error)
    return { kind: PASSING.has(failure.kind) ? 'unreachable' : 'refused', sentence: failure.sentence }
  }
}

/** Calls back after so many milliseconds; returns how to call it off. */
export function waitFor(milliseconds: number, then: () => void): () => void {
  const timer = setTimeout(then, milliseconds)
  return () => clearTimeout(timer)
}
