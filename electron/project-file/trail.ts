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
  const last = prepared<[number], { number: number; hash: Buffer }>(
    file.db,
    'SELECT number, hash FROM audit_entry WHERE segment_id = ? ORDER BY number DESC LIMIT 1',
  ).get(segmentId)
  const previous = last?.hash ?? firstHashOf(file, segmentId)
  const number = (last?.number ?? 0) + 1
  const body = canonicalJson({ ...draft, segmentId: file.segment.uuid, number, formatVersion: AUDIT_FORMAT_VERSION })
  const hash = entryHash(previous, body)
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
  return { entryId: Number(lastInsertRowid), number, hash: hash.toString('hex') }
}

/** The chained hash of an entry: of the previous hash and the entry's canonical JSON as it is stored. */
export function entryHash(previous: Uint8Array, body: string): Buffer {
  return sha256(previous, body)
}

function firstHashOf(file: ProjectFile, segmentId: number): Buffer {
  const row = prepared<[number], { first_hash: Buffer }>(file.db, 'SELECT first_hash FROM segment WHERE id = ?').get(segmentId)
  if (!row) throw new Error(`segment ${segmentId} has no row`)
  return row.first_hash
}
