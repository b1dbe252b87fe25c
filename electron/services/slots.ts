import type { Reading } from '#core/model/readings.ts'
import type { NewReading } from '../project-file/readings.ts'
import type { Transaction } from './command.ts'
import { type InForce, type RunContext, slotOf } from './run-context.ts'

/** What stands at one point and sample, and what shall stand there instead. */
export type SlotChange = {
  readonly context: RunContext
  readonly old: InForce | undefined
  readonly fresh: { readonly row: NewReading; readonly instrumentId: string; readonly personId: string; readonly point: number } | null
  readonly reason: string
}

/** Voids what is in force at a point and writes what replaces it; both go into the entry. Nothing measured is ever overwritten. */
export function changeSlot(transaction: Transaction, { context, old, fresh, reason }: SlotChange): Reading | null {
  const { readings } = transaction.session.stores
  const reserved = fresh === null ? null : readings.reserve()
  if (old) {
    readings.void(old.rowId, reason, reserved?.rowId ?? null, transaction.entryId)
    transaction.changes.push({
      what: 'void',
      runId: context.runId,
      readingId: old.reading.id,
      reason,
      replacedBy: reserved?.id ?? null,
    })
    context.inForce.delete(slotOf(old.reading.point, old.reading.sample))
  }
  if (fresh === null || reserved === null) return null
  readings.insert(reserved, fresh.row, transaction.entryId)
  const { row } = fresh
  // In the order of the canonical form, in which the entry holds it.
  const reading: Reading = {
    at: row.atMs === transaction.atMs ? transaction.at : new Date(row.atMs).toISOString(),
    basis: row.basis,
    flags: [...row.flags],
    id: reserved.id,
    instrumentId: fresh.instrumentId,
    note: row.note,
    personId: fresh.personId,
    point: fresh.point,
    quantity: row.quantity,
    sample: row.sample,
    si: row.si,
    typed: row.typed,
    unit: row.unit,
    voided: null,
  }
  transaction.changes.push({ reading, runId: context.runId, what: 'reading' })
  context.inForce.set(slotOf(reading.point, reading.sample), { rowId: reserved.rowId, reading })
  return reading
}
