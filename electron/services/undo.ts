import { isDeepStrictEqual } from 'node:util'
import type { Command } from '#core/api/base.ts'
import { message } from '#core/messages/say.ts'
import type { AuditChange, AuditEntry, CommandName, LayoutPoint } from '#core/model/audit.ts'
import type { Reading } from '#core/model/readings.ts'
import { readBody } from '#core/model/stored-bodies.ts'
import { problem } from '../project-file/problem.ts'
import type { NewReading } from '../project-file/readings.ts'
import { commit, type Transaction } from './command.ts'
import { refuseWithoutReason } from './readings.ts'
import { referringTo } from './references.ts'
import { type RunContext, slotOf } from './run-context.ts'
import type { Session } from './session.ts'
import { changeSlot } from './slots.ts'
import { CANCELLED, QUIET, readingsTurned, type TurnWatch, turnBatches } from './undo-batches.ts'
import { topOfStack } from './undo-stack.ts'

type Direction = 'undo' | 'redo'
type EntityChange = Extract<AuditChange, { what: 'entity' }>

type Asked = { readonly command: Command; readonly scope: string }

function targetOf(session: Session, { command, scope }: Asked, direction: Direction): AuditEntry {
  const repeated = session.stores.trail.ofCommand(command.id)
  const commandId = repeated?.entry.undoes ?? topOfStack(session, scope, command.personId)[direction]?.commandId ?? null
  const found = commandId === null ? null : session.stores.trail.ofCommand(commandId)
  if (!found) throw problem('refused', direction === 'undo' ? message('error.nothing_to_undo', {}) : message('error.nothing_to_redo', {}))
  return found.entry
}

/** Above this many readings the engine would stand still for a noticeable time. */
const MOST_AT_ONCE = 20_000

/** Whether undo or redo has so many readings to turn that it is work for a worker. */
export function isLongTurn(session: Session, asked: Asked, direction: Direction): boolean {
  return readingsTurned(targetOf(session, asked, direction)) > MOST_AT_ONCE
}

/** Takes back, or brings back, one command by a new one made from its before and after. */
export function turn(session: Session, asked: Asked, direction: Direction): { name: CommandName; commandId: string }
/** The same while somebody watches: null when it was cancelled, and then nothing is written. */
export function turn(
  session: Session,
  asked: Asked,
  direction: Direction,
  watch: TurnWatch,
): { name: CommandName; commandId: string } | null
export function turn(session: Session, asked: Asked, direction: Direction, watch: TurnWatch = QUIET) {
  const { command, scope } = asked
  const target = targetOf(session, asked, direction)
  const answer = { name: target.command, commandId: target.commandId }
  try {
    return commit(
      session,
      { command, name: direction, scope, undoes: target.commandId },
      (transaction) => {
        turnEntities(transaction, target, direction)
        turnLayouts(transaction, target, direction)
        turnReadings(transaction, target, direction)
        turnBatches(transaction, target, direction, { othersBuiltOnIt: () => othersBuiltOnIt(target), watch })
        turnPins(transaction, target, direction)
        return answer
      },
      () => answer,
    )
  } catch (error) {
    if (error === CANCELLED) return null
    throw error
  }
}

function othersBuiltOnIt(target: AuditEntry): Error {
  return problem('refused', message('error.built_upon', { command: target.command }))
}

function turnEntities(transaction: Transaction, target: AuditEntry, direction: Direction): void {
  const { session } = transaction
  const changes = target.changes.filter((change): change is EntityChange => change.what === 'entity')
  for (const change of direction === 'undo' ? changes.toReversed() : changes) {
    // The trail holds bodies as they were written, perhaps by an earlier program; what stands now is read in the same way.
    const asRead = (body: unknown) => (body === null ? null : readBody(change.kind, body))
    const [before, after] = [asRead(change.before), asRead(change.after)]
    const [from, to] = direction === 'undo' ? [after, before] : [before, after]
    const stored = session.stores.entities.find(change.id)
    if (!stored) throw othersBuiltOnIt(target)
    const standing = stored.entity.removed ? null : stored.entity.body
    if (!isDeepStrictEqual(standing, from)) throw othersBuiltOnIt(target)
    if (isDeepStrictEqual(from, to)) continue
    if (to === null) {
      // What came to stand inside it, or to name it, since then was not made by this command.
      if (session.stores.entities.children(stored.rowId).length > 0 || referringTo(session.stores, stored).length > 0) {
        throw othersBuiltOnIt(target)
      }
      if (stored.entity.kind === 'run' && session.stores.readings.ofRun(stored.rowId).length > 0) throw othersBuiltOnIt(target)
      transaction.revise(stored, null)
    } else {
      const parent = stored.entity.parentId === null ? null : session.stores.entities.find(stored.entity.parentId)
      if (parent?.entity.removed) throw othersBuiltOnIt(target)
      if (stored.entity.kind === 'run' && stored.entity.body.state === 'signed') throw problem('refused', message('error.run_signed', {}))
      transaction.revise(stored, to)
    }
  }
}

function turnLayouts(transaction: Transaction, target: AuditEntry, direction: Direction): void {
  const { session } = transaction
  const { runs, readings } = session.stores
  for (const change of target.changes) {
    // Points of a run that was started stay; the run itself is what comes and goes.
    if (change.what !== 'layout' || target.command === 'run.start') continue
    const run = session.find('run', change.runId)
    const [leaving, coming] = direction === 'undo' ? [change.after, change.before] : [change.before, change.after]
    const gone = new Set(leaving.map(({ number }) => number))
    if (readings.inForce(run.rowId).some(({ reading }) => gone.has(reading.point))) throw othersBuiltOnIt(target)
    for (const { number } of leaving) runs.setRetired(run.rowId, number, true)
    for (const { number } of coming) runs.setRetired(run.rowId, number, false)
    const standing = new Map(runs.everyLocation(run.rowId).map(({ location }) => [location.number, location]))
    // What the trail says of a point goes before what stands in its row; an entry of format 1 says its number alone.
    const whole = (point: LayoutPoint) => ('kind' in point ? point : (standing.get(point.number) ?? point))
    transaction.changes.push({ ...change, before: leaving.map(whole), after: coming.map(whole) })
  }
}

function turnPins(transaction: Transaction, target: AuditEntry, direction: Direction): void {
  const { session } = transaction
  for (const change of target.changes) {
    // Instruments stay pinned once readings were made with them, and a started run keeps its pins with its points.
    if (change.what !== 'pin' || target.command !== 'run.refresh') continue
    const run = session.find('run', change.runId)
    const rowId = session.stores.entities.rowOf(change.entityId)
    if (rowId === null) continue
    const [from, to] = direction === 'undo' ? [change.revisionAfter, change.revisionBefore] : [change.revisionBefore, change.revisionAfter]
    if (to === null) session.stores.runs.unpin(run.rowId, rowId)
    else session.stores.runs.pin(run.rowId, rowId, to)
    transaction.changes.push({ ...change, revisionBefore: from, revisionAfter: to })
  }
}

type Slot = { readonly runId: string; readonly point: number; readonly sample: number; before: Reading | null; after: Reading | null }

function turnReadings(transaction: Transaction, target: AuditEntry, direction: Direction): void {
  const { session } = transaction
  for (const slot of slotsOf(session, target)) {
    const context = session.contexts.of(slot.runId)
    refuseWithoutReason(context.body.state, transaction.command)
    const [from, to] = direction === 'undo' ? [slot.after, slot.before] : [slot.before, slot.after]
    const standing = context.inForce.get(slotOf(slot.point, slot.sample))
    if (!sameMeasurement(standing?.reading ?? null, from)) throw othersBuiltOnIt(target)
    changeSlot(transaction, {
      context,
      old: standing,
      reason: transaction.command.reason,
      fresh: to === null ? null : reinstated(session, context, to, target),
    })
  }
}

/** What a command did to each point and sample, taken together. */
function slotsOf(session: Session, target: AuditEntry): Slot[] {
  const slots = new Map<string, Slot>()
  const slotFor = (runId: string, { point, sample }: Reading): Slot => {
    const key = `${runId}/${slotOf(point, sample)}`
    const slot = slots.get(key) ?? { runId, point, sample, before: null, after: null }
    slots.set(key, slot)
    return slot
  }
  for (const change of target.changes) {
    if (change.what === 'reading') slotFor(change.runId, change.reading).after = change.reading
    else if (change.what === 'void') {
      const voided = session.stores.readings.find(change.readingId)
      if (voided) slotFor(change.runId, voided.reading).before = voided.reading
    }
  }
  return [...slots.values()]
}

/** Whether two readings are one measurement: a reinstated one keeps everything but its identity. */
function sameMeasurement(a: Reading | null, b: Reading | null): boolean {
  if (a === null || b === null) return a === b
  return a.typed === b.typed && a.unit === b.unit && a.at === b.at && a.personId === b.personId && a.instrumentId === b.instrumentId
}

/** The measurement once more as a new reading: who measured it, when and with what stays. */
function reinstated(
  session: Session,
  context: RunContext,
  reading: Reading,
  target: AuditEntry,
): { row: NewReading; instrumentId: string; personId: string; point: number } {
  const point = context.points.get(reading.point)
  const instrumentRowId = session.stores.entities.rowOf(reading.instrumentId)
  const personRowId = session.stores.entities.rowOf(reading.personId)
  if (!point || instrumentRowId === null || personRowId === null) throw othersBuiltOnIt(target)
  return {
    point: reading.point,
    instrumentId: reading.instrumentId,
    personId: reading.personId,
    row: {
      runRowId: context.rowId,
      locationRowId: point.rowId,
      sample: reading.sample,
      quantity: reading.quantity,
      si: reading.si,
      typed: reading.typed,
      unit: reading.unit,
      basis: reading.basis,
      instrumentRowId,
      personRowId,
      atMs: Date.parse(reading.at),
      flags: reading.flags,
      note: reading.note,
    },
  }
}
