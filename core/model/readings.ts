import { z } from 'zod'
import { Basis, Instant, Quantity, Unit, Uuid } from './values.ts'

/** A measuring point of a run, laid out when the run starts. `number` is its identity within the run and its place on the path. */
export const Location = z.strictObject({
  number: z.number().int().positive(),
  kind: z.enum(['filter_point', 'plane_point', 'duct_point', 'whole_terminal', 'door', 'room_point']),
  terminalId: Uuid.nullable(),
  row: z.number().int().positive().describe('1 is farthest ahead as the technician faced'),
  column: z.number().int().positive().describe('1 is at the left hand'),
  offsetXM: z.number().describe('m from the centre of the face, plan right (wall: right as seen from the room)'),
  offsetYM: z.number().describe('m from the centre of the face, plan up (wall: up)'),
  cellAreaM2: z.number().positive(),
})
export type Location = z.infer<typeof Location>

export const ReadingFlag = z.enum(['below_range', 'above_range', 'reverse_flow', 'short_averaging', 'past_due', 'questioned', 'carried'])
export type ReadingFlag = z.infer<typeof ReadingFlag>

/** segment UUID and number within the segment, joined by a colon. */
export const ReadingId = z.string().regex(/^[0-9a-f-]{36}:\d+$/)
export type ReadingId = z.infer<typeof ReadingId>

export const Reading = z.strictObject({
  id: ReadingId,
  point: z.number().int().positive().describe('number of the location within the run'),
  sample: z.number().int().positive(),
  quantity: Quantity,
  si: z.number().describe('as indicated, in SI'),
  typed: z.string().max(40),
  unit: Unit,
  basis: Basis,
  instrumentId: Uuid,
  personId: Uuid,
  at: Instant,
  flags: z.array(ReadingFlag),
  note: z.string().max(1000),
  voided: z.strictObject({ at: Instant, personId: Uuid, reason: z.string(), replacedBy: ReadingId.nullable() }).nullable(),
})
export type Reading = z.infer<typeof Reading>
