import { message } from '#core/messages/say.ts'
import type { EntityBody, EntityKind } from '#core/model/entities.ts'
import type { StoredEntity } from '../project-file/entities.ts'
import { problem } from '../project-file/problem.ts'
import type { Stores } from '../project-file/stores.ts'

export type Reference = { readonly id: string; readonly kind: EntityKind; readonly field: string }

/** What a body names besides its parent. The kind must be the body's own. */
function referencesOf(kind: EntityKind, body: EntityBody): Reference[] {
  const one = (id: string | null, target: EntityKind, field: string): Reference[] => (id === null ? [] : [{ id, kind: target, field }])
  // Each case reads the body of the kind beside it.
  switch (kind) {
    case 'room':
      return one((body as EntityBody<'room'>).criteriaSetId, 'criteria_set', 'criteriaSetId')
    case 'zone':
      return one((body as EntityBody<'zone'>).criteriaSetId, 'criteria_set', 'criteriaSetId')
    case 'terminal': {
      const { zoneId, airSystemId } = body as EntityBody<'terminal'>
      return [...one(zoneId, 'zone', 'zoneId'), ...one(airSystemId, 'air_system', 'airSystemId')]
    }
    case 'door':
      return (body as EntityBody<'door'>).roomIds.flatMap((id, index) => one(id, 'room', `roomIds.${index}`))
    case 'certification': {
      const certification = body as EntityBody<'certification'>
      return [
        ...certification.roomIds.flatMap((id, index) => one(id, 'room', `roomIds.${index}`)),
        ...certification.personIds.flatMap((id, index) => one(id, 'person', `personIds.${index}`)),
        ...one(certification.previousId, 'certification', 'previousId'),
      ]
    }
    case 'run': {
      const run = body as EntityBody<'run'>
      return [...one(run.roomId, 'room', 'roomId'), ...one(run.zoneId, 'zone', 'zoneId')]
    }
    default:
      return []
  }
}

/** Refuses a reference to something that is not there; those that stood in the body before stay, even when their target was removed. */
export function checkReferences(stores: Stores, kind: EntityKind, body: EntityBody, before: EntityBody | null, field: string): void {
  const known = new Set(before === null ? [] : referencesOf(kind, before).map((reference) => reference.id))
  for (const reference of referencesOf(kind, body)) {
    if (known.has(reference.id)) continue
    const target = stores.entities.find(reference.id)
    if (!target || target.entity.kind !== reference.kind || target.entity.removed) {
      throw problem('invalid_input', message('error.reference_missing', { what: reference.kind }), { field: `${field}.${reference.field}` })
    }
  }
}

const REFERRING: { readonly [K in EntityKind]?: readonly EntityKind[] } = {
  criteria_set: ['room', 'zone'],
  zone: ['terminal'],
  room: ['door'],
  air_system: ['terminal'],
  certification: ['certification'],
}

/** Living entities that name `target`; a removal asks first. Certifications keep the rooms and people of their time. */
export function referringTo(stores: Stores, target: StoredEntity): StoredEntity[] {
  const kinds = REFERRING[target.entity.kind] ?? []
  return kinds.flatMap((kind) =>
    stores.entities
      .list(kind)
      .filter(({ entity }) => referencesOf(entity.kind, entity.body).some((reference) => reference.id === target.entity.id)),
  )
}
