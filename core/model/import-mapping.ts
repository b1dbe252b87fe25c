import { z } from 'zod'
import { Quantity, text, Unit } from './values.ts'

/** A column of the file, counted from 1; null where the file has none. */
const Column = z.number().int().min(1).max(500).nullable()

/** What each column of a delimited file holds. */
export const ImportColumns = z.strictObject({
  value: z.number().int().min(1).max(500),
  terminal: Column.describe("the terminal's tag"),
  point: Column.describe('its number along the way through that terminal, or within the run where no column holds a tag'),
  sample: Column,
  unit: Column,
  quantity: Column,
  date: Column.describe('where date and time stand in two columns'),
  time: Column,
  instrument: Column.describe('serial number'),
})
export type ImportColumns = z.infer<typeof ImportColumns>

/** How a logger's delimited files are read, kept under a name and offered for files with the same head. Parent: none. */
export const ImportMapping = z.strictObject({
  name: text.title,
  delimiter: z.enum([',', ';', '\t']),
  headerRow: z
    .number()
    .int()
    .min(1)
    .max(1000)
    .nullable()
    .describe('row of the head, counted from 1; null: readings begin at the first row'),
  header: z.array(z.string().max(200)).max(500).describe('cells of the head, by which a similar file is known'),
  decimal: z.enum(['point', 'comma']).nullable().describe('null: as each number can be read; one that can be read in two ways is refused'),
  columns: ImportColumns,
  unit: Unit.nullable().describe('of values that name none; null takes the one in the head, else the unit of the run'),
  quantity: Quantity.nullable().describe('null takes what is measured at each point'),
  timeFormat: z
    .string()
    .max(60)
    .nullable()
    .describe(
      'as luxon writes it, such as dd.MM.yyyy HH:mm:ss; empty for ISO 8601; null: day and month cannot be told apart, and nobody has chosen',
    ),
  note: text.note,
})
export type ImportMapping = z.infer<typeof ImportMapping>
