import { z } from 'zod'
import { EntityKind } from './entities.ts'
import { Location, Reading, ReadingId } from './readings.ts'
import { Instant, Uuid } from './values.ts'

/** Version of the canonical form of an audit entry's body. Old versions are read by pure upcasters and never rewritten. */
export const AUDIT_FORMAT_VERSION = 3

/** A point as a layout change holds it. Entries of format 1 held its number alone; whatever is written today says where it lies. */
export const LayoutPoint = z.union([Location, Location.pick({ number: true })])
export type LayoutPoint = z.infer<typeof LayoutPoint>

/** What one command changed, before and after: enough to show it, to undo it and to prove it. */
export const AuditChange = z.discriminatedUnion('what', [
  z.strictObject({
    what: z.literal('entity'),
    kind: EntityKind,
    id: Uuid,
    parentId: Uuid.nullable(),
    revisionBefore: z.number().int().nullable(),
    revisionAfter: z.number().int(),
    before: z.unknown().describe('body, null when it did not exist or was removed'),
    after: z.unknown().describe('body, null when removed'),
  }),
  z.strictObject({ what: z.literal('reading'), runId: Uuid, reading: Reading }),
  z.strictObject({
    what: z.literal('void'),
    runId: Uuid,
    readingId: ReadingId,
    reason: z.string(),
    replacedBy: ReadingId.nullable(),
  }),
  z
    .strictObject({ what: z.literal('readings'), runId: Uuid, first: ReadingId, count: z.number().int().positive(), sha256: z.string() })
    .describe('many readings that follow each other by number in one segment, by the hash of their rows'),
  z
    .strictObject({ what: z.literal('voids'), runId: Uuid, first: ReadingId, count: z.number().int().positive(), reason: z.string() })
    .describe('as many voided, none of them replaced'),
  z.strictObject({
    what: z.literal('layout'),
    runId: Uuid,
    terminalIds: z.array(Uuid),
    before: z.array(LayoutPoint).describe('points that go out of use'),
    after: z.array(LayoutPoint).describe('points that come into use'),
  }),
  z.strictObject({
    what: z.literal('pin'),
    runId: Uuid,
    entityId: Uuid,
    revisionBefore: z.number().int().nullable(),
    revisionAfter: z.number().int().nullable(),
  }),
  z.strictObject({ what: z.literal('results'), runId: Uuid, sha256: z.string(), rows: z.number().int(), meaning: z.string() }),
  z.strictObject({ what: z.literal('attachment'), id: Uuid, sha256: z.string(), name: z.string(), bytes: z.number().int(), ownerId: Uuid }),
])
export type AuditChange = z.infer<typeof AuditChange>

export const COMMAND_NAMES = [
  'project.create',
  'project.import',
  'create',
  'edit',
  'remove',
  'move',
  'resize',
  'copy',
  'align',
  'rename',
  'arrange',
  'start_certification',
  'run.start',
  'run.grid',
  'run.refresh',
  'run.cautions',
  'run.edit',
  'run.misfit',
  'run.complete',
  'run.reopen',
  'run.sign',
  'reading.record',
  'reading.correct',
  'reading.void',
  'reading.paste',
  'reading.import',
  'attach',
  'undo',
  'redo',
] as const
export const CommandName = z.enum(COMMAND_NAMES)
export type CommandName = z.infer<typeof CommandName>

/** One command as the trail holds it. `hash` covers the canonical JSON of everything above it and the hash before it. */
export const AuditEntry = z.strictObject({
  segmentId: Uuid,
  number: z.number().int().positive(),
  commandId: Uuid,
  command: CommandName,
  scope: z.string().describe('run or room UUID whose undo stack this belongs to, or project'),
  personId: Uuid,
  at: Instant,
  zone: z.string().describe('IANA zone of the site at that time'),
  reason: z.string(),
  undoes: Uuid.nullable().describe('command that this one undoes or redoes'),
  changes: z.array(AuditChange),
  formatVersion: z.number().int(),
  hash: z.string().regex(/^[0-9a-f]{64}$/),
})
export type AuditEntry = z.infer<typeof AuditEntry>
