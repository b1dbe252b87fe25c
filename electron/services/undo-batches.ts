import type { AuditEntry } from '#core/model/audit.ts'
import type { Transaction } from './command.ts'
import { refuseWithoutReason } from './readings.ts'

/** Takes back, or brings back, many readings that came in as one change. Refused when others built on one of them. */
export function turnBatches(transaction: Transaction, target: AuditEntry, direction: 'undo' | 'redo', othersBuiltOnIt: () => Error): void {
  const { session, command, entryId } = transaction
  const { batches } = session.stores
  const { segment } = session.file
  for (const change of target.changes) {
    if (change.what !== 'readings') continue
    const { runId, count } = change
    refuseWithoutReason(session.find('run', runId).entity.body.state, command)
    const range = batches.rangeOf(change.first, count)
    if (!range || !segment) throw othersBuiltOnIt()
    const standing = batches.standing(range)
    if (direction === 'undo') {
      if (standing.same !== count || standing.range === null) throw othersBuiltOnIt()
      batches.void(standing.range, command.reason, entryId)
      const first = `${batches.segmentOf(standing.range.segmentRowId)}:${standing.range.first}`
      transaction.changes.push({ what: 'voids', runId, first, count, reason: command.reason })
    } else {
      if (standing.occupied > 0) throw othersBuiltOnIt()
      const first = batches.repeat(range, { segmentRowId: segment.id, entryId })
      transaction.changes.push({ ...change, first: `${segment.uuid}:${first}` })
    }
  }
}
