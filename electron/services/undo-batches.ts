import type { AuditEntry } from '#core/model/audit.ts'
import type { ReadingRange } from '../project-file/reading-batches.ts'
import type { Transaction } from './command.ts'
import { refuseWithoutReason } from './readings.ts'

export type TurnWatch = { readonly progress: (share: number) => void; readonly cancelled: () => boolean }
export const QUIET: TurnWatch = { progress: () => undefined, cancelled: () => false }
/** Thrown out of a command that was cancelled: nothing of it is kept. */
export const CANCELLED = Symbol('cancelled')

const ROWS_AT_ONCE = 10_000

/** How many readings that came in as one change a command has to turn. */
export function readingsTurned({ changes }: AuditEntry): number {
  return changes.reduce((sum, change) => sum + (change.what === 'readings' ? change.count : 0), 0)
}

/** Takes back, or brings back, many readings that came in as one change. Refused when others built on one of them. */
export function turnBatches(
  transaction: Transaction,
  target: AuditEntry,
  direction: 'undo' | 'redo',
  { othersBuiltOnIt, watch }: { othersBuiltOnIt: () => Error; watch: TurnWatch },
): void {
  const { session, command, entryId } = transaction
  const { batches } = session.stores
  const { segment } = session.file
  const all = readingsTurned(target)
  let turned = 0
  const inParts = (range: ReadingRange, part: (range: ReadingRange) => void) => {
    for (const some of partsOf(range)) {
      if (watch.cancelled()) throw CANCELLED
      part(some)
      turned += some.last - some.first + 1
      watch.progress(turned / all)
    }
  }
  for (const change of target.changes) {
    if (change.what !== 'readings') continue
    const { runId, count } = change
    refuseWithoutReason(session.find('run', runId).entity.body.state, command)
    const range = batches.rangeOf(change.first, count)
    if (!range || !segment) throw othersBuiltOnIt()
    const standing = batches.standing(range)
    if (direction === 'undo') {
      if (standing.same !== count || standing.range === null) throw othersBuiltOnIt()
      const first = `${batches.segmentOf(standing.range.segmentRowId)}:${standing.range.first}`
      inParts(standing.range, (some) => batches.void(some, command.reason, entryId))
      transaction.changes.push({ what: 'voids', runId, first, count, reason: command.reason })
    } else {
      if (standing.occupied > 0) throw othersBuiltOnIt()
      const first = batches.next(segment.id).number
      inParts(range, (some) => batches.repeat(some, { segmentRowId: segment.id, entryId }))
      transaction.changes.push({ ...change, first: `${segment.uuid}:${first}` })
    }
  }
}

function* partsOf({ segmentRowId, first, last }: ReadingRange): Generator<ReadingRange> {
  for (let from = first; from <= last; from += ROWS_AT_ONCE)
    yield { segmentRowId, first: from, last: Math.min(last, from + ROWS_AT_ONCE - 1) }
}
