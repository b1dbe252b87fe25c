import { z } from 'zod'
import { Reading, ReadingId } from '../model/readings.ts'
import { Unit, Uuid } from '../model/values.ts'
import { base, Command } from './base.ts'

export const readings = {
  record: base
    .input(
      z.strictObject({
        command: Command,
        runId: Uuid,
        instrumentId: Uuid,
        entries: z
          .array(
            z.strictObject({
              point: z.number().int().positive(),
              sample: z.number().int().positive(),
              typed: z.string().min(1).max(40),
              unit: Unit,
              replaces: ReadingId.nullable().describe('the reading the page saw at this point; a different one there is a conflict'),
              note: z.string().max(1000).default(''),
            }),
          )
          .min(1)
          .max(5000),
      }),
    )
    .output(z.array(Reading)),
  void: base.input(z.strictObject({ command: Command, runId: Uuid, readingIds: z.array(ReadingId).min(1) })).output(z.array(Reading)),
}
