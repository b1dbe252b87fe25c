import type { z } from 'zod'
import type { Found } from '#core/api/trail.ts'
import type { EntityBody } from '#core/model/entities.ts'
import type { Match } from '../project-file/search.ts'
import type { Session } from './session.ts'

export function find(session: Session, text: string, limit: number): z.infer<typeof Found>[] {
  if (text.trim() === '') return []
  return session.stores.search.find(text, limit).map((match) => ({
    kind: match.kind,
    id: match.id,
    parentId: match.parentId,
    label: match.text,
    detail: detailOf(session, match),
  }))
}

/** What tells two things of the same name apart. */
function detailOf(session: Session, match: Match): string {
  const body: unknown = JSON.parse(match.body)
  // The body belongs to the kind beside it.
  if (match.kind === 'room') return (body as EntityBody<'room'>).name
  if (match.kind === 'instrument') return (body as EntityBody<'instrument'>).serialNumber
  if (match.kind === 'certification') return (body as EntityBody<'certification'>).startsOn
  const parent = match.parentId === null ? null : session.stores.entities.find(match.parentId)
  if (parent?.entity.kind === 'room') return parent.entity.body.number
  if (parent?.entity.kind === 'terminal') return parent.entity.body.tag
  return parent?.entity.kind === 'instrument' || parent?.entity.kind === 'facility' ? parent.entity.body.name : ''
}
