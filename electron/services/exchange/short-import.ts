import type { z } from 'zod'
import type { EntityChange } from '#core/api/contract.ts'
import type { EntityBody } from '#core/model/entities.ts'
import type { ShortExchange, ShortReading, ShortRun } from '#core/model/exchange.ts'
import { completeBody } from '#core/model/short-bodies.ts'
import { checkWritten } from '../body-rules.ts'
import type { Transaction } from '../command.ts'
import { applyChanges } from '../entities.ts'
import { pinInstrument, recordOne } from '../readings.ts'
import type { RunContext } from '../run-context.ts'
import { computeRun } from '../run-results.ts'
import { beginRun } from '../runs.ts'
import { ExchangeProblems } from './problems.ts'

type Run = z.infer<typeof ShortRun>
type ReadingForm = z.infer<typeof ShortReading>

/** Makes the entities and runs of a short exchange form as one command would; problems name their place, all of them at once. */
export function importShort(transaction: Transaction, short: ShortExchange): void {
  const problems = new ExchangeProblems()
  importEntities(transaction, short, problems)
  problems.refuse()
  for (const [index, run] of short.runs.entries()) importRun(transaction, run, ['runs', index], problems)
  problems.refuse()
}

function importEntities(transaction: Transaction, short: ShortExchange, problems: ExchangeProblems): void {
  for (const [index, { kind, id, parentId, body }] of short.entities.entries()) {
    const completed = completeBody(kind, body)
    if (!completed.ok) {
      for (const { path, detail } of completed.problems) problems.add(['entities', index, 'body', ...path], detail)
      continue
    }
    problems.at(['entities', index], () => {
      // The schema of this kind has just accepted the body.
      const change = { kind, id, parentId, revision: null, body: completed.body } as EntityChange
      if (change.kind !== 'project') return applyChanges(transaction, [change])
      const project = completed.body as EntityBody<'project'>
      checkWritten('project', project, 'body')
      transaction.create('project', id, null, project)
    })
  }
}

function importRun(transaction: Transaction, run: Run, place: readonly (string | number)[], problems: ExchangeProblems): void {
  const { session } = transaction
  const { id, certificationId, at, instrumentId, personId, grids, readings, complete, ...chosen } = run
  const tags = new Map<string, string>()
  const begun = problems.at(place, () => {
    const { rowId } = session.find('room', run.roomId, 'roomId')
    for (const { entity } of session.stores.entities.list('terminal', { within: rowId })) tags.set(entity.body.tag, entity.id)
    const gridFor = new Map<string, { rows: number; columns: number }>()
    for (const [index, { terminal, rows, columns }] of grids.entries()) {
      const terminalId = tags.get(terminal)
      if (terminalId === undefined) problems.add([...place, 'grids', index, 'terminal'], `there is no filter "${terminal}" in this room`)
      else gridFor.set(terminalId, { rows, columns })
    }
    beginRun(transaction, { id, certificationId, chosen, gridFor })
    return session.contexts.of(id)
  })
  if (!begun) return
  for (const [index, reading] of readings.entries()) {
    const where = [...place, 'readings', index]
    problems.at(where, () => {
      const number = pointOf(begun, tags.get(reading.terminal), reading)
      if (number === null) return problems.add(where, `there is no such point of filter "${reading.terminal}" in this run`)
      const instrument = session.contexts.instrument(begun, reading.instrumentId ?? instrumentId)
      pinInstrument(transaction, begun, instrument)
      const { sample, typed, note } = reading
      const entry = { point: number, sample, typed, unit: reading.unit ?? run.unit, replaces: null, note }
      const by = { personId: reading.personId ?? personId, atMs: Date.parse(reading.at ?? at) }
      recordOne(transaction, begun, instrument, entry, by, 'reading')
    })
  }
  if (complete) completeImported(transaction, id, place, problems)
}

/** The number of a point within the run, from its place within one filter. */
function pointOf(context: RunContext, terminalId: string | undefined, reading: ReadingForm): number | null {
  if (terminalId === undefined) return null
  const points = context.pointsOfTerminal.get(terminalId) ?? []
  if (reading.point !== undefined) return points[reading.point - 1] ?? null
  return (
    points.find((number) => {
      const location = context.points.get(number)?.location
      return location !== undefined && location.row === reading.row && location.column === reading.column
    }) ?? null
  )
}

function completeImported(transaction: Transaction, runId: string, place: readonly (string | number)[], problems: ExchangeProblems): void {
  const run = transaction.session.find('run', runId)
  const excused = new Set(run.entity.body.missing.flatMap((reason) => reason.terminalIds))
  for (const filter of computeRun(transaction.session, run).filters) {
    if (filter.closed || filter.pointsMeasured >= filter.pointsPlanned || excused.has(filter.terminalId)) continue
    problems.add(
      place,
      `filter "${filter.tag}" has ${filter.pointsMeasured} of ${filter.pointsPlanned} points: give a reason under missing, or set complete to false`,
    )
  }
  transaction.revise(run, { ...run.entity.body, state: 'complete' })
}
