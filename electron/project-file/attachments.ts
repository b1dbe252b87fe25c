import { createHash } from 'node:crypto'
import type { ProjectFile } from './project-file.ts'
import { uuidBytes, uuidText } from './uuid-bytes.ts'

const CHUNK_BYTES = 1024 * 1024
/** The most that one attachment may hold. */
export const ATTACHMENT_CAP_BYTES = 20 * 1024 * 1024

export type StoredAttachment = {
  readonly id: string
  readonly ownerId: string
  readonly name: string
  readonly mediaType: string
  readonly bytes: number
  readonly sha256: string
  readonly entryId: number
}

type Row = [uuid: Uint8Array, owner: Uint8Array, name: string, mediaType: string, bytes: number, sha256: Uint8Array, entryId: number]
const SELECT = `SELECT a.uuid, o.uuid, a.name, a.media_type, a.bytes, a.sha256, a.entry_id
  FROM attachment a JOIN entity o ON o.id = a.owner_id`

function fromRow([uuid, owner, name, mediaType, bytes, sha256, entryId]: Row): StoredAttachment {
  return { id: uuidText(uuid), ownerId: uuidText(owner), name, mediaType, bytes, sha256: Buffer.from(sha256).toString('hex'), entryId }
}

export function sha256Of(content: Uint8Array | string): string {
  return createHash('sha256').update(content).digest('hex')
}

/** Files that belong to an entity. The same content is kept once, under its hash, in chunks. */
export function createAttachmentStore(file: ProjectFile) {
  const { db } = file
  const byUuid = db.prepare<[Buffer], Row>(`${SELECT} WHERE a.uuid = ?`).raw()
  const ofOwner = db.prepare<[number], Row>(`${SELECT} WHERE a.owner_id = ? ORDER BY a.id`).raw()
  const every = db.prepare<[], Row>(`${SELECT} ORDER BY a.id`).raw()
  const insert = db.prepare(
    'INSERT INTO attachment (uuid, owner_id, sha256, name, media_type, bytes, entry_id) VALUES (?, ?, ?, ?, ?, ?, ?)',
  )
  const hasContent = db.prepare<[Buffer], number>('SELECT count(*) FROM attachment_chunk WHERE sha256 = ?').pluck()
  const insertChunk = db.prepare<[Buffer, number, Buffer]>('INSERT INTO attachment_chunk (sha256, number, data) VALUES (?, ?, ?)')
  const chunks = db.prepare<[Buffer], Buffer>('SELECT data FROM attachment_chunk WHERE sha256 = ? ORDER BY number').pluck()

  return {
    find(id: string): StoredAttachment | null {
      const row = byUuid.get(uuidBytes(id))
      return row ? fromRow(row) : null
    },
    ofOwner: (ownerRowId: number): StoredAttachment[] => ofOwner.all(ownerRowId).map(fromRow),
    all: (): StoredAttachment[] => every.all().map(fromRow),
    addContent(content: Buffer): string {
      const sha256 = sha256Of(content)
      const key = Buffer.from(sha256, 'hex')
      if ((hasContent.get(key) ?? 0) === 0) {
        // An empty file still needs one (empty) chunk, so that its content is known.
        for (let number = 0; number === 0 || number * CHUNK_BYTES < content.length; number += 1) {
          insertChunk.run(key, number, content.subarray(number * CHUNK_BYTES, (number + 1) * CHUNK_BYTES))
        }
      }
      return sha256
    },
    insert(attachment: StoredAttachment, ownerRowId: number): void {
      insert.run(
        uuidBytes(attachment.id),
        ownerRowId,
        Buffer.from(attachment.sha256, 'hex'),
        attachment.name,
        attachment.mediaType,
        attachment.bytes,
        attachment.entryId,
      )
    },
    content: (sha256: string): Buffer => Buffer.concat(chunks.all(Buffer.from(sha256, 'hex'))),
  }
}
