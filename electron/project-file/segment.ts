import type { Database } from 'better-sqlite3'
import { AUDIT_FORMAT_VERSION } from '#core/model/audit.ts'
import { canonicalJson, sha256 } from './canonical.ts'
import { prepared } from './queries.ts'
import { uuidBytes } from './uuid-bytes.ts'

/** What a segment's first hash covers. */
export type SegmentStart = {
  readonly formatVersion: number
  readonly segmentId: string
  readonly openedAt: string
  readonly openedBy: string
  readonly openedWhere: string
  readonly program: string
  /** hashes of the entries that this segment grew from, as hex, sorted */
  readonly grewFrom: readonly string[]
}

/** Who opened the project for writing, when, where and with what. */
export type SegmentOpening = Omit<SegmentStart, 'formatVersion' | 'segmentId' | 'grewFrom'>

/**
 * The segment of one opening for writing. Its row is made by the first change, so that a project which was only looked at stays as it
 * was; `id` therefore belongs inside the transaction of a change. A transaction that is taken back takes the row with it.
 */
export class OpenSegment {
  readonly uuid: string
  readonly #db: Database
  readonly opened: SegmentOpening
  readonly #bytes: Buffer

  constructor(db: Database, uuid: string, opened: SegmentOpening) {
    this.#db = db
    this.uuid = uuid
    this.opened = opened
    this.#bytes = uuidBytes(uuid)
  }

  get id(): number {
    return prepared<[Buffer], number>(this.#db, 'SELECT id FROM segment WHERE uuid = ?').pluck().get(this.#bytes) ?? this.#start()
  }

  #start(): number {
    if (!this.#db.inTransaction) throw new Error('a segment starts with the first change, inside its transaction')
    const start: SegmentStart = {
      formatVersion: AUDIT_FORMAT_VERSION,
      segmentId: this.uuid,
      ...this.opened,
      grewFrom: headHashes(this.#db),
    }
    const { lastInsertRowid } = prepared<unknown[], unknown>(
      this.#db,
      `INSERT INTO segment (uuid, opened_at, opened_by, opened_where, program, format_version, grew_from, first_hash)
       VALUES (?, ?, ?, ?, ?, ?, ?, ?)`,
    ).run(
      this.#bytes,
      start.openedAt,
      start.openedBy,
      start.openedWhere,
      start.program,
      start.formatVersion,
      JSON.stringify(start.grewFrom),
      firstHash(start),
    )
    return Number(lastInsertRowid)
  }
}

/** The hash that a segment's first entry is chained to. */
export function firstHash(start: SegmentStart): Buffer {
  return sha256(canonicalJson(start))
}

/** Head hashes (hex, sorted) of the segments that no other segment grew from. */
export function headHashes(db: Database): string[] {
  const rows = prepared<[], { head: Buffer; grew_from: string }>(
    db,
    `SELECT segment.grew_from,
            coalesce((SELECT hash FROM audit_entry WHERE segment_id = segment.id ORDER BY number DESC LIMIT 1), first_hash) AS head
     FROM segment`,
  ).all()
  // Written by this program as an array of texts; `check` proves it.
  const grownFrom = new Set(rows.flatMap((row) => JSON.parse(row.grew_from) as string[]))
  return rows
    .map((row) => row.head.toString('hex'))
    .filter((head) => !grownFrom.has(head))
    .sort()
}

/** One hash for all that was ever recorded in the project: of the sorted heads. */
export function projectHead(db: Database): string {
  return sha256(canonicalJson(headHashes(db))).toString('hex')
}
