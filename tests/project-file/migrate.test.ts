import { readdirSync } from 'node:fs'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import type { Kysely } from 'kysely'
import { sql } from 'kysely'
import { afterEach, beforeEach, expect, it, vi } from 'vitest'
import { migrate, stepOf } from '#electron/project-file/migrate.ts'
import { openProjectFile } from '#electron/project-file/open.ts'
import { APPLICATION_ID } from '#electron/project-file/pragmas.ts'
import { schemaOf } from '#electron/project-file/soundness.ts'
import { STEPS, type Step, type StepQueries } from '#migrations/index.ts'
import { sentenceOf } from './failure.ts'
import { OPTIONS, temporaryFolder } from './site.ts'
import { snapshot } from './snapshot.ts'

// The program of a later day: the real steps, and one more that changes rows by what it reads.
let breakAtTheEnd = false
vi.mock('#migrations/index.ts', async (original) => {
  const { STEPS } = await original<{ STEPS: readonly Step[] }>()
  function* up(db: Kysely<unknown>): StepQueries {
    yield db.schema.alterTable('location').addColumn('label', 'text')
    const rows = yield { compile: () => sql`SELECT count(*) AS entities FROM entity`.compile(db) }
    yield db.schema.createTable('tally').addColumn('entities', 'integer').modifyEnd(sql`STRICT`)
    yield { compile: () => sql`INSERT INTO tally VALUES (${rows.at(0)?.entities})`.compile(db) }
    if (breakAtTheEnd) yield { compile: () => sql`INSERT INTO no_such_table VALUES (1)`.compile(db) }
  }
  return { STEPS: [...STEPS, { number: STEPS.length + 1, title: 'tally', up }] }
})

/** The newest real step; the program of a later day has one more. */
const OLD = STEPS.length - 1

let folder: ReturnType<typeof temporaryFolder>
let path: string
beforeEach(() => {
  folder = temporaryFolder()
  path = join(folder.path, 'Hall.facegrid')
  const db = new Database(path)
  db.pragma(`application_id = ${APPLICATION_ID}`)
  migrate(db, OLD)
  db.prepare(`INSERT INTO entity (uuid, kind, revision, removed) VALUES (zeroblob(16), 'project', 1, 0)`).run()
  db.close()
})
afterEach(() => {
  breakAtTheEnd = false
  folder.remove()
})

it('brings an older file up to date after keeping a copy of it, and says so', () => {
  const file = openProjectFile(path, OPTIONS)
  expect(stepOf(file.db)).toBe(OLD + 1)
  expect(file.db.prepare('SELECT entities FROM tally').pluck().get()).toBe(1)
  expect(file.notices.map(sentenceOf)).toEqual([expect.stringContaining(`Hall (file step ${OLD}).facegrid`)])
  file.close()
  expect(readdirSync(folder.path)).toEqual([`Hall (file step ${OLD}).facegrid`, 'Hall.facegrid'])
  const copy = new Database(join(folder.path, `Hall (file step ${OLD}).facegrid`), { readonly: true })
  expect([stepOf(copy), copy.pragma('application_id', { simple: true })]).toEqual([OLD, APPLICATION_ID])
  expect(copy.prepare('SELECT count(*) FROM entity').pluck().get()).toBe(1)
  copy.close()
})

it('does nothing a second time', () => {
  openProjectFile(path, OPTIONS).close()
  const file = openProjectFile(path, OPTIONS)
  expect(file.notices).toEqual([])
  file.close()
})

it('leaves the file at its old step, whole, when a step fails', () => {
  breakAtTheEnd = true
  const before = new Database(path, { readonly: true })
  const schema = schemaOf(before)
  before.close()
  expect(() => openProjectFile(path, OPTIONS)).toThrow('no_such_table')
  const db = new Database(path, { readonly: true })
  expect(stepOf(db)).toBe(OLD)
  expect(schemaOf(db)).toEqual(schema)
  db.close()
})

it('reads what is opened for reading only from a copy in memory that was brought up to date, and changes nothing on the disk', () => {
  const before = snapshot(folder.path)
  const file = openProjectFile(path, { ...OPTIONS, readOnly: true })
  expect(file.readOnly).toBe(true)
  expect(stepOf(file.db)).toBe(OLD + 1)
  expect(file.db.prepare('SELECT entities FROM tally').pluck().get()).toBe(1)
  expect(file.notices.map(sentenceOf)).toEqual([expect.stringContaining('older Facegrid')])
  expect(() => file.db.exec('INSERT INTO tally VALUES (2)')).toThrow('readonly')
  file.close()
  expect(snapshot(folder.path)).toEqual(before)
})
