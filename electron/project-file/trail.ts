import type { Database } from 'better-sqlite3'
import { message } from '#core/messages/say.ts'
import { AUDIT_FORMAT_VERSION, type AuditEntry } from '#core/model/audit.ts'
import { canonicalJson, sha256OfPair } from './canonical.ts'
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
  const last = trailEnd(file.db, file.segment)
  const number = last.number + 1
  // In the order of the canonical form, which then has nothing left to sort.
  const { at, changes, command, commandId, personId, reason, scope, undoes, zone } = draft
  const formatVersion = AUDIT_FORMAT_VERSION
  const segmentId = file.segment.uuid
  const entry: Omit<AuditEntry, 'hash'> = {
    at,
    changes,
    command,
    commandId,
    formatVersion,
    number,
    personId,
    reason,
    scope,
    segmentId,
    undoes,
    zone,
  }
  const body = canonicalJson(entry)
  const hash = entryHash(last.hash, body)
  const { lastInsertRowid } = prepared<unknown[], unknown>(
    file.db,
    `INSERT INTO audit_entry (segment_id, number, command_uuid, scope, person_uuid, undoes, body, hash) VALUES (?, ?, ?, ?, ?, ?, ?, ?)`,
  ).run(
    last.segmentRowId,
    number,
    uuidBytes(draft.commandId),
    scopeBytes(draft.scope),
    uuidBytes(draft.personId),
    draft.undoes === null ? null : uuidBytes(draft.undoes),
    body,
    hash,
  )
  const entryId = Number(lastInsertRowid)
  ends.set(file.db, { segmentRowId: last.segmentRowId, number, hash, entryId, committed: false })
  return { entryId, number, hash: hash.toString('hex') }
}

/** The chained hash of an entry: of the previous hash and the entry's canonical JSON as it is stored. */
export function entryHash(previous: Uint8Array, body: string): Buffer {
  return sha256OfPair(previous, body)
}

/** Where the segment of this opening stands, and the row that the trail's last entry has. */
type TrailEnd = {
  readonly segmentRowId: number
  readonly number: number
  readonly hash: Uint8Array
  readonly entryId: number
  readonly committed: boolean
}

// A file has one writer, so what it appended last is known without asking, once that is committed and until something is taken back.
const ends = new WeakMap<Database, TrailEnd>()

/** To be called where a transaction begins: what was appended outside of one that was kept below may have been taken back. */
export function doubtTrailEnd(db: Database): void {
  if (!ends.get(db)?.committed) ends.delete(db)
}

/** To be called when a transaction was committed: what it appended stands. */
export function keepTrailEnd(db: Database): void {
  const end = ends.get(db)
  if (end && !end.committed && !db.inTransaction) ends.set(db, { ...end, committed: true })
}

/** To be called when a transaction was taken back, and where entries get into the file without being appended. */
export function forgetTrailEnd(db: Database): void {
  ends.delete(db)
}

/** The row that the next entry will have. */
export function nextEntryId({ db }: ProjectFile): number {
  const end = ends.get(db)
  return (end?.committed ? end.entryId : lastEntryId(db)) + 1
}

function lastEntryId(db: Database): number {
  return prepared<[], number | null>(db, 'SELECT max(id) FROM audit_entry').pluck().get() ?? 0
}

function trailEnd(db: Database, segment: { readonly id: number }): Pick<TrailEnd, 'segmentRowId' | 'number' | 'hash'> {
  const end = ends.get(db)
  if (end?.committed) return end
  const segmentRowId = segment.id
  const last = prepared<[number], { number: number; hash: Buffer }>(
    db,
    'SELECT number, hash FROM audit_entry WHERE segment_id = ? ORDER BY number DESC LIMIT 1',
  ).get(segmentRowId)
  if (last) return { segmentRowId, ...last }
  const firstHash = prepared<[number], Buffer>(db, 'SELECT first_hash FROM segment WHERE id = ?').pluck().get(segmentRowId)
  if (!firstHash) throw new Error(`segment ${segmentRowId} has no row`)
  return { segmentRowId, number: 0, hash: firstHash }
}
