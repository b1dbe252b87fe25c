import { createHash } from 'node:crypto'
import { copyFileSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import canonicalize from 'canonicalize'
import fc from 'fast-check'
import { v7 } from 'uuid'
import { afterEach, beforeEach, expect, it } from 'vitest'
import { AUDIT_FORMAT_VERSION } from '#core/model/audit.ts'
import { canonicalJson } from '#electron/project-file/canonical.ts'
import { createProjectFile, openProjectFile } from '#electron/project-file/open.ts'
import type { ProjectFile } from '#electron/project-file/project-file.ts'
import { headHashes, projectHead } from '#electron/project-file/segment.ts'
import { createStores } from '#electron/project-file/stores.ts'
import { appendEntry, nextEntryId } from '#electron/project-file/trail.ts'
import { refusal } from './failure.ts'
import { addSite, makeSite, OPTIONS, recordReading, temporaryFolder } from './site.ts'

let folder: ReturnType<typeof temporaryFolder>
let path: string
beforeEach(() => {
  folder = temporaryFolder()
  path = join(folder.path, 'Hall.facegrid')
})
afterEach(() => folder.remove())

const draft = () => ({
  commandId: v7(),
  command: 'edit' as const,
  scope: 'project',
  personId: v7(),
  at: '2026-03-02T08:15:00.000Z',
  zone: 'Europe/Vienna',
  reason: '',
  undoes: null,
  changes: [],
})
const append = (file: ProjectFile) => file.db.transaction(() => appendEntry(file, draft())).immediate()
const sha256 = (...parts: (string | Buffer)[]) => parts.reduce((hash, part) => hash.update(part), createHash('sha256')).digest('hex')
const segments = (file: ProjectFile) =>
  file.db.prepare<[], { first_hash: Buffer; grew_from: string }>('SELECT first_hash, grew_from FROM segment ORDER BY id').all()

it('writes canonical JSON as RFC 8785 orders and prints it', () => {
  // RFC 8785, section 3.2.2 and 3.2.4: the standard's own input and output.
  const input = JSON.parse(
    '{"numbers":[333333333.33333329,1E30,4.50,2e-3,0.000000000000000000000000001],"string":"\\u20ac$\\u000F\\u000aA\'\\u0042\\u0022\\u005c\\\\\\"\\/","literals":[null,true,false]}',
  )
  expect(canonicalJson(input)).toBe(
    '{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],"string":"€$\\u000f\\nA\'B\\"\\\\\\\\\\"/"}',
  )
})

it('writes any JSON as an independent implementation of RFC 8785 does', () => {
  // The package canonicalize, by one of the standard's authors. Keys that a program orders by itself or treats specially are among them.
  const key = fc.oneof(
    fc.string({ unit: 'binary' }),
    fc.constantFrom('10', '9', '1a', 'a', 'B', '__proto__', 'toJSON', 'é', '\u{1f600}', '\ufb33'),
  )
  const { value } = fc.letrec((tie) => ({
    value: fc.oneof(
      { maxDepth: 4 },
      fc.string({ unit: 'binary' }),
      fc.double({ noNaN: true, noDefaultInfinity: true }),
      fc.boolean(),
      fc.constant(null),
      fc.array(tie('value'), { maxLength: 5 }),
      fc.dictionary(key, tie('value'), { maxKeys: 40, noNullPrototype: true }),
    ),
  }))
  fc.assert(
    fc.property(value, (json) => canonicalJson(json) === canonicalize(json)),
    { numRuns: 600 },
  )
  for (const odd of [Number.NaN, Number.POSITIVE_INFINITY, '\ud800', { '\udc00': 1 }, [Number.NaN], undefined]) {
    expect(() => canonicalJson(odd)).toThrow()
  }
  expect(canonicalJson({ at: new Date(0), none: undefined, all: [undefined] })).toBe('{"all":[null],"at":"1970-01-01T00:00:00.000Z"}')
})

it('goes on from what was committed when a change is taken back in between', () => {
  const file = createProjectFile(path, OPTIONS)
  const stores = createStores(file)
  const change = () => stores.transaction(() => ({ row: nextEntryId(file), ...appendEntry(file, draft()) }))
  change()
  const kept = change()
  expect(() =>
    stores.transaction(() => {
      appendEntry(file, draft())
      throw new Error('taken back')
    }),
  ).toThrow('taken back')
  // One inside another, of which only the inner one ended well, counts as taken back, too.
  expect(() =>
    stores.transaction(() => {
      change()
      throw new Error('taken back')
    }),
  ).toThrow('taken back')
  const next = change()
  expect(next).toMatchObject({ number: kept.number + 1, row: kept.row + 1, entryId: kept.row + 1 })
  // Committed by another wrapper, which keeps nothing in memory.
  append(file)
  expect(change()).toMatchObject({ number: kept.number + 3, row: kept.row + 3, entryId: kept.row + 3 })
  const rows = file.db.prepare<[], { body: string; hash: Buffer }>('SELECT body, hash FROM audit_entry ORDER BY id').all()
  let previous = segments(file)[0]?.first_hash
  for (const row of rows) {
    expect(row.hash.toString('hex')).toBe(sha256(previous ?? '', row.body))
    previous = row.hash
  }
  file.close()
})

it('numbers entries and chains each to the one before', () => {
  const file = createProjectFile(path, OPTIONS)
  const appended = [append(file), append(file), append(file)]
  const rows = file.db
    .prepare<[], { number: number; body: string; hash: Buffer }>('SELECT number, body, hash FROM audit_entry ORDER BY id')
    .all()
  let previous = segments(file)[0]?.first_hash
  for (const row of rows) {
    expect(row.hash.toString('hex')).toBe(sha256(previous ?? '', row.body))
    expect(row.body).toBe(canonicalJson(JSON.parse(row.body)))
    previous = row.hash
  }
  expect(appended.map(({ number, hash }) => ({ number, hash }))).toEqual(
    rows.map((row) => ({ number: row.number, hash: row.hash.toString('hex') })),
  )
  expect(JSON.parse(rows[0]?.body ?? '')).toMatchObject({ number: 1, formatVersion: AUDIT_FORMAT_VERSION, segmentId: file.segment?.uuid })
  file.close()
})

it('starts a segment with the first change only, so that looking leaves no trace in the trail', () => {
  createProjectFile(path, OPTIONS).close()
  const looked = openProjectFile(path, OPTIONS)
  looked.close()
  const file = openProjectFile(path, OPTIONS)
  expect(segments(file)).toEqual([])
  append(file)
  append(file)
  expect(segments(file)).toHaveLength(1)
  file.close()
})

it('takes the segment back with a change that is taken back', () => {
  const file = createProjectFile(path, OPTIONS)
  expect(() =>
    file.db
      .transaction(() => {
        appendEntry(file, draft())
        throw new Error('taken back')
      })
      .immediate(),
  ).toThrow('taken back')
  expect(segments(file)).toEqual([])
  expect(append(file).number).toBe(1)
  file.close()
})

it('grows one segment per opening from the head before it', () => {
  const first = createProjectFile(path, OPTIONS)
  const head = append(first).hash
  expect(headHashes(first.db)).toEqual([head])
  first.close()
  const second = openProjectFile(path, OPTIONS)
  const next = append(second)
  expect(next.number).toBe(1)
  expect(segments(second).map((row) => JSON.parse(row.grew_from))).toEqual([[], [head]])
  expect(headHashes(second.db)).toEqual([next.hash])
  expect(projectHead(second.db)).toBe(sha256(`["${next.hash}"]`))
  second.close()
})

it('forks with a copy, and joins again where both parts come together', () => {
  const base = createProjectFile(path, OPTIONS)
  append(base)
  base.close()
  const copyPath = join(folder.path, 'Copy.facegrid')
  copyFileSync(path, copyPath)
  const here = openProjectFile(path, OPTIONS)
  const hereHead = append(here).hash
  here.close()
  const there = openProjectFile(copyPath, OPTIONS)
  const thereHead = append(there).hash
  const brought = there.db.prepare('SELECT * FROM segment ORDER BY id DESC LIMIT 1').get() as Record<string, unknown>
  const entry = there.db.prepare('SELECT * FROM audit_entry ORDER BY id DESC LIMIT 1').get() as Record<string, unknown>
  there.close()

  const joined = openProjectFile(path, OPTIONS)
  joined.db
    .prepare(
      `INSERT INTO segment (id, uuid, opened_at, opened_by, opened_where, program, format_version, grew_from, first_hash)
       VALUES (99, @uuid, @opened_at, @opened_by, @opened_where, @program, @format_version, @grew_from, @first_hash)`,
    )
    .run(brought)
  joined.db
    .prepare(
      `INSERT INTO audit_entry (segment_id, number, command_uuid, scope, person_uuid, undoes, body, hash)
       VALUES (99, @number, @command_uuid, @scope, @person_uuid, @undoes, @body, @hash)`,
    )
    .run(entry)
  const both = [hereHead, thereHead].sort()
  expect(headHashes(joined.db)).toEqual(both)
  expect(projectHead(joined.db)).toBe(sha256(JSON.stringify(both)))
  const after = append(joined).hash
  expect(headHashes(joined.db)).toEqual([after])
  joined.close()
})

it('refuses an entry outside a transaction, and any in a file open for reading', () => {
  const file = createProjectFile(path, OPTIONS)
  expect(() => appendEntry(file, draft())).toThrow('inside the transaction')
  file.close()
  const reader = openProjectFile(path, { ...OPTIONS, readOnly: true })
  expect(refusal(() => appendEntry(reader, draft())).kind).toBe('read_only')
  reader.close()
})

it('leaves a reading’s value in the file exactly as it was given', () => {
  const { file, site } = makeSite(path)
  recordReading(file, site, 1, 0.1 + 0.2)
  expect(file.db.prepare('SELECT si FROM reading').pluck().get()).toBe(0.30000000000000004)
  file.close()
  expect(readFileSync(path).length % 4096).toBe(0)
  const again = openProjectFile(path, OPTIONS)
  addSite(again, 1)
  expect(again.db.prepare('SELECT si FROM reading').pluck().get()).toBe(0.30000000000000004)
  again.close()
})
