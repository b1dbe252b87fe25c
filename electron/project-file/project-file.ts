import type { Database } from 'better-sqlite3'

/**
 * An open project file. Only code under electron/project-file touches `db`; services go through the stores beside this file.
 * `segment` is null when the file is open for reading only.
 */
export type ProjectFile = {
  readonly path: string
  readonly db: Database
  readonly readOnly: boolean
  readonly segment: { readonly id: number; readonly uuid: string } | null
  /** checkpoints, goes back to one file at rest, releases the lock */
  readonly close: () => void
}
