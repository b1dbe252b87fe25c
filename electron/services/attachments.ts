import type { z } from 'zod'
import type { contract } from '#core/api/contract.ts'
import type { Attachment } from '#core/api/trail.ts'
import { message } from '#core/messages/say.ts'
import { ATTACHMENT_CAP_BYTES, type StoredAttachment } from '../project-file/attachments.ts'
import { problem } from '../project-file/problem.ts'
import { commit } from './command.ts'
import type { Session } from './session.ts'

type Shown = z.infer<typeof Attachment>
type AddInput = z.infer<NonNullable<(typeof contract.attachments.add)['~orpc']['inputSchema']>>

function shown({ entryId: _, ...attachment }: StoredAttachment): Shown {
  return attachment
}

function owner(session: Session, ownerId: string): number {
  const stored = session.stores.entities.find(ownerId)
  if (!stored || stored.entity.removed) throw problem('not_found', message('error.not_found', { what: 'entity' }), { field: 'ownerId' })
  return stored.rowId
}

function attachment(session: Session, id: string): StoredAttachment {
  const stored = session.stores.attachments.find(id)
  if (!stored) throw problem('not_found', message('error.not_found', { what: 'attachment' }))
  return stored
}

export function listAttachments(session: Session, ownerId: string): Shown[] {
  return session.stores.attachments.ofOwner(owner(session, ownerId)).map(shown)
}

export function getAttachment(session: Session, id: string): { attachment: Shown; contentBase64: string } {
  const stored = attachment(session, id)
  return { attachment: shown(stored), contentBase64: session.stores.attachments.content(stored.sha256).toString('base64') }
}

export function addAttachment(session: Session, input: AddInput): Shown {
  const content = Buffer.from(input.contentBase64, 'base64')
  if (content.length > ATTACHMENT_CAP_BYTES) {
    throw problem('refused', message('error.attachment_too_large', { name: input.name, capMb: ATTACHMENT_CAP_BYTES / 1024 / 1024 }), {
      field: 'contentBase64',
    })
  }
  return commit(
    session,
    { command: input.command, name: 'attach', scope: input.ownerId },
    (transaction) => {
      const { attachments } = session.stores
      const ownerRowId = owner(session, input.ownerId)
      if (attachments.find(input.id)) throw problem('conflict', message('error.conflict', { what: 'attachment' }))
      const sha256 = attachments.addContent(content)
      const { id, ownerId, name, mediaType } = input
      const stored = { id, ownerId, name, mediaType, bytes: content.length, sha256, entryId: transaction.entryId }
      attachments.insert(stored, ownerRowId)
      transaction.changes.push({ what: 'attachment', id, sha256, name, bytes: content.length, ownerId })
      return shown(stored)
    },
    () => shown(attachment(session, input.id)),
  )
}
