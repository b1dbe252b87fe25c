import type { AuditEntry, CommandName } from '#core/model/audit.ts'
import { upcastEntry } from '#core/model/audit-upcast.ts'
import type { ProjectFile } from './project-file.ts'
import { scopeBytes, uuidBytes, uuidText } from './uuid-bytes.ts'

export type StoredEntry = { readonly entryId: number; readonly entry: AuditEntry }

/** One line of an undo stack, newest first. */
export type StackLine = {
  readonly entryId: number
  readonly commandId: string
  readonly command: CommandName
  readonly undoes: string | null
}

type Row = [id: number, segment: Uint8Array, number: number, body: string, hash: Uint8Array]
const SELECT = 'SELECT a.id, s.uuid, a.number, a.body, a.hash FROM audit_entry a JOIN segment s ON s.id = a.segment_id'

function fromRow([entryId, segment, number, body, hash]: Row): StoredEntry {
  const read = upcastEntry(JSON.parse(body))
  if (!read) throw new Error(`entry ${number} of ${uuidText(segment)} has a form that this program does not know`)
  // The body is the entry without its hash; what was written by the schema of its format version reads as one of the newest.
  const entry = { ...read, segmentId: uuidText(segment), number, hash: Buffer.from(hash).toString('hex') } as unknown as AuditEntry
  return { entryId, entry }
}

/** Reads the trail. Writing it is `appendEntry` alone. */
export function createTrailReader(file: ProjectFile) {
  const { db } = file
  const byCommand = db.prepare<[Buffer], Row>(`${SELECT} WHERE a.command_uuid = ?`).raw()
  const byId = db.prepare<[number], Row>(`${SELECT} WHERE a.id = ?`).raw()
  const idAt = db
    .prepare<[Buffer, number], number>(
      'SELECT a.id FROM audit_entry a JOIN segment s ON s.id = a.segment_id WHERE s.uuid = ? AND a.number = ?',
    )
    .pluck()
  const newest = db.prepare<[number, number], Row>(`${SELECT} WHERE a.id < ? ORDER BY a.id DESC LIMIT ?`).raw()
  const about = db
    .prepare<{ scope: Buffer; uuid: Buffer; before: number; limit: number }, Row>(
      `WITH ids (id) AS (
         SELECT id FROM audit_entry WHERE scope = :scope
         UNION SELECT r.entry_id FROM entity_revision r JOIN entity e ON e.id = r.entity_id WHERE e.uuid = :uuid
         UNION SELECT t.entry_id FROM attachment t JOIN entity e ON e.id = t.owner_id WHERE e.uuid = :uuid)
       ${SELECT} WHERE a.id IN (SELECT id FROM ids) AND a.id < :before ORDER BY a.id DESC LIMIT :limit`,
    )
    .raw()
  const stack = db.prepare<[Buffer, Buffer], [number, Uint8Array, CommandName, Uint8Array | null]>(
    `SELECT id, command_uuid, body ->> '$.command', undoes FROM audit_entry WHERE scope = ? AND person_uuid = ? ORDER BY id DESC`,
  )
  const stackRows = stack.raw()
  const turns = db.prepare<[Buffer, Buffer], number>('SELECT count(*) FROM audit_entry WHERE scope = ? AND undoes = ?').pluck()
  const lastId = db.prepare<[], number | null>('SELECT max(id) FROM audit_entry').pluck()
  const lastInScope = db.prepare<[Buffer], number | null>('SELECT max(id) FROM audit_entry WHERE scope = ?').pluck()

  return {
    ofCommand(commandId: string): StoredEntry | null {
      const row = byCommand.get(uuidBytes(commandId))
      return row ? fromRow(row) : null
    },
    find(entryId: number): StoredEntry | null {
      const row = byId.get(entryId)
      return row ? fromRow(row) : null
    },
    idAt: (segmentId: string, number: number): number | null => idAt.get(uuidBytes(segmentId), number) ?? null,
    /** Newest first, entries older than `before`. */
    list(options: { about: string | null; before: number | null; limit: number }): StoredEntry[] {
      const before = options.before ?? Number.MAX_SAFE_INTEGER
      const rows =
        options.about === null
          ? newest.all(before, options.limit)
          : about.all({ scope: scopeBytes(options.about), uuid: uuidBytes(options.about), before, limit: options.limit })
      return rows.map(fromRow)
    },
    /** One person's commands of one scope, newest first, read as far as the caller needs. */
    *stack(scope: string, personId: string): Generator<StackLine> {
      for (const [entryId, command, name, undoes] of stackRows.iterate(scopeBytes(scope), uuidBytes(personId))) {
        yield { entryId, commandId: uuidText(command), command: name, undoes: undoes === null ? null : uuidText(undoes) }
      }
    },
    /** Whether a command of a scope was taken back and not brought back again: each undo and redo of it names it. */
    isUndone: (scope: string, commandId: string): boolean => (turns.get(scopeBytes(scope), uuidBytes(commandId)) ?? 0) % 2 === 1,
    lastId: (): number => lastId.get() ?? 0,
    lastInScope: (scope: string): number => lastInScope.get(scopeBytes(scope)) ?? 0,
  }
}
