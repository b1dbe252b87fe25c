import { z } from 'zod'
import { ImportMapping } from '../model/import-mapping.ts'
import { ReadingFlag } from '../model/readings.ts'
import { Sentence } from '../model/results.ts'
import { Quantity, Unit, Uuid } from '../model/values.ts'
import { base, Command } from './base.ts'
import { Job } from './jobs.ts'

/** The first rows of a delimited file, and how it is most likely read. */
export const ImportLook = z.strictObject({
  path: z.string(),
  name: z.string(),
  bytes: z.number(),
  encoding: z.enum(['utf-8', 'utf-16le', 'utf-16be', 'windows-1252']),
  rows: z.array(z.array(z.string())).describe('as far as the delimiter of the proposal parts them'),
  proposed: ImportMapping,
  fitting: z.array(Uuid).describe('mappings of the project that were made for a file with this head'),
})
export type ImportLook = z.infer<typeof ImportLook>

export const ImportInto = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('run'),
    runId: Uuid,
    firstPoint: z
      .number()
      .int()
      .positive()
      .nullable()
      .describe('where values begin that only have their order; null: first point without a reading'),
  }),
  z
    .strictObject({ kind: z.literal('certification'), certificationId: Uuid })
    .describe('every open run of it, found by the tag of the terminal'),
])
export type ImportInto = z.infer<typeof ImportInto>

export const ImportOrder = z.strictObject({
  command: Command,
  path: z.string(),
  into: ImportInto,
  mapping: ImportMapping,
  instrumentId: Uuid.nullable().describe('of rows that name none'),
  dryRun: z.boolean().describe('looks at every row and writes nothing'),
  seen: z
    .string()
    .nullable()
    .default(null)
    .describe('SHA-256 of the file as a dry run told it: a file that says something else by now is refused; null: whatever it says'),
  again: z.boolean().default(false).describe('true where the person knows that this file was imported before'),
})
export type ImportOrder = z.infer<typeof ImportOrder>

/** A row that cannot become a reading; row and column counted from 1. */
export const ImportProblem = z.strictObject({
  row: z.number().int(),
  column: z.number().int().nullable(),
  text: z.string(),
  sentence: Sentence,
})
export type ImportProblem = z.infer<typeof ImportProblem>

/** A row as the reading that it would become. */
export const ImportedRow = z.strictObject({
  row: z.number().int(),
  runId: Uuid,
  tag: z.string().nullable(),
  terminalId: Uuid.nullable(),
  point: z.number().int().describe('number within the run'),
  order: z.number().int().describe('number within its terminal; within the run where it has none'),
  sample: z.number().int(),
  quantity: Quantity,
  si: z.number(),
  typed: z.string(),
  unit: Unit,
  at: z.string(),
  flags: z.array(ReadingFlag),
})
export type ImportedRow = z.infer<typeof ImportedRow>

/** What became of an import, or would become of it. */
export const ImportOutcome = z.strictObject({
  imported: z.boolean(),
  refused: Sentence.nullable().describe('why nothing was written although it was asked for'),
  name: z.string(),
  bytes: z.number(),
  sha256: z.string(),
  keptWhole: z.boolean().describe('false: the file is above the cap of attachments, and its hash alone is kept'),
  rows: z.number().int().describe('rows below the head that are not empty'),
  readings: z.number().int(),
  problemRows: z.number().int(),
  problems: z.array(ImportProblem).describe('the first of them'),
  preview: z.array(ImportedRow).describe('the first of them'),
  runs: z.array(z.strictObject({ runId: Uuid, readings: z.number().int() })),
  flags: z.array(z.strictObject({ flag: ReadingFlag, readings: z.number().int() })),
  notes: z.array(Sentence),
  earlier: z.array(z.strictObject({ name: z.string(), at: z.string(), personId: Uuid })).describe('imports of the same bytes'),
})
export type ImportOutcome = z.infer<typeof ImportOutcome>

/** Readings from delimited files. */
export const imports = {
  look: base
    .input(z.strictObject({ path: z.string(), delimiter: ImportMapping.shape.delimiter.nullable().default(null) }))
    .output(ImportLook),
  start: base.input(ImportOrder).output(Job),
}
