import type { Database } from 'better-sqlite3'
import type { Sentence } from '#core/model/results.ts'
import type { Journal } from './pragmas.ts'
import type { SegmentOpening } from './segment.ts'

/**
 * An open project file. Only code under electron/project-file touches `db`; services go through the stores beside this file.
 * `segment` is null when the file is open for reading only. Its row is made when `id` is first read inside a change's transaction.
 */
export type ProjectFile = {
  /** the real path, links resolved */
  readonly path: string
  readonly db: Database
  readonly readOnly: boolean
  readonly readOnlyBecause: Sentence | null
  /** what the user should know about this opening: recovered after a crash, brought up to date, on a network drive */
  readonly notices: readonly Sentence[]
  /** how commits reach the disk; `rollback` while nothing can be written */
  readonly journal: Journal
  readonly segment: { readonly id: number; readonly uuid: string; readonly opened: SegmentOpening } | null
  /** whether the file still lies where it was opened: who moves, deletes or replaces it parts it from what is written beside it */
  readonly inPlace: () => boolean
  /** checkpoints, goes back to one file at rest, releases the lock; a second call does nothing */
  readonly close: () => void
}
