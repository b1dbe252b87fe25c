import type { Command } from '#core/api/base.ts'
import { message } from '#core/messages/say.ts'
import type { AuditChange, AuditEntry, CommandName } from '#core/model/audit.ts'
import type { EntityBody, EntityKind } from '#core/model/entities.ts'
import type { StoredEntity } from '../project-file/entities.ts'
import { classify, problem } from '../project-file/problem.ts'
import { appendEntry, nextEntryId } from '../project-file/trail.ts'
import type { Session } from './session.ts'

export type CommandOptions = {
  readonly command: Command
  readonly name: CommandName
  readonly scope: string
  readonly undoes?: string
  /** names a repeat may find under the same identity, where the name depends on what was found */
  readonly sameAs?: readonly CommandName[]
  /** true for the command that founds a project: its person is made by the command itself */
  readonly founding?: boolean
  /** true where the command itself has to be in the trail, even when it changed nothing */
  readonly always?: boolean
  /** true for recording, which keeps the caches of its run up to date by itself */
  readonly keepsCaches?: boolean
}

/** One command while it runs: what it changed so far, and the identity of the entry that will hold it. */
export class Transaction {
  readonly session: Session
  readonly entryId: number
  readonly atMs: number
  readonly at: string
  readonly command: Command
  readonly changes: AuditChange[] = []
  /** the command's name may become known only while it runs */
  name: CommandName

  constructor(session: Session, options: CommandOptions) {
    this.session = session
    this.command = options.command
    this.name = options.name
    this.atMs = session.options.clock()
    this.at = new Date(this.atMs).toISOString()
    this.entryId = nextEntryId(session.file)
  }

  create<K extends EntityKind>(kind: K, id: string, parent: StoredEntity | null, body: EntityBody<K>): number {
    const rowId = this.session.stores.entities.insert(id, kind, parent?.rowId ?? null, body, this.entryId)
    const parentId = parent?.entity.id ?? null
    this.changes.push({ what: 'entity', kind, id, parentId, revisionBefore: null, revisionAfter: 1, before: null, after: body })
    return rowId
  }

  /** Writes the next revision; null removes, a body on a removed entity brings it back. */
  revise(stored: StoredEntity, body: EntityBody | null): void {
    const { kind, id, parentId, revision, removed, body: before } = stored.entity
    this.session.stores.entities.revise(stored.rowId, revision + 1, body, this.entryId)
    this.changes.push({
      what: 'entity',
      kind,
      id,
      parentId,
      revisionBefore: revision,
      revisionAfter: revision + 1,
      before: removed ? null : before,
      after: body,
    })
  }
}

/**
 * Carries out one command: one durable transaction that holds the changes and exactly one audit entry. A command whose identity is
 * already in the trail is not done again; `again` builds the earlier answer from its entry. A command that changed nothing leaves
 * no entry.
 */
export function commit<T>(
  session: Session,
  options: CommandOptions,
  perform: (transaction: Transaction) => T,
  again: (entry: AuditEntry) => T,
): T {
  const { stores } = session
  session.refuseWriting()
  const { command } = options
  try {
    const outcome = stores.transaction((): { answer: T; changes: readonly AuditChange[] } => {
      if (!options.founding) session.refuseActor(command.personId)
      const transaction = new Transaction(session, options)
      const answer = perform(transaction)
      if (transaction.changes.length > 0 || options.always) append(session, options, transaction)
      return { answer, changes: transaction.changes }
    })
    if (!options.keepsCaches) session.forget()
    announce(session, outcome.changes)
    return outcome.answer
  } catch (error) {
    session.forget()
    stores.runs.forgetRevisions()
    // A repeated command fails (its identity is unique in the trail, and what it wants is there already), so only then is it looked up.
    const earlier = earlierEntry(session, command.id)
    if (earlier) return repeat(options, earlier, again)
    throw classify(error, session.file.path)
  }
}

/** Null also where the file itself can no longer be asked: then the first failure is the one to tell. */
function earlierEntry(session: Session, commandId: string): AuditEntry | null {
  try {
    return session.stores.trail.ofCommand(commandId)?.entry ?? null
  } catch {
    return null
  }
}

function repeat<T>(options: CommandOptions, entry: AuditEntry, again: (entry: AuditEntry) => T): T {
  const names = options.sameAs ?? [options.name]
  if (!names.includes(entry.command) || entry.personId !== options.command.personId) {
    throw problem('conflict', message('error.command_reused', {}))
  }
  return again(entry)
}

function append(session: Session, options: CommandOptions, transaction: Transaction): void {
  const { command } = options
  const { entryId } = appendEntry(session.file, {
    commandId: command.id,
    command: transaction.name,
    scope: options.scope,
    personId: command.personId,
    at: transaction.at,
    zone: session.timeZone,
    reason: command.reason,
    undoes: options.undoes ?? null,
    changes: transaction.changes,
  })
  if (entryId !== transaction.entryId) throw new Error(`entry ${entryId} was expected to be ${transaction.entryId}`)
}

/** Tells every open page what became stale. */
function announce(session: Session, changes: readonly AuditChange[]): void {
  const { publish } = session.options
  const kinds = new Set<EntityKind>()
  const ids = new Set<string>()
  const runs = new Set<string>()
  const recorded = new Set<string>()
  for (const change of changes) {
    if (change.what === 'entity') {
      kinds.add(change.kind)
      ids.add(change.id)
      if (change.kind === 'run') runs.add(change.id)
    } else if (change.what === 'reading' || change.what === 'void' || change.what === 'readings' || change.what === 'voids')
      recorded.add(change.runId)
    else if (change.what === 'attachment') ids.add(change.ownerId)
    else runs.add(change.runId)
  }
  if (ids.size > 0) publish({ what: 'entities', kinds: [...kinds], ids: [...ids] })
  for (const runId of runs) publish({ what: 'run', runId })
  for (const runId of recorded) publish({ what: 'readings', runId })
}
