import type { z } from 'zod'
import type { Command } from '#core/api/base.ts'
import type { contract } from '#core/api/contract.ts'
import { message } from '#core/messages/say.ts'
import { neighboursOf } from '#core/methods/airflow/neighbours.ts'
import { flagsFor, refuseReading } from '#core/methods/airflow/plausibility.ts'
import { mayBeNegative, questionAt } from '#core/methods/airflow/plausibility-by-way.ts'
import type { AuditEntry } from '#core/model/audit.ts'
import type { EntityBody } from '#core/model/entities.ts'
import type { Reading } from '#core/model/readings.ts'
import { DIMENSION_OF_QUANTITY } from '#core/model/rule-problem.ts'
import { parseEntered } from '#core/units/parse.ts'
import { dimensionOf } from '#core/units/units.ts'
import { problem } from '../project-file/problem.ts'
import { commit, type Transaction } from './command.ts'
import { type KnownInstrument, type KnownPoint, type RunContext, slotOf } from './run-context.ts'
import { pin } from './run-scope.ts'
import type { Session } from './session.ts'
import { changeSlot } from './slots.ts'

type RecordInput = z.infer<NonNullable<(typeof contract.readings.record)['~orpc']['inputSchema']>>
type Entry = RecordInput['entries'][number]

/** Records what was typed, each value at its point and sample. A value that stands there already is voided and replaced. */
export function recordReadings(session: Session, input: RecordInput): Reading[] {
  const { command, runId } = input
  return commit(
    session,
    {
      command,
      name: 'reading.record',
      scope: runId,
      sameAs: ['reading.record', 'reading.correct', 'reading.paste'],
      keepsCaches: true,
    },
    (transaction) => {
      const context = session.contexts.of(runId)
      refuseWithoutReason(context.body.state, command)
      const instrument = session.contexts.instrument(context, input.instrumentId)
      pinInstrument(transaction, context, instrument)
      const recorded = input.entries.map((entry, index) =>
        recordOne(transaction, context, instrument, entry, { personId: command.personId, atMs: transaction.atMs }, `entries.${index}`),
      )
      if (input.entries.length > 1) transaction.name = 'reading.paste'
      else if (input.entries[0]?.replaces !== null) transaction.name = 'reading.correct'
      return recorded
    },
    (entry) => {
      const recorded = readingsOf(session, entry)
      // The answer must be about what was typed now: anything else would look saved and is not.
      if (!saysTheSame(recorded, input)) throw problem('conflict', message('error.command_reused', {}))
      return recorded
    },
  )
}

function saysTheSame(recorded: readonly Reading[], { entries, instrumentId }: RecordInput): boolean {
  return (
    recorded.length === entries.length &&
    recorded.every((reading, index) => {
      const entry = entries[index]
      return (
        reading.instrumentId === instrumentId &&
        reading.point === entry?.point &&
        reading.sample === entry.sample &&
        reading.typed === entry.typed
      )
    })
  )
}

export type TakenBy = { readonly personId: string; readonly atMs: number }

/** Checks, flags and writes one typed value. `by` says who took it and when: the person at the screen now, or as an imported file says. */
export function recordOne(
  transaction: Transaction,
  context: RunContext,
  instrument: KnownInstrument,
  entry: Entry,
  by: TakenBy,
  field: string,
): Reading {
  const { session, command } = transaction
  const point = context.points.get(entry.point)
  if (!point) throw problem('invalid_input', message('error.no_such_point', { point: entry.point }), { field: `${field}.point` })
  if (entry.sample > context.body.samplesPerPoint) {
    throw problem('invalid_input', message('error.no_such_sample', { sample: entry.sample, most: context.body.samplesPerPoint }), {
      field: `${field}.sample`,
    })
  }
  refuseCarried(transaction, context, point, field)
  const old = context.inForce.get(slotOf(entry.point, entry.sample))
  if ((old?.reading.id ?? null) !== entry.replaces) throw problem('conflict', message('error.reading_changed', { point: entry.point }))
  if (old) refuseOthersWithoutReason(old.reading, command)

  const parsed = parseEntered(entry.typed, entry.unit)
  if (!parsed.ok) throw problem('invalid_input', parsed.problem, { field: `${field}.typed` })
  const { si, unit } = parsed.value
  const { quantity, way, direction } = point
  const expected = DIMENSION_OF_QUANTITY[quantity]
  if (dimensionOf(unit) !== expected) {
    throw problem('invalid_input', message('rule.dimension', { expected, given: unit }), { field: `${field}.unit` })
  }
  const refusal = refuseReading({ si, quantity, instrument: instrument.body })
  if (refusal) throw problem('invalid_input', refusal, { field: `${field}.typed` })

  const question = questionAt({
    way,
    quantity,
    mayBeNegative: mayBeNegative(way, direction),
    si,
    typed: entry.typed,
    unit,
    neighbours: neighbours(context, entry.point),
    designVelocityMps: point.designVelocityMps,
    designFlowM3ps: point.designFlowM3ps,
    instrument: instrument.body,
  })
  const flags = flagsFor({
    si,
    quantity,
    instrument: instrument.body,
    calibrations: instrument.calibrations.map(({ body }) => body),
    localDate: session.localDates.of(by.atMs),
    averagingTimeS: context.body.averagingTimeS,
    leastAveragingTimeS: context.leastAveragingTimeS,
    questioned: question !== null,
  })
  const reading = changeSlot(transaction, {
    context,
    old,
    reason: command.reason,
    fresh: {
      point: entry.point,
      instrumentId: instrument.id,
      personId: by.personId,
      row: {
        runRowId: context.rowId,
        locationRowId: point.rowId,
        sample: entry.sample,
        quantity,
        si,
        typed: entry.typed,
        unit,
        basis: 'as_indicated',
        instrumentRowId: instrument.rowId,
        personRowId: session.person(by.personId),
        atMs: by.atMs,
        flags,
        note: entry.note,
      },
    },
  })
  if (reading === null) throw new Error('a recording always writes a reading')
  return reading
}

/** A terminal is carried or measured, never both: two sets of readings could not both be what was left. */
function refuseCarried({ session }: Transaction, { body }: RunContext, { location }: KnownPoint, field: string): void {
  const { terminalId } = location
  if (terminalId === null || !body.carried.some(({ terminalIds }) => terminalIds.includes(terminalId))) return
  const { tag } = session.find('terminal', terminalId).entity.body
  throw problem('refused', message('error.is_carried', { tag }), { field: `${field}.point` })
}

function neighbours({ points, inForce }: RunContext, point: number): number[] {
  // The first reading of a run has nothing around it, however long its path is.
  if (inForce.size === 0) return []
  return neighboursOf(
    { pointAt: (other) => points.get(other), valueAt: (other) => inForce.get(slotOf(other, 1))?.reading.si ?? null },
    point,
  )
}

/** An instrument is pinned with the first reading made with it, a certificate of it with the first reading made since it is known. */
export function pinInstrument(transaction: Transaction, context: RunContext, instrument: KnownInstrument): void {
  const run = { rowId: context.rowId, id: context.runId }
  for (const target of [instrument, ...instrument.calibrations]) {
    if (context.pinned.has(target.rowId)) continue
    pin(transaction, run, target, null)
    context.pinned.add(target.rowId)
  }
}

/** Voids readings; what they said stays readable. */
export function voidReadings(session: Session, input: { command: Command; runId: string; readingIds: string[] }): Reading[] {
  const { command, runId } = input
  return commit(
    session,
    { command, name: 'reading.void', scope: runId, keepsCaches: true },
    (transaction) => {
      const context = session.contexts.of(runId)
      refuseWithoutReason(context.body.state, command)
      for (const [index, id] of [...new Set(input.readingIds)].entries()) {
        const stored = session.stores.readings.find(id)
        if (!stored || session.stores.readings.runOf(stored.rowId) !== context.rowId) {
          throw problem('not_found', message('error.not_found', { what: 'reading' }), { field: `readingIds.${index}` })
        }
        if (stored.reading.voided) throw problem('conflict', message('error.reading_changed', { point: stored.reading.point }))
        refuseOthersWithoutReason(stored.reading, command)
        changeSlot(transaction, { context, old: stored, fresh: null, reason: command.reason })
      }
      return input.readingIds
    },
    () => input.readingIds,
  ).flatMap((id) => session.stores.readings.find(id)?.reading ?? [])
}

/** A signed run is frozen; what changes a complete one says why. */
export function refuseWithoutReason(state: EntityBody<'run'>['state'], command: Command): void {
  if (state === 'signed') throw problem('refused', message('error.run_signed', {}))
  if (state === 'complete' && command.reason.trim() === '') {
    throw problem('refused', message('error.reason_needed_complete', {}), { field: 'command.reason' })
  }
}

function refuseOthersWithoutReason(reading: Reading, command: Command): void {
  if (reading.personId !== command.personId && command.reason.trim() === '') {
    throw problem('refused', message('error.reason_needed_other', {}), { field: 'command.reason' })
  }
}

function readingsOf(session: Session, entry: AuditEntry): Reading[] {
  return entry.changes.flatMap((change) =>
    change.what === 'reading' ? (session.stores.readings.find(change.reading.id)?.reading ?? []) : [],
  )
}
