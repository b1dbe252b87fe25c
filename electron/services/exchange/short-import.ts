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
    const create = () => {
      // The schema of this kind has just accepted the body.
      const change = { kind, id, parentId, revision: null, body: completed.body } as EntityChange
      if (change.kind !== 'project') return applyChanges(transaction, [change])
      const project = completed.body as EntityBody<'project'>
      checkWritten('project', project, 'changes.0.body')
      transaction.create('project', id, null, project)
    }
    problems.at(['entities', index], create, 'changes.0')
  }
}

function importRun(transaction: Transaction, run: Run, place: readonly (string | number)[], problems: ExchangeProblems): void {
  const { session } = transaction
  const { id, certificationId, at, instrumentId, personId, grids, readings, complete, ...chosen } = run
  const tags = new Map<string, readonly string[]>()
  const filterCalled = (tag: string, where: readonly (string | number)[]): string | null => {
    const [first, second] = tags.get(tag) ?? []
    if (first === undefined) problems.add([...where, 'terminal'], `there is no filter "${tag}" in this room`)
    else if (second !== undefined) problems.add([...where, 'terminal'], `several filters of this room are called "${tag}"`)
    else return first
    return null
  }
  const begin = () => {
    const { rowId } = session.find('room', run.roomId, 'roomId')
    for (const { entity } of session.stores.entities.list('terminal', { within: rowId }))
      tags.set(entity.body.tag, [...(tags.get(entity.body.tag) ?? []), entity.id])
    const gridFor = new Map<string, { rows: number; columns: number }>()
    for (const [index, { terminal, rows, columns }] of grids.entries()) {
      const terminalId = filterCalled(terminal, [...place, 'grids', index])
      if (terminalId !== null) gridFor.set(terminalId, { rows, columns })
    }
    beginRun(transaction, { id, certificationId, chosen, gridFor })
    return session.contexts.of(id)
  }
  const begun = problems.at(place, begin, 'run')
  if (!begun) return
  for (const [index, reading] of readings.entries()) {
    const where = [...place, 'readings', index]
    const measured = () => {
      const terminalId = filterCalled(reading.terminal, where)
      if (terminalId === null) return
      const number = pointOf(begun, terminalId, reading)
      if (number === null) return problems.add(where, `there is no such point of filter "${reading.terminal}" in this run`)
      const instrument = session.contexts.instrument(begun, reading.instrumentId ?? instrumentId)
      pinInstrument(transaction, begun, instrument)
      const { sample, typed, note } = reading
      const entry = { point: number, sample, typed, unit: reading.unit ?? run.unit, replaces: null, note }
      const by = { personId: reading.personId ?? personId, atMs: Date.parse(reading.at ?? at) }
      recordOne(transaction, begun, instrument, entry, by, 'reading')
    }
    problems.at(where, measured, 'reading')
  }
  if (complete) completeImported(transaction, id, place, problems)
}

/** The number of a point within the run, from its place within one filter: by its number there, by row and column, or by both if they agree. */
function pointOf(context: RunContext, terminalId: string, { point, row, column }: ReadingForm): number | null {
  if (point === undefined && (row === undefined || column === undefined)) return null
  const points = context.pointsOfTerminal.get(terminalId) ?? []
  const found = points.find((number, index) => {
    const location = context.points.get(number)?.location
    return (
      location !== undefined &&
      (point === undefined || index === point - 1) &&
      (row === undefined || location.row === row) &&
      (column === undefined || location.column === column)
    )
  })
  return found ?? null
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
