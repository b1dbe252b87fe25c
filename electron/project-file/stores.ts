import { createAttachmentStore } from './attachments.ts'
import { createEntityStore } from './entities.ts'
import { createExchangeRows } from './exchange-rows.ts'
import type { ProjectFile } from './project-file.ts'
import { createReadingBatches } from './reading-batches.ts'
import { createReadingStore } from './readings.ts'
import { createResultStore } from './results.ts'
import { createRunStore } from './runs.ts'
import { createSearch } from './search.ts'
import { doubtTrailEnd, forgetTrailEnd, keepTrailEnd } from './trail.ts'
import { createTrailReader } from './trail-reading.ts'

export type Stores = ReturnType<typeof createStores>

/** Everything services may ask of an open project file. */
export function createStores(file: ProjectFile) {
  // One wrapper for all work: better-sqlite3 prepares a new one at each call of db.transaction.
  const wrapper = file.db.transaction((work: () => unknown) => work())
  return {
    file,
    entities: createEntityStore(file),
    runs: createRunStore(file),
    readings: createReadingStore(file),
    batches: createReadingBatches(file.db),
    trail: createTrailReader(file),
    attachments: createAttachmentStore(file),
    results: createResultStore(file),
    search: createSearch(file),
    exchange: createExchangeRows(file),
    /** Runs `work` on one state of the file, whatever is written meanwhile. */
    reading: <T>(work: () => T): T => wrapper.deferred(work) as T,
    // The wrapper hands through what the work returns, here and above.
    /** Runs `work` in one durable transaction; anything thrown leaves the file as it was. */
    transaction<T>(work: () => T): T {
      doubtTrailEnd(file.db)
      try {
        const answer = wrapper.immediate(work) as T
        keepTrailEnd(file.db)
        return answer
      } catch (error) {
        forgetTrailEnd(file.db)
        throw error
      }
    },
  }
}
