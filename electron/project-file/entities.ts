import canonicalize from 'canonicalize'
import type { Entity, EntityBody, EntityKind } from '#core/model/entities.ts'
import { readBody } from '#core/model/stored-bodies.ts'
import type { ProjectFile } from './project-file.ts'
import { uuidBytes, uuidText } from './uuid-bytes.ts'

/** An entity as stored: the row's own key stays inside electron/project-file and the services' stores calls. */
export type StoredEntity<K extends EntityKind = EntityKind> = { readonly rowId: number; readonly entity: Entity<K> }

type Row = [
  id: number,
  uuid: Uint8Array,
  kind: EntityKind,
  parentUuid: Uint8Array | null,
  revision: number,
  removed: number,
  body: string | null,
]

const COLUMNS = `e.id, e.uuid, e.kind, p.uuid, e.revision, e.removed,
  (SELECT r.body FROM entity_revision r WHERE r.entity_id = e.id AND r.body IS NOT NULL ORDER BY r.number DESC LIMIT 1)`
const FROM = 'FROM entity e LEFT JOIN entity p ON p.id = e.parent_id'

// Every service sees a body as it reads today; as it was stored, only the export and `check` see it.
function fromRow([rowId, uuid, kind, parent, revision, removed, body]: Row): StoredEntity {
  return {
    rowId,
    // The kind beside the body was checked when both were written.
    entity: {
      kind,
      id: uuidText(uuid),
      parentId: parent === null ? null : uuidText(parent),
      revision,
      removed: removed === 1,
      body: readBody(kind, JSON.parse(body ?? 'null')),
    } as Entity,
  }
}

/** Identities for life and their immutable revisions. */
export function createEntityStore(file: ProjectFile) {
  const { db } = file
  const byUuid = db.prepare<[Buffer], Row>(`SELECT ${COLUMNS} ${FROM} WHERE e.uuid = ?`).raw()
  const byRow = db.prepare<[number], Row>(`SELECT ${COLUMNS} ${FROM} WHERE e.id = ?`).raw()
  const children = db.prepare<[number], Row>(`SELECT ${COLUMNS} ${FROM} WHERE e.parent_id = ? AND e.removed = 0 ORDER BY e.id`).raw()
  const ofKind = db.prepare<[string, number], Row>(`SELECT ${COLUMNS} ${FROM} WHERE e.kind = ? AND e.removed <= ? ORDER BY e.id`).raw()
  const ofKindWithin = db
    .prepare<[number, string, number], Row>(
      `WITH RECURSIVE inside (id) AS (VALUES (?) UNION ALL SELECT c.id FROM entity c JOIN inside i ON c.parent_id = i.id)
       SELECT ${COLUMNS} FROM inside JOIN entity e ON e.id = inside.id LEFT JOIN entity p ON p.id = e.parent_id
       WHERE e.kind = ? AND e.removed <= ? ORDER BY e.id`,
    )
    .raw()
  const revisionsOf = db
    .prepare<[number], [number, EntityKind, string | null, number]>(
      `SELECT r.number, e.kind, r.body, r.entry_id FROM entity_revision r JOIN entity e ON e.id = r.entity_id
       WHERE r.entity_id = ? ORDER BY r.number`,
    )
    .raw()
  const statesOf = db
    .prepare<[number], [string | null, number]>(
      `SELECT r.body ->> '$.state', r.entry_id FROM entity_revision r WHERE r.entity_id = ? ORDER BY r.number`,
    )
    .raw()
  const lastEntry = db
    .prepare<[string], number | null>('SELECT max(r.entry_id) FROM entity e JOIN entity_revision r ON r.entity_id = e.id WHERE e.kind = ?')
    .pluck()
  const rowOf = db.prepare<[Buffer], number>('SELECT id FROM entity WHERE uuid = ?').pluck()
  const uuidOf = db.prepare<[number], Uint8Array>('SELECT uuid FROM entity WHERE id = ?').pluck()
  const insert = db.prepare<[Buffer, string, number | null]>(
    'INSERT INTO entity (uuid, kind, parent_id, revision, removed) VALUES (?, ?, ?, 1, 0)',
  )
  const insertRevision = db.prepare<[number, number, string | null, number]>(
    'INSERT INTO entity_revision (entity_id, number, body, entry_id) VALUES (?, ?, ?, ?)',
  )
  const update = db.prepare<[number, number, number]>('UPDATE entity SET revision = ?, removed = ? WHERE id = ?')

  const exchanged = db
    .prepare<[string], [Uint8Array, string, Uint8Array, string]>(
      `SELECT t.uuid, tr.body ->> '$.tag', room.uuid, er.body ->> '$.installedOn'
       FROM entity e JOIN entity_revision er ON er.entity_id = e.id AND er.number = e.revision
       JOIN entity t ON t.id = e.parent_id JOIN entity_revision tr ON tr.entity_id = t.id AND tr.number = t.revision
       JOIN entity room ON room.id = t.parent_id
       WHERE e.kind = 'filter_element' AND e.removed = 0 AND t.removed = 0 AND er.body ->> '$.installedOn' > ?
         AND EXISTS (SELECT 1 FROM entity other WHERE other.parent_id = t.id AND other.kind = 'filter_element' AND other.id < e.id
           AND other.removed = 0)
       ORDER BY 4 DESC, 2`,
    )
    .raw()

  const parse = (row: Row | undefined): StoredEntity | null => (row ? fromRow(row) : null)

  return {
    find: (uuid: string): StoredEntity | null => parse(byUuid.get(uuidBytes(uuid))),
    findRow: (rowId: number): StoredEntity | null => parse(byRow.get(rowId)),
    rowOf: (uuid: string): number | null => rowOf.get(uuidBytes(uuid)) ?? null,
    uuidOf: (rowId: number): string | null => {
      const blob = uuidOf.get(rowId)
      return blob ? uuidText(blob) : null
    },
    /** Terminals that got another filter element after a day, newest first. */
    elementsExchangedAfter: (day: string): { terminalId: string; tag: string; roomId: string; installedOn: string }[] =>
      exchanged.all(day).map(([terminal, tag, room, installedOn]) => ({
        terminalId: uuidText(terminal),
        tag,
        roomId: uuidText(room),
        installedOn,
      })),
    children: (rowId: number): StoredEntity[] => children.all(rowId).map(fromRow),

    list<K extends EntityKind>(kind: K, options: { within?: number | null; removed?: boolean } = {}): StoredEntity<K>[] {
      const upTo = options.removed ? 1 : 0
      const within = options.within ?? null
      const rows = within === null ? ofKind.all(kind, upTo) : ofKindWithin.all(within, kind, upTo)
      // The query asked for this kind alone.
      return rows.map(fromRow) as StoredEntity<K>[]
    },

    /** The latest entry that changed any entity of a kind; 0 while there is none. */
    lastEntryOf: (kind: EntityKind): number => lastEntry.get(kind) ?? 0,
    revisions: (rowId: number): { number: number; body: EntityBody | null; entryId: number }[] =>
      revisionsOf.all(rowId).map(([number, kind, body, entryId]) => ({
        number,
        body: body === null ? null : readBody(kind, JSON.parse(body)),
        entryId,
      })),

    /** The state that each revision of a run gave it, and by which entry; null for a removal. */
    statesOf: (rowId: number): { state: string | null; entryId: number }[] =>
      statesOf.all(rowId).map(([state, entryId]) => ({ state, entryId })),

    /** Writes the first revision. */
    insert(uuid: string, kind: EntityKind, parentRowId: number | null, body: EntityBody, entryId: number): number {
      const rowId = Number(insert.run(uuidBytes(uuid), kind, parentRowId).lastInsertRowid)
      insertRevision.run(rowId, 1, canonicalize(body) ?? null, entryId)
      return rowId
    },
    /** Writes a further revision; a null body removes. */
    revise(rowId: number, revision: number, body: EntityBody | null, entryId: number): void {
      insertRevision.run(rowId, revision, body === null ? null : (canonicalize(body) ?? null), entryId)
      update.run(revision, body === null ? 1 : 0, rowId)
    },
  }
}
