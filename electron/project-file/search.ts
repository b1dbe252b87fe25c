import type { EntityKind } from '#core/model/entities.ts'
import type { ProjectFile } from './project-file.ts'
import { uuidText } from './uuid-bytes.ts'

export type Match = {
  readonly kind: EntityKind
  readonly id: string
  readonly parentId: string | null
  readonly text: string
  readonly body: string
}

/** The field of each kind that people know a thing by. */
const NAME_FIELD: { readonly [K in EntityKind]?: string } = {
  person: '$.name',
  facility: '$.name',
  room: '$.number',
  zone: '$.name',
  terminal: '$.tag',
  filter_element: '$.serialNumber',
  door: '$.name',
  instrument: '$.name',
  calibration: '$.certificateNumber',
  criteria_set: '$.name',
  import_mapping: '$.name',
  certification: '$.name',
}

/** Finds entities by what people call them; those that begin with the text come first. */
export function createSearch(file: ProjectFile) {
  const kinds = Object.entries(NAME_FIELD)
  const name = `CASE e.kind ${kinds.map(([kind, field]) => `WHEN '${kind}' THEN r.body ->> '${field}'`).join(' ')} END`
  const second = `CASE e.kind WHEN 'room' THEN r.body ->> '$.name' WHEN 'instrument' THEN r.body ->> '$.serialNumber' ELSE '' END`
  const statement = file.db
    .prepare<{ text: string; limit: number }, [EntityKind, Uint8Array, Uint8Array | null, string, string]>(
      `WITH named AS (
         SELECT e.id, e.kind, e.uuid, p.uuid AS parent, ${name} AS name, ${second} AS second, r.body
         FROM entity e JOIN entity_revision r ON r.entity_id = e.id AND r.number = e.revision LEFT JOIN entity p ON p.id = e.parent_id
         WHERE e.removed = 0 AND e.kind IN (${kinds.map(([kind]) => `'${kind}'`).join(', ')}))
       SELECT kind, uuid, parent, name, body FROM named
       WHERE instr(lower(name), :text) > 0 OR instr(lower(second), :text) > 0
       ORDER BY instr(lower(name), :text) <> 1, length(name), name LIMIT :limit`,
    )
    .raw()
  return {
    find: (text: string, limit: number): Match[] =>
      statement.all({ text: text.trim().toLowerCase(), limit }).map(([kind, uuid, parent, label, body]) => ({
        kind,
        id: uuidText(uuid),
        parentId: parent === null ? null : uuidText(parent),
        text: label,
        body,
      })),
  }
}
