import { z } from 'zod'
import { ReadingId } from '#core/model/readings.ts'
import { Sentence } from '#core/model/results.ts'
import { Instant, Unit, Uuid } from '#core/model/values.ts'

/** What a new reading takes the place of: a stored reading, or one that still waits in the queue under its command. */
export const Replaced = z
  .discriminatedUnion('by', [z.object({ by: z.literal('reading'), id: ReadingId }), z.object({ by: z.literal('command'), id: Uuid })])
  .nullable()
export type Replaced = z.infer<typeof Replaced>

export const OutgoingReading = z.object({
  point: z.number().int(),
  sample: z.number().int(),
  typed: z.string(),
  unit: Unit,
  si: z.number(),
  replaces: Replaced,
  note: z.string(),
})
export type OutgoingReading = z.infer<typeof OutgoingReading>

const common = {
  commandId: Uuid,
  personId: Uuid,
  reason: z.string(),
  at: Instant,
  sent: z.boolean().describe('the project may hold it although no answer came: it can be repeated, but not taken back'),
  refused: Sentence.nullable().describe('set when the project refused it: it waits for the person, and the others go on'),
}
export const OutgoingRecord = z.object({
  ...common,
  kind: z.literal('record'),
  instrumentId: Uuid,
  entries: z.array(OutgoingReading).min(1),
})
export type OutgoingRecord = z.infer<typeof OutgoingRecord>

/** What waits to be told to the project, in order. */
export const Outgoing = z.discriminatedUnion('kind', [
  OutgoingRecord,
  z.object({ ...common, kind: z.literal('undo') }),
  z.object({ ...common, kind: z.literal('redo') }),
])
export type Outgoing = z.infer<typeof Outgoing>

/** How many readings and steps wait in these items. */
export function countOf(items: readonly Outgoing[]): number {
  return items.reduce((sum, item) => sum + (item.kind === 'record' ? item.entries.length : 1), 0)
}
