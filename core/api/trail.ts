import { z } from 'zod'
import { AuditEntry } from '../model/audit.ts'
import { EntityKind } from '../model/entities.ts'
import { Uuid } from '../model/values.ts'
import { base, Command } from './base.ts'

export const audit = {
  list: base
    .input(
      z.strictObject({
        about: Uuid.nullable().describe('entity or run; null for all'),
        before: z.strictObject({ segmentId: Uuid, number: z.number().int() }).nullable(),
        limit: z.number().int().min(1).max(500),
      }),
    )
    .output(z.strictObject({ entries: z.array(AuditEntry), more: z.boolean() })),
}

export const Found = z.strictObject({ kind: EntityKind, id: Uuid, parentId: Uuid.nullable(), label: z.string(), detail: z.string() })

export const search = {
  find: base.input(z.strictObject({ text: z.string().max(100), limit: z.number().int().min(1).max(50) })).output(z.array(Found)),
}

export const Attachment = z.strictObject({
  id: Uuid,
  ownerId: Uuid,
  name: z.string(),
  mediaType: z.string(),
  bytes: z.number(),
  sha256: z.string(),
})

export const attachments = {
  list: base.input(z.strictObject({ ownerId: Uuid })).output(z.array(Attachment)),
  add: base
    .input(
      z.strictObject({
        command: Command,
        id: Uuid,
        ownerId: Uuid,
        name: z.string().min(1).max(200),
        mediaType: z.string().max(100),
        contentBase64: z.base64().max(28_000_000).describe('at most about 20 MB of bytes'),
      }),
    )
    .output(Attachment),
  get: base.input(z.strictObject({ id: Uuid })).output(z.strictObject({ attachment: Attachment, contentBase64: z.base64() })),
}
