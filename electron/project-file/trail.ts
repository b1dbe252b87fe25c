import { message } from '#core/messages/say.ts'
import { AUDIT_FORMAT_VERSION, type AuditEntry } from '#core/model/audit.ts'
import { canonicalJson, sha256 } from './canonical.ts'
import { problem } from './problem.ts'
import type { ProjectFile } from './project-file.ts'
import { prepared } from './queries.ts'
import { scopeBytes, uuidBytes } from './uuid-bytes.ts'

/** An audit entry before the trail has numbered and chained it. */
export type EntryDraft = Omit<AuditEntry, 'segmentId' | 'number' | 'formatVersion' | 'hash'>

/** Where the trail put an entry. `hash` is hex. */
export type AppendedEntry = { readonly entryId: number; readonly number: number; readonly hash: string }

/**
 * Appends an entry to the segment of this opening, numbered and chained: its hash is SHA-256 of the previous hash and the canonical
 * JSON of the entry. Only inside the transaction of the change that it records.
 */
export function appendEntry(file: ProjectFile, draft: EntryDraft): AppendedEntry {
  if (!file.segment) throw problem('read_only', message('error.read_only', {}))
  if (!file.db.inTransaction) throw new Error('an entry is written inside the transaction of its change')
  const segmentId = file.segment.id
  const last = lastEntry(file, segmentId)
  const number = last.number + 1
  const body = canonicalJson({ ...draft, segmentId: file.segment.uuid, number, formatVersion: AUDIT_FORMAT_VERSION })
  const hash = entryHash(last.hash, body)
  const { lastInsertRowid } = prepared<unknown[], unknown>(
    file.db,
    `INSERT INTO audit_entry (segment_id, number, command_uuid, scope, person_uuid, undoes, body, hash) VALUES (?, ?, ?, ?, ?, ?, ?, ?)`,
  ).run(
    segmentId,
    number,
    uuidBytes(draft.commandId),
    scopeBytes(draft.scope),
    uuidBytes(draft.personId),
    draft.undoes === null ? null : uuidBytes(draft.undoes),
    body,
    hash,
  )
  lastNumbers.set(file.db, number)
  return { entryId: Number(lastInsertRowid), number, hash: hash.toString('hex') }
}

/** The chained hash of an entry: of the previous hash and the entry's canonical JSON as it is stored. */
export function entryHash(previous: Uint8Array, body: string): Buffer {
  return sha256(previous, body)
}

// Where the trail stood when this process last appended. Only a hint, because that may have been taken back: it is proved by two
// lookups of a unique key, which SQLite answers several times faster than a search for the last one.
const lastNumbers = new WeakMap<ProjectFile['db'], number>()

function lastEntry({ db }: ProjectFile, segmentId: number): { number: number; hash: Uint8Array } {
  const hashAt = prepared<[number, number], Buffer>(db, 'SELECT hash FROM audit_entry WHERE segment_id = ? AND number = ?').pluck()
  const hint = lastNumbers.get(db)
  if (hint !== undefined && hashAt.get(segmentId, hint + 1) === undefined) {
    const hash = hashAt.get(segmentId, hint)
    if (hash) return { number: hint, hash }
  }
  const number = prepared<[number], number | null>(db, 'SELECT max(number) FROM audit_entry WHERE segment_id = ?').pluck().get(segmentId)
  const hash = number ? hashAt.get(segmentId, number) : undefined
  if (number && hash) return { number, hash }
  const firstHash = prepared<[number], Buffer>(db, 'SELECT first_hash FROM segment WHERE id = ?').pluck().get(segmentId)
  if (!firstHash) throw new Error(`segment ${segmentId} has no row`)
  return { number: 0, hash: firstHash }
}
