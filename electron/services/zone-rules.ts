import { isDeepStrictEqual } from 'node:util'
import type { EntityChange } from '#core/api/entities.ts'
import { message } from '#core/messages/say.ts'
import type { Entity } from '#core/model/entities.ts'
import { checkZoneInRoom } from '#core/model/rules.ts'
import { problem } from '../project-file/problem.ts'
import type { Session } from './session.ts'

/**
 * What a zone and its room owe each other, looked at once a whole command is applied, since a room may move together with its zones: a
 * drawn boundary lies in the room, and a filter belongs to a zone of its own room. What stood so before is left alone.
 */
export function checkZones(session: Session, changes: readonly EntityChange[], before: ReadonlyMap<string, Entity>): void {
  const { entities } = session.stores
  for (const [index, { id }] of changes.entries()) {
    const entity = entities.find(id)?.entity
    if (!entity || entity.removed || entity.parentId === null) continue
    const old = before.get(id)
    const field = `changes.${index}.body`
    if (entity.kind === 'zone') {
      const room = entities.find(entity.parentId)?.entity
      const stoodSo = old?.kind === 'zone' && isDeepStrictEqual(old.body.boundary, entity.body.boundary)
      const [outside] = stoodSo || room?.kind !== 'room' ? [] : checkZoneInRoom(entity.body, room.body)
      if (outside) throw problem('invalid_input', outside, { field: `${field}.${outside.field}` })
    }
    if (entity.kind === 'terminal' && entity.body.zoneId !== null) {
      const stoodSo = old?.kind === 'terminal' && old.body.zoneId === entity.body.zoneId
      const zone = entities.find(entity.body.zoneId)?.entity
      if (!stoodSo && zone?.parentId !== entity.parentId) {
        throw problem('invalid_input', message('error.zone_of_other_room', {}), { field: `${field}.zoneId` })
      }
    }
  }
}
