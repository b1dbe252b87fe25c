import type { z } from 'zod'
import type { Command } from '#core/api/base.ts'
import type { contract } from '#core/api/contract.ts'
import type { EntityChange } from '#core/api/entities.ts'
import { message } from '#core/messages/say.ts'
import type { AuditEntry, CommandName } from '#core/model/audit.ts'
import { type Entity, type EntityBody, type EntityKind, PARENT_KIND } from '#core/model/entities.ts'
import type { StoredEntity } from '../project-file/entities.ts'
import { problem } from '../project-file/problem.ts'
import { checkWritten } from './body-rules.ts'
import { commit, type Transaction } from './command.ts'
import { checkOverrides } from './override-rules.ts'
import { checkReferences, referringTo } from './references.ts'
import type { Session } from './session.ts'
import { checkZones } from './zone-rules.ts'

/** Names that a page may give to a change of entities; the others belong to commands of their own. */
const PAGE_NAMES: readonly CommandName[] = ['create', 'edit', 'remove', 'move', 'resize', 'copy', 'align', 'rename', 'arrange']

type Revisions = z.infer<(typeof contract.entities.revisions)['~orpc']['outputSchema'] & z.ZodType>

export function listEntities(session: Session, input: { kinds: EntityKind[]; within: string | null; removed: boolean }): Entity[] {
  const within = input.within === null ? null : session.stores.entities.rowOf(input.within)
  if (input.within !== null && within === null) throw problem('not_found', message('error.not_found', { what: 'entity' }))
  return [...new Set(input.kinds)].flatMap((kind) =>
    session.stores.entities.list(kind, { within, removed: input.removed }).map(({ entity }) => entity),
  )
}

export function revisionsOf(session: Session, id: string): Revisions {
  const stored = session.stores.entities.find(id)
  if (!stored) throw problem('not_found', message('error.not_found', { what: 'entity' }))
  let body = stored.entity.body
  return session.stores.entities.revisions(stored.rowId).map((revision) => {
    const found = session.stores.trail.find(revision.entryId)
    if (!found) throw new Error(`revision ${revision.number} of ${id} has no entry`)
    const removed = revision.body === null
    body = revision.body ?? body
    // Kind and body belong together: both come from the same row.
    const entity = { ...stored.entity, revision: revision.number, removed, body } as Entity
    return { entity, at: found.entry.at, personId: found.entry.personId, reason: found.entry.reason }
  })
}

export function changeEntities(
  session: Session,
  input: { command: Command; name: CommandName; scope: string; changes: EntityChange[] },
): Entity[] {
  if (!PAGE_NAMES.includes(input.name)) {
    throw problem('invalid_input', message('error.command_name', { name: input.name }), { field: 'name' })
  }
  return commit(
    session,
    { command: input.command, name: input.name, scope: input.scope, founding: addsThemselves(input) },
    (transaction) => {
      refuseOwnLeaving(input)
      applyChanges(transaction, input.changes)
      return touched(
        session,
        input.changes.map((change) => change.id),
      )
    },
    (entry) => touched(session, entityIds(entry)),
  )
}

/** Somebody who is not in the project yet adds themselves, and nothing else. */
function addsThemselves({ command, changes: [change, ...others] }: { command: Command; changes: EntityChange[] }): boolean {
  return change?.kind === 'person' && change.revision === null && change.id === command.personId && others.length === 0
}

/** Whoever acts stays in use, so there is always somebody who can put others back. */
function refuseOwnLeaving({ command, changes }: { command: Command; changes: readonly EntityChange[] }): void {
  for (const [index, { kind, id, body }] of changes.entries()) {
    // The kind stands beside the body.
    const person = kind === 'person' && id === command.personId ? (body as EntityBody<'person'> | null) : null
    if (person?.active === false) {
      throw problem('refused', message('error.own_activity', {}), { field: `changes.${index}.body.active` })
    }
  }
}

/** Applies changes in their order; parents before children where both are new. */
export function applyChanges(transaction: Transaction, changes: readonly EntityChange[]): void {
  const { entities } = transaction.session.stores
  const before = new Map(changes.flatMap(({ id }) => entities.find(id)?.entity ?? []).map((entity) => [entity.id, entity]))
  for (const [index, change] of changes.entries()) {
    const field = `changes.${index}`
    if (change.body === null) removeOne(transaction, change, field)
    else if (change.revision === null) createOne(transaction, change, change.body, field)
    else editOne(transaction, change, change.body, field)
  }
  checkZones(transaction.session, changes, before)
  checkOverrides(transaction.session, changes, before)
  for (const change of changes) if (change.body === null) checkNobodyRefers(transaction.session, change.id)
}

function createOne(transaction: Transaction, change: EntityChange, body: EntityBody, field: string): void {
  const { stores } = transaction.session
  if (change.kind === 'project') throw problem('refused', message('error.one_project', {}))
  if (stores.entities.rowOf(change.id) !== null) throw problem('conflict', message('error.conflict', { what: change.kind }))
  const parent = checkParent(transaction.session, change.kind, change.parentId, field)
  checkWritten(change.kind, body, `${field}.body`)
  checkReferences(stores, change.kind, body, null, `${field}.body`)
  transaction.create(change.kind, change.id, parent, body)
}

/** The parent that this kind must have, or null for kinds that stand at the top. */
function checkParent(session: Session, kind: EntityKind, parentId: string | null, field: string): StoredEntity | null {
  const parentKind = PARENT_KIND[kind]
  if (parentKind === null) {
    if (parentId !== null) throw problem('invalid_input', message('error.no_parent', { what: kind }), { field: `${field}.parentId` })
    return null
  }
  if (parentId === null) {
    throw problem('invalid_input', message('error.parent_kind', { what: kind, parent: parentKind }), { field: `${field}.parentId` })
  }
  return session.find(parentKind, parentId, `${field}.parentId`)
}

function editOne(transaction: Transaction, change: EntityChange, body: EntityBody, field: string): void {
  const { stores } = transaction.session
  const stored = current(transaction.session, change)
  if (stored.entity.parentId !== change.parentId) {
    throw problem('invalid_input', message('error.parent_stays', { what: change.kind }), { field: `${field}.parentId` })
  }
  checkWritten(change.kind, body, `${field}.body`)
  checkReferences(stores, change.kind, body, stored.entity.body, `${field}.body`)
  transaction.revise(stored, body)
}

function removeOne(transaction: Transaction, change: EntityChange, field: string): void {
  const { session } = transaction
  // A parent listed earlier in the same command has taken its children along already.
  if (session.stores.entities.find(change.id)?.entity.removed && transaction.changes.some((c) => c.what === 'entity' && c.id === change.id))
    return
  const stored = current(session, change)
  if (change.kind === 'project') throw problem('refused', message('error.one_project', {}))
  if (change.kind === 'person' && change.id === transaction.command.personId) {
    throw problem('refused', message('error.own_person', {}), { field })
  }
  removeWithChildren(transaction, stored)
}

/** Removes an entity and everything inside it, children first; what was measured stays with its runs. */
function removeWithChildren(transaction: Transaction, stored: StoredEntity): void {
  for (const child of transaction.session.stores.entities.children(stored.rowId)) {
    if (child.entity.kind === 'run') throw problem('refused', message('error.certification_has_runs', {}))
    removeWithChildren(transaction, child)
  }
  transaction.revise(stored, null)
}

/** The entity as it stands, provided that the change was made on this revision. */
function current(session: Session, change: { kind: EntityKind; id: string; revision: number | null }): StoredEntity {
  const stored = session.stores.entities.find(change.id)
  if (!stored || stored.entity.kind !== change.kind) throw problem('not_found', message('error.not_found', { what: change.kind }))
  if (stored.entity.removed || stored.entity.revision !== change.revision) {
    throw problem('conflict', message('error.conflict', { what: change.kind }))
  }
  return stored
}

function checkNobodyRefers(session: Session, id: string): void {
  const stored = session.stores.entities.find(id)
  const referring = stored ? referringTo(session.stores, stored)[0] : undefined
  if (stored && referring) {
    throw problem('refused', message('error.still_used', { what: stored.entity.kind, by: referring.entity.kind }))
  }
}

function touched(session: Session, ids: readonly string[]): Entity[] {
  return [...new Set(ids)].flatMap((id) => session.stores.entities.find(id)?.entity ?? [])
}

function entityIds(entry: AuditEntry): string[] {
  return entry.changes.flatMap((change) => (change.what === 'entity' ? [change.id] : []))
}
