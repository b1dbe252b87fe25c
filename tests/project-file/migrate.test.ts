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
import type { Step, StepQueries } from '#migrations/index.ts'
import { refusal, sentenceOf } from './failure.ts'
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

let folder: ReturnType<typeof temporaryFolder>
let path: string
beforeEach(() => {
  folder = temporaryFolder()
  path = join(folder.path, 'Hall.facegrid')
  const db = new Database(path)
  db.pragma(`application_id = ${APPLICATION_ID}`)
  migrate(db, 1)
  db.prepare(`INSERT INTO entity (uuid, kind, revision, removed) VALUES (zeroblob(16), 'project', 1, 0)`).run()
  db.close()
})
afterEach(() => {
  breakAtTheEnd = false
  folder.remove()
})

it('brings an older file up to date after keeping a copy of it, and says so', () => {
  const file = openProjectFile(path, OPTIONS)
  expect(stepOf(file.db)).toBe(2)
  expect(file.db.prepare('SELECT entities FROM tally').pluck().get()).toBe(1)
  expect(file.notices.map(sentenceOf)).toEqual([expect.stringContaining('Hall (file step 1).facegrid')])
  file.close()
  expect(readdirSync(folder.path)).toEqual(['Hall (file step 1).facegrid', 'Hall.facegrid'])
  const copy = new Database(join(folder.path, 'Hall (file step 1).facegrid'), { readonly: true })
  expect([stepOf(copy), copy.pragma('application_id', { simple: true })]).toEqual([1, APPLICATION_ID])
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
  expect(stepOf(db)).toBe(1)
  expect(schemaOf(db)).toEqual(schema)
  db.close()
})

it('never brings up to date what is opened for reading only: it says what to do, and changes nothing', () => {
  const before = snapshot(folder.path)
  const failure = refusal(() => openProjectFile(path, { ...OPTIONS, readOnly: true }))
  expect(failure.kind).toBe('read_only')
  expect(sentenceOf(failure.sentence)).toContain('older Facegrid')
  expect(snapshot(folder.path)).toEqual(before)
})
