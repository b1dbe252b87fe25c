import type { Database } from 'better-sqlite3'
import { type AuditChange, AuditEntry } from '#core/model/audit.ts'
import { upcastEntry } from '#core/model/audit-upcast.ts'
import { firstHash, projectHead } from '../segment.ts'
import { entryHash } from '../trail.ts'
import { scopeBytes, uuidBytes, uuidText } from '../uuid-bytes.ts'
import { type Findings, fieldsOf } from './findings.ts'

type SegmentRow = {
  id: number
  uuid: Buffer
  opened_at: string
  opened_by: string
  opened_where: string
  program: string
  format_version: number
  grew_from: string
  first_hash: Buffer
}
type EntryRow = {
  id: number
  number: number
  command_uuid: Buffer
  scope: Buffer
  person_uuid: Buffer
  undoes: Buffer | null
  body: string
  hash: Buffer
}

const StoredEntry = AuditEntry.omit({ hash: true })
type StoredEntry = Omit<AuditEntry, 'hash'>

/** Told of every change of every readable entry, in the order of the trail. */
export type OnChange = (change: AuditChange, entryId: number, entry: StoredEntry) => void

/** Recomputes every hash of the trail, reads every entry by its schema and hands its changes on. `step` is called per entry. */
export function checkTrail(db: Database, findings: Findings, onChange: OnChange, step: () => void): void {
  const before = findings.problems
  const known = new Set<string>()
  const origins: { segment: string; hash: string }[] = []
  let entries = 0
  const segments = db.prepare<[], SegmentRow>('SELECT * FROM segment ORDER BY id').all()
  const entriesOf = db.prepare<[number], EntryRow>('SELECT * FROM audit_entry WHERE segment_id = ? ORDER BY number')
  for (const row of segments) {
    const segment = uuidText(row.uuid)
    const grewFrom = hashList(row.grew_from)
    if (!grewFrom || !firstHashOf(row, segment, grewFrom).equals(row.first_hash)) findings.problem('check.segment_changed', { segment })
    for (const hash of grewFrom ?? []) origins.push({ segment, hash })
    known.add(row.first_hash.toString('hex'))
    let previous: Buffer = row.first_hash
    let expected = 1
    for (const entry of entriesOf.iterate(row.id)) {
      for (; expected < entry.number; expected += 1) findings.problem('check.entry_missing', { segment, number: expected })
      const place = { segment, number: entry.number }
      if (!entryHash(previous, entry.body).equals(entry.hash)) findings.problem('check.entry_changed', place)
      const read = readEntry(entry, place, findings)
      if (read) for (const change of read.changes) onChange(change, entry.id, read)
      known.add(entry.hash.toString('hex'))
      previous = entry.hash
      expected = entry.number + 1
      entries += 1
      step()
    }
  }
  for (const origin of origins) if (!known.has(origin.hash)) findings.problem('check.segment_origin_missing', origin)
  if (findings.problems === before) findings.ok('check.trail_ok', { entries, segments: segments.length, head: projectHead(db) })
}

function readEntry(row: EntryRow, place: { segment: string; number: number }, findings: Findings): StoredEntry | null {
  const upcast = upcastEntry(parsed(row.body))
  if (!upcast) {
    findings.note('check.entry_newer', place)
    return null
  }
  const read = StoredEntry.safeParse(upcast)
  if (!read.success) {
    const fields = fieldsOf(read.error)
    findings.problem('check.entry_unreadable', { ...place, fields })
    return null
  }
  const entry: StoredEntry = read.data
  const filedRight =
    entry.segmentId === place.segment &&
    entry.number === place.number &&
    uuidBytes(entry.commandId).equals(row.command_uuid) &&
    uuidBytes(entry.personId).equals(row.person_uuid) &&
    scopeBytes(entry.scope).equals(row.scope) &&
    (entry.undoes === null ? row.undoes === null : row.undoes !== null && uuidBytes(entry.undoes).equals(row.undoes))
  if (!filedRight) findings.problem('check.entry_columns', place)
  return entry
}

function firstHashOf(row: SegmentRow, segmentId: string, grewFrom: string[]): Buffer {
  return firstHash({
    formatVersion: row.format_version,
    segmentId,
    openedAt: row.opened_at,
    openedBy: row.opened_by,
    openedWhere: row.opened_where,
    program: row.program,
    grewFrom,
  })
}

function hashList(text: string): string[] | null {
  const value = parsed(text)
  return Array.isArray(value) && value.every((item) => typeof item === 'string') ? value : null
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text)
  } catch {
    return null
  }
}
