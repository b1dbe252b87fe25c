import type { z } from 'zod'
import type { EntityChange } from '#core/api/entities.ts'
import type { EntityBody } from '#core/model/entities.ts'
import type { ShortExchange, ShortReading, ShortRun } from '#core/model/exchange.ts'
import { Run as RunBody } from '#core/model/runs.ts'
import { completeBody, completeParts } from '#core/model/short-bodies.ts'
import { checkWritten } from '../body-rules.ts'
import { checkCarried } from '../carried.ts'
import type { Transaction } from '../command.ts'
import { applyChanges } from '../entities.ts'
import { unitsOf } from '../imports/target.ts'
import { pinInstrument, recordOne } from '../readings.ts'
import type { RunContext } from '../run-context.ts'
import { computeRun } from '../run-results.ts'
import { beginRun } from '../runs.ts'
import { type ExchangePath, ExchangeProblems } from './problems.ts'

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
  const { id, certificationId, at, instrumentId, personId, grids, readings, complete, carried, ...written } = run
  const tags = new Map<string, readonly string[]>()
  const filterCalled = (tag: string, where: ExchangePath, key = 'terminal'): string | null => {
    const [first, second] = tags.get(tag) ?? []
    if (first === undefined) problems.add([...where, key], `there is no terminal "${tag}" in this room`)
    else if (second !== undefined) problems.add([...where, key], `several terminals of this room are called "${tag}"`)
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
    const { acceptedMisfits, conditions, instrumentConditions, doorPressures, otherUnits, ...chosen } = written
    const parts = completeParts(RunParts, {
      ...(conditions ? { conditions } : {}),
      instrumentConditions,
      doorPressures,
      acceptedMisfits: acceptedMisfits.map(({ terminal, ...misfit }, index) => ({
        personId,
        at,
        ...misfit,
        terminalId: terminal === undefined ? null : filterCalled(terminal, [...place, 'acceptedMisfits', index]),
      })),
    })
    if (!parts.ok) {
      for (const { path, detail } of parts.problems) problems.add([...place, ...path], detail)
      return null
    }
    const { conditions: told, ...others } = parts.parts
    beginRun(transaction, {
      id,
      certificationId,
      chosen: { ...chosen, ...others, otherUnits, ...(told ? { conditions: told } : {}) },
      gridFor,
    })
    return session.contexts.of(id)
  }
  const begun = problems.at(place, begin, 'run')
  if (!begun) return
  const unitFor = unitsOf(session, begun.body)
  for (const [index, reading] of readings.entries()) {
    const where = [...place, 'readings', index]
    const measured = () => {
      const terminalId = reading.terminal === undefined ? ON_THE_PLANE : filterCalled(reading.terminal, where)
      if (terminalId === null) return
      const number = pointOf(begun, terminalId, reading)
      if (number === null)
        return problems.add(
          where,
          `there is no such point of ${reading.terminal ? `terminal "${reading.terminal}"` : 'a plane'} in this run`,
        )
      const instrument = session.contexts.instrument(begun, reading.instrumentId ?? instrumentId)
      pinInstrument(transaction, begun, instrument)
      const { sample, typed, note } = reading
      const entry = {
        point: number,
        sample,
        typed,
        unit: reading.unit ?? unitFor(begun.points.get(number)?.quantity ?? 'velocity') ?? run.unit,
        replaces: null,
        note,
      }
      const by = { personId: reading.personId ?? personId, atMs: Date.parse(reading.at ?? at) }
      recordOne(transaction, begun, instrument, entry, by, 'reading')
    }
    problems.at(where, measured, 'reading')
  }
  carryOver(transaction, id, carried, problems, place, filterCalled)
  if (complete) completeImported(transaction, id, place, problems)
}

/** Points of a plane belong to no terminal. */
const ON_THE_PLANE = ''

const RunParts = RunBody.pick({ instrumentConditions: true, doorPressures: true, acceptedMisfits: true }).extend({
  conditions: RunBody.shape.conditions.optional(),
})

/** Terminals that an as-left run carries from the run as found. */
function carryOver(
  transaction: Transaction,
  runId: string,
  carried: Run['carried'],
  problems: ExchangeProblems,
  place: ExchangePath,
  called: (tag: string, where: ExchangePath, key: string) => string | null,
): void {
  if (carried.length === 0) return
  const groups = carried.map(({ terminals, ...group }, index) => ({
    ...group,
    terminalIds: terminals.flatMap((tag, nth) => called(tag, [...place, 'carried', index], `terminals.${nth}`) ?? []),
  }))
  const carry = () => {
    const run = transaction.session.find('run', runId)
    const body = { ...run.entity.body, carried: groups }
    checkCarried(transaction.session, run, body)
    transaction.revise(run, body)
  }
  problems.at([...place, 'carried'], carry, 'set.carried')
}

/** The number of a point within the run, from its place within one terminal or plane: by its number there, by row and column, or by both if they agree. */
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
  const { filters, zones } = computeRun(transaction.session, run)
  const plane = run.entity.body.method === 'plane_velocity_grid' ? zones[0] : undefined
  if (plane && plane.pointsMeasured < plane.pointsPlanned && run.entity.body.missing.length === 0)
    problems.add(
      place,
      `the plane has ${plane.pointsMeasured} of ${plane.pointsPlanned} points: give a reason under missing, or set complete to false`,
    )
  for (const filter of filters) {
    if (filter.closed || filter.pointsMeasured >= filter.pointsPlanned || excused.has(filter.terminalId)) continue
    problems.add(
      place,
      `terminal "${filter.tag}" has ${filter.pointsMeasured} of ${filter.pointsPlanned} points: give a reason under missing, or set complete to false`,
    )
  }
  transaction.revise(run, { ...run.entity.body, state: 'complete' })
}
