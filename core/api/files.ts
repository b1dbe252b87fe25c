import { z } from 'zod'
import { Person, Project } from '../model/places.ts'
import { Sentence } from '../model/results.ts'
import { Uuid } from '../model/values.ts'
import { base } from './base.ts'
import { Failure } from './errors.ts'

export const FileEntry = z.strictObject({
  name: z.string(),
  path: z.string(),
  kind: z.enum(['folder', 'backups', 'project', 'exchange', 'other']),
  modifiedAt: z.string().nullable(),
  bytes: z.number().nullable(),
})

export const OpenFile = z.strictObject({
  path: z.string(),
  name: z.string(),
  projectId: Uuid,
  readOnly: z.boolean(),
  readOnlyBecause: Sentence.nullable(),
  notices: z.array(Sentence).describe('recovered after a crash, migrated from an older step, and the like'),
  lastView: z.string().nullable().describe('address within the page where this file was left'),
  lastPersonId: Uuid.nullable(),
})

export const Reopened = z
  .strictObject({ path: z.string(), name: z.string(), failure: Failure.nullable().describe('null: it is open again') })
  .describe('the project that was open when the program last ended, and what became of it at this start; until the page has told it')

export const FilesState = z.strictObject({
  host: z.enum(['desktop', 'browser', 'headless']),
  version: z.string(),
  open: OpenFile.nullable(),
  reopened: Reopened.nullable(),
  recent: z.array(z.strictObject({ path: z.string(), name: z.string(), openedAt: z.string(), missing: z.boolean() })),
  roots: z.array(z.strictObject({ name: z.string(), path: z.string() })),
  theme: z.enum(['system', 'light', 'dark']),
  language: z.string(),
})

export const files = {
  state: base.output(FilesState),
  browse: base
    .input(z.strictObject({ path: z.string().nullable() }))
    .output(z.strictObject({ path: z.string(), parent: z.string().nullable(), entries: z.array(FileEntry) })),
  makeFolder: base.input(z.strictObject({ parent: z.string(), name: z.string() })).output(z.strictObject({ path: z.string() })),
  create: base.input(z.strictObject({ path: z.string(), project: Project, person: Person })).output(OpenFile),
  open: base.input(z.strictObject({ path: z.string(), readOnly: z.boolean().default(false) })).output(OpenFile),
  openDemo: base.output(OpenFile),
  saveCopy: base.input(z.strictObject({ path: z.string() })).output(z.strictObject({ path: z.string(), bytes: z.number() })),
  close: base.output(z.null()),
  forgetRecent: base.input(z.strictObject({ path: z.string() })).output(z.null()),
  exportExchange: base.input(z.strictObject({ path: z.string() })).output(z.strictObject({ path: z.string(), bytes: z.number() })),
  importExchange: base
    .input(z.strictObject({ exchangePath: z.string(), path: z.string().describe('where the new project file goes') }))
    .output(OpenFile),
  settings: base
    .input(
      z.strictObject({
        theme: z.enum(['system', 'light', 'dark']).optional(),
        language: z.string().optional(),
        view: z.string().optional(),
        personId: Uuid.optional(),
        reopenedTold: z.literal(true).optional().describe('the person has been told what was reopened'),
      }),
    )
    .output(z.null()),
}
