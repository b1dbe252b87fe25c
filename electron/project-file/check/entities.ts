import type { Database } from 'better-sqlite3'
import type { MessageCode, ParamsOf } from '#core/messages/say.ts'
import type { AuditChange } from '#core/model/audit.ts'
import { ENTITY_SCHEMAS, EntityKind, PARENT_KIND } from '#core/model/entities.ts'
import { canonicalJson } from '../canonical.ts'
import { uuidBytes, uuidText } from '../uuid-bytes.ts'
import { type Findings, fieldsOf } from './findings.ts'

type EntityChange = Extract<AuditChange, { what: 'entity' }>
type EntityRow = { id: number; uuid: Buffer; kind: string; parent_kind: string | null; revision: number; removed: number }
type RevisionRow = { number: number; body: string | null; entry_id: number }

/** Holds every revision against the trail, in both directions, and every body against its schema. */
export class EntityCheck {
  readonly #db: Database
  readonly #findings: Findings
  readonly #revisionAt
  #audited = 0
  #sound = true

  constructor(db: Database, findings: Findings) {
    this.#db = db
    this.#findings = findings
    this.#revisionAt = db.prepare<[Buffer, number], RevisionRow & { kind: string; parent: Buffer | null }>(
      `SELECT r.number, r.body, r.entry_id, e.kind, p.uuid AS parent FROM entity_revision r JOIN entity e ON e.id = r.entity_id
       LEFT JOIN entity p ON p.id = e.parent_id WHERE e.uuid = ? AND r.number = ?`,
    )
  }

  /** One change of the trail: its revision must be there, as it says. */
  change(change: EntityChange, entryId: number): void {
    const place = { kind: change.kind, id: change.id, revision: change.revisionAfter }
    const row = this.#revisionAt.get(uuidBytes(change.id), change.revisionAfter)
    if (!row) {
      this.#report('check.revision_lost', place)
      return
    }
    this.#audited += 1
    const asRecorded =
      row.entry_id === entryId &&
      row.kind === change.kind &&
      (row.parent === null ? null : uuidText(row.parent)) === change.parentId &&
      sameJson(row.body, change.after)
    if (!asRecorded) this.#report('check.revision_unaudited', place)
  }

  /** After the whole trail: revisions complete, bodies of the right form, none without an entry. */
  finish(step: () => void): void {
    const revisionsOf = this.#db.prepare<[number], RevisionRow>(
      'SELECT number, body, entry_id FROM entity_revision WHERE entity_id = ? ORDER BY number',
    )
    let entities = 0
    let revisions = 0
    const rows = this.#db
      .prepare<[], EntityRow>(
        'SELECT e.id, e.uuid, e.kind, p.kind AS parent_kind, e.revision, e.removed FROM entity e LEFT JOIN entity p ON p.id = e.parent_id',
      )
      .all()
    for (const row of rows) {
      const id = uuidText(row.uuid)
      const stored = revisionsOf.all(row.id)
      const inOrder = stored.length === row.revision && stored.every((revision, index) => revision.number === index + 1)
      const removedFits = (stored.at(-1)?.body === null) === (row.removed === 1)
      if (!inOrder || !removedFits) this.#report('check.revision_gap', { kind: row.kind, id })
      this.#form(row, id, stored)
      entities += 1
      revisions += stored.length
      step()
    }
    if (this.#audited < revisions) this.#report('check.revisions_unaudited', { revisions: revisions - this.#audited })
    if (this.#sound) this.#findings.ok('check.entities_ok', { entities, revisions })
  }

  #report<C extends MessageCode>(code: C, params: ParamsOf<C>): void {
    this.#sound = false
    this.#findings.problem(code, params)
  }

  #form(row: EntityRow, id: string, stored: readonly RevisionRow[]): void {
    const kind = EntityKind.safeParse(row.kind)
    if (!kind.success || PARENT_KIND[kind.data] !== row.parent_kind) this.#report('check.parent_wrong', { kind: row.kind, id })
    if (!kind.success) return
    for (const { number, body } of stored) {
      if (body === null) continue
      const read = ENTITY_SCHEMAS[kind.data].safeParse(JSON.parse(body))
      if (read.success) continue
      const fields = fieldsOf(read.error)
      this.#report('check.body_invalid', { kind: row.kind, id, revision: number, fields })
    }
  }
}

function sameJson(stored: string | null, recorded: unknown): boolean {
  if (stored === null || recorded === null) return stored === null && recorded === null
  return canonicalJson(JSON.parse(stored)) === canonicalJson(recorded)
}
