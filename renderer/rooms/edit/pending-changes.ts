import type { EntityChange } from '#core/api/entities.ts'
import type { Entity } from '#core/model/entities.ts'

/**
 * Entities as they will stand once the changes are made, in their order. Each change raises the revision by one, as the project file
 * does, so that a further change can be made on top before the first is answered.
 */
export function withChanges(entities: readonly Entity[], changes: readonly EntityChange[]): Entity[] {
  if (changes.length === 0) return [...entities]
  const result = new Map(entities.map((entity) => [entity.id, entity]))
  for (const change of changes) {
    const before = result.get(change.id)
    const { kind, id, parentId } = change
    if (change.body === null) {
      if (before) result.set(id, { ...before, revision: before.revision + 1, removed: true })
      continue
    }
    // Kind and body come from one change, so they belong together.
    result.set(id, { kind, id, parentId, revision: (change.revision ?? 0) + 1, removed: false, body: change.body } as Entity)
  }
  return [...result.values()]
}

/** The newest of two answers about the same entities wins: an answer that crossed a later change never takes it back. */
export function merged(entities: readonly Entity[], answered: readonly Entity[], belongs: (entity: Entity) => boolean): Entity[] {
  const result = new Map(entities.map((entity) => [entity.id, entity]))
  for (const entity of answered) {
    const known = result.get(entity.id)
    if (known ? known.revision <= entity.revision : belongs(entity)) result.set(entity.id, entity)
  }
  return [...result.values()].filter((entity) => !entity.removed)
}
