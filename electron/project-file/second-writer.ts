import Database from 'better-sqlite3'
import { NEWEST_STEP, stepOf } from './migrate.ts'
import { expectPragma, guardConnection, setPragma } from './pragmas.ts'
import { naming } from './problem.ts'
import type { ProjectFile } from './project-file.ts'
import { placeKeeper } from './reach.ts'
import { OpenSegment, type SegmentOpening } from './segment.ts'

/** What a worker thread needs to go on in the segment of the opening that its process holds. */
export type SecondWriter = { readonly uuid: string; readonly opened: SegmentOpening }

/** One long transaction keeps its pages in memory up to here; with less, they go to the log again and again before the commit. */
const CACHE_KIB = 256 * 1024

/**
 * A second connection that writes into the segment of an opening of this process, for a worker thread: the first one stays free to
 * read meanwhile. The opening holds the lock and sees to it that it writes nothing itself until this one is closed. Local disks
 * only: there the write-ahead log keeps readers apart from the writer.
 */
export function openSecondWriter(path: string, { uuid, opened }: SecondWriter): ProjectFile {
  return naming(path, () => {
    const db = new Database(path, { fileMustExist: true, timeout: 2000 })
    try {
      guardConnection(db)
      expectPragma(db, 'journal_mode', 'wal')
      setPragma(db, 'synchronous', 'FULL', 2)
      setPragma(db, 'cache_size', -CACHE_KIB)
      if (stepOf(db) !== NEWEST_STEP) throw new Error('the file is not of the newest step, so no opening of this process can hold it')
      const segment = new OpenSegment(db, uuid, opened)
      const close = () => db.close()
      return {
        path,
        db,
        readOnly: false,
        readOnlyBecause: null,
        notices: [],
        journal: 'wal',
        segment,
        inPlace: placeKeeper(path, false),
        close,
      }
    } catch (error) {
      db.close()
      throw error
    }
  })
}
