import type { EntityChange } from '#core/api/entities.ts'
import type { Criterion } from '#core/model/criteria.ts'
import { checkOverriddenCriteria } from '#core/model/criteria-rules.ts'
import type { Entity } from '#core/model/entities.ts'
import { problem } from '../project-file/problem.ts'
import type { Session } from './session.ts'

/**
 * What the overrides of a room or zone owe the criteria that reign there, looked at once a whole command is applied, since a set may come
 * together with the rooms that follow it. A zone without a set of its own follows that of its room.
 */
export function checkOverrides(session: Session, changes: readonly EntityChange[], before: ReadonlyMap<string, Entity>): void {
  const { entities } = session.stores
  for (const [index, { id }] of changes.entries()) {
    const entity = entities.find(id)?.entity
    if (!entity || entity.removed || (entity.kind !== 'room' && entity.kind !== 'zone')) continue
    const old = before.get(id)
    const known = old?.kind === 'room' || old?.kind === 'zone' ? old.body.overrides : []
    const [broken] = checkOverriddenCriteria(entity.body.overrides, criteriaOf(session, entity), known)
    if (broken) throw problem('invalid_input', broken, { field: `changes.${index}.body.${broken.field}` })
  }
}

function criteriaOf(session: Session, entity: Entity<'room' | 'zone'>): readonly Criterion[] {
  const { entities } = session.stores
  const room = entity.kind === 'zone' && entity.parentId !== null ? entities.find(entity.parentId)?.entity : null
  const setId = entity.body.criteriaSetId ?? (room?.kind === 'room' ? room.body.criteriaSetId : null)
  const set = setId === null ? null : entities.find(setId)?.entity
  return set?.kind === 'criteria_set' ? set.body.criteria : []
}
