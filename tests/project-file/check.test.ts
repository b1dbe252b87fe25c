import { createHash } from 'node:crypto'
import { readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { v7 } from 'uuid'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { type CheckOptions, checkProject } from '#electron/project-file/check/check.ts'
import { openProjectFile } from '#electron/project-file/open.ts'
import { openForCheck } from '#electron/project-file/read-only.ts'
import { appendEntry } from '#electron/project-file/trail.ts'
import { uuidBytes } from '#electron/project-file/uuid-bytes.ts'
import { sentenceOf } from './failure.ts'
import { makeSite, OPTIONS, recordReading, type Site, temporaryFolder } from './site.ts'

let folder: ReturnType<typeof temporaryFolder>
let path: string
let site: Site

/** A project with something of everything that a check looks at. */
beforeEach(() => {
  folder = temporaryFolder()
  path = join(folder.path, 'Hall.facegrid')
  const made = makeSite(path)
  site = made.site
  const { file } = made
  for (let point = 1; point <= 9; point += 1) recordReading(file, site, point, 0.4 + point / 100)
  const content = Buffer.from('certificate of the probe')
  const hash = createHash('sha256').update(content).digest()
  const result = '{"calculationVersion":1,"kind":"result"}'
  const resultHash = createHash('sha256').update(result).digest()
  const attachmentId = v7()
  const entry = (changes: Parameters<typeof appendEntry>[1]['changes'], command: 'attach' | 'run.sign' | 'reading.void') =>
    appendEntry(file, {
      commandId: v7(),
      command,
      scope: site.runId,
      personId: site.personId,
      at: '2026-03-02T08:15:00.000Z',
      zone: 'Europe/Vienna',
      reason: '',
      undoes: null,
      changes,
    }).entryId
  file.db
    .transaction(() => {
      const attached = entry(
        [
          {
            what: 'attachment',
            id: attachmentId,
            sha256: hash.toString('hex'),
            name: 'probe.txt',
            bytes: content.length,
            ownerId: site.instrumentId,
          },
        ],
        'attach',
      )
      file.db
        .prepare('INSERT INTO attachment_chunk (sha256, number, data) VALUES (?, 0, ?), (?, 1, ?)')
        .run(hash, content.subarray(0, 9), hash, content.subarray(9))
      file.db
        .prepare('INSERT INTO attachment (uuid, owner_id, sha256, name, media_type, bytes, entry_id) VALUES (?, ?, ?, ?, ?, ?, ?)')
        .run(uuidBytes(attachmentId), site.instrumentRow, hash, 'probe.txt', 'text/plain', content.length, attached)
      const signed = entry(
        [{ what: 'results', runId: site.runId, sha256: resultHash.toString('hex'), rows: 1, meaning: 'performed' }],
        'run.sign',
      )
      file.db
        .prepare('INSERT INTO signed_result (run_id, entry_id, calculation_version, body, sha256) VALUES (?, ?, 1, ?, ?)')
        .run(site.runRow, signed, result, resultHash)
      const readingId = `${file.segment?.uuid}:1`
      const voided = entry([{ what: 'void', runId: site.runId, readingId, reason: 'wrong point', replacedBy: null }], 'reading.void')
      file.db.prepare(`UPDATE reading SET void_entry_id = ?, void_reason = 'wrong point' WHERE number = 1`).run(voided)
    })
    .immediate()
  file.close()
})
afterEach(() => folder.remove())

function checked(options: CheckOptions = {}) {
  const file = openForCheck(path)
  try {
    const findings = checkProject(file, options)
    for (const finding of findings ?? []) sentenceOf(finding.sentence)
    return findings
  } finally {
    file.close()
  }
}

const problems = () => (checked() ?? []).filter(({ kind }) => kind === 'problem').map(({ sentence }) => sentence.code)

/** Changes the file behind the program's back, past the rules in its schema, and puts those rules back. */
function tamper(...statements: string[]): void {
  const db = new Database(path)
  const triggers = db.prepare<[], { name: string; sql: string }>(`SELECT name, sql FROM sqlite_schema WHERE type = 'trigger'`).all()
  for (const { name } of triggers) db.exec(`DROP TRIGGER ${name}`)
  db.pragma('foreign_keys = OFF')
  for (const statement of statements) db.exec(statement)
  for (const { sql } of triggers) db.exec(sql)
  db.close()
}

describe('a sound project', () => {
  it('is found sound in every part, in words', () => {
    const findings = checked() ?? []
    expect(findings.map(({ kind }) => kind)).toEqual(findings.map(() => 'ok'))
    expect(findings.map(({ sentence }) => sentence.code)).toEqual([
      'check.storage_ok',
      'check.trail_ok',
      'check.entities_ok',
      'check.pins_ok',
      'check.points_ok',
      'check.readings_ok',
      'check.results_ok',
      'check.attachments_ok',
    ])
    const readings = findings.find(({ sentence }) => sentence.code === 'check.readings_ok')
    expect(readings && sentenceOf(readings.sentence)).toBe('9 readings (1 of them voided) agree with the audit trail, value by value.')
  })

  it('stays sound when more is recorded in a later opening', () => {
    const file = openProjectFile(path, OPTIONS)
    recordReading(file, site, 2, 0.5, 2)
    expect(checkProject(file)?.every(({ kind }) => kind === 'ok')).toBe(true)
    file.close()
  })

  it('tells how far it is, and stops when asked', () => {
    const shares: number[] = []
    expect(checked({ progress: (share) => shares.push(share) })).not.toBeNull()
    expect(shares).toEqual(shares.toSorted((a, b) => a - b))
    expect(shares.at(-1)).toBe(1)
    expect(checked({ cancelled: () => true })).toBeNull()
  })
})

describe('what was changed behind the program’s back', () => {
  it.each([
    ['a reading’s value', `UPDATE reading SET si = 0.45 WHERE number = 3`, 'check.reading_differs'],
    ['a reading’s text as typed', `UPDATE reading SET typed = '0.99' WHERE number = 3`, 'check.reading_differs'],
    ['a reading’s time', `UPDATE reading SET at_ms = at_ms - 1 WHERE number = 3`, 'check.reading_differs'],
    ['a reading taken out', `DELETE FROM reading WHERE number = 9`, 'check.reading_lost'],
    [
      'a reading put in',
      `INSERT INTO reading (segment_id, number, run_id, location_id, sample, quantity, si, typed, unit, basis, instrument_id, person_id, at_ms, entry_id)
       SELECT segment_id, 100, run_id, location_id, 7, quantity, si, typed, unit, basis, instrument_id, person_id, at_ms, entry_id FROM reading WHERE number = 3`,
      'check.reading_unaudited',
    ],
    ['a void taken back', `UPDATE reading SET void_entry_id = NULL, void_reason = NULL WHERE number = 1`, 'check.void_differs'],
    ['a void without an entry', `UPDATE reading SET void_entry_id = entry_id, void_reason = 'x' WHERE number = 5`, 'check.voids_unaudited'],
    [
      'a filter’s area',
      `UPDATE entity_revision SET body = json_set(body, '$.effectiveArea.si', 0.7) WHERE body ->> '$.tag' = 'F-1'`,
      'check.revision_unaudited',
    ],
    [
      'a revision put in',
      `INSERT INTO entity_revision SELECT entity_id, 2, body, entry_id FROM entity_revision WHERE body ->> '$.tag' = 'F-1'`,
      'check.revision_gap',
    ],
    ['a revision taken out', `DELETE FROM entity_revision WHERE body ->> '$.tag' = 'F-1'`, 'check.revision_lost'],
    ['a body of the wrong form', `UPDATE entity_revision SET body = '{"tag":"F-1"}' WHERE body ->> '$.tag' = 'F-1'`, 'check.body_invalid'],
    ['an item under the wrong parent', `UPDATE entity SET parent_id = NULL WHERE kind = 'terminal'`, 'check.parent_wrong'],
    ['how far across a point lies', `UPDATE location SET offset_x_m = 0.1 WHERE number = 4`, 'check.point_differs'],
    ['how far along a point lies', `UPDATE location SET offset_y_m = -0.1 WHERE number = 4`, 'check.point_differs'],
    ['the area of a point', `UPDATE location SET cell_area_m2 = 0.09 WHERE number = 4`, 'check.point_differs'],
    ['the row of a point', `UPDATE location SET row_number = 2 WHERE number = 4`, 'check.point_differs'],
    ['the filter of a point', `UPDATE location SET terminal_id = NULL WHERE number = 4`, 'check.point_differs'],
    ['a point taken out', `DELETE FROM location WHERE number = 9`, 'check.point_lost'],
    [
      'a point put in',
      `INSERT INTO location (run_id, number, kind, terminal_id, row_number, column_number, offset_x_m, offset_y_m, cell_area_m2)
       SELECT run_id, 10, kind, terminal_id, 1, 10, 0, 0, 0.08 FROM location WHERE number = 9`,
      'check.point_unaudited',
    ],
    ['a point taken out of use', `UPDATE location SET retired = 1 WHERE number = 4`, 'check.point_use_differs'],
    ['the revision that a run uses', `UPDATE run_pin SET revision = 2`, 'check.pin_differs'],
    ['a pin taken out', `DELETE FROM run_pin WHERE entity_id = (SELECT id FROM entity WHERE kind = 'terminal')`, 'check.pin_lost'],
    [
      'a pin put in',
      `INSERT INTO run_pin SELECT run_id, (SELECT id FROM entity WHERE kind = 'instrument'), 1 FROM run_pin LIMIT 1`,
      'check.pin_unaudited',
    ],
    ['an entry’s words', `UPDATE audit_entry SET body = json_set(body, '$.reason', 'because') WHERE number = 5`, 'check.entry_changed'],
    ['an entry’s person column', `UPDATE audit_entry SET person_uuid = zeroblob(16) WHERE number = 5`, 'check.entry_columns'],
    ['an entry taken out', `DELETE FROM audit_entry WHERE number = 12`, 'check.entry_missing'],
    ['who opened the project', `UPDATE segment SET opened_by = 'Somebody Else'`, 'check.segment_changed'],
    ['a made-up origin', `UPDATE segment SET grew_from = '["${'0'.repeat(64)}"]'`, 'check.segment_origin_missing'],
    ['a signed result', `UPDATE signed_result SET body = '{"kind":"better"}'`, 'check.result_changed'],
    ['a signed result taken out', `DELETE FROM signed_result`, 'check.result_changed'],
    ['an attachment’s content', `UPDATE attachment_chunk SET data = x'00' WHERE number = 1`, 'check.attachment_changed'],
    ['an attachment taken out', `DELETE FROM attachment`, 'check.attachment_changed'],
    ['a broken link', `DELETE FROM location WHERE number = 4`, 'check.link_broken'],
    ['a table put in', `CREATE TABLE extra (x TEXT) STRICT`, 'check.structure_differs'],
  ])('%s is found', (_what, statement, code) => {
    tamper(statement)
    expect(problems()).toContain(code)
  })

  it('a forged entry with a hash of its own, because the next one no longer fits', () => {
    const db = new Database(path, { readonly: true })
    const before = db.prepare<[number], { hash: Buffer; body: string }>('SELECT hash, body FROM audit_entry WHERE number = ?')
    const body = (before.get(10)?.body ?? '').replace('"point":2', '"point":5')
    expect(body).toContain('"point":5')
    const hash = createHash('sha256')
      .update(before.get(9)?.hash ?? '')
      .update(body)
      .digest('hex')
    db.close()
    tamper(`UPDATE audit_entry SET body = '${body}', hash = x'${hash}' WHERE number = 10`)
    expect(problems()).toContain('check.entry_changed')
  })

  it('of one kind, tells the first twenty and counts the rest', () => {
    const file = openProjectFile(path, OPTIONS)
    for (let sample = 2; sample <= 30; sample += 1) recordReading(file, site, 1, 0.5, sample)
    file.close()
    tamper(`UPDATE reading SET si = si + 1 WHERE sample > 1`)
    const found = (checked() ?? []).filter(({ kind }) => kind === 'problem')
    expect(found.filter(({ sentence }) => sentence.code === 'check.reading_differs')).toHaveLength(20)
    expect(found.at(-1)?.sentence).toEqual({ code: 'check.and_more', params: { more: 9 } })
  })
})

it('finds an index that no longer fits its table, which no opening would notice', () => {
  const change = (statement: string) => {
    const db = new Database(path)
    db.unsafeMode(true)
    db.pragma('writable_schema = ON')
    db.exec(statement)
    db.close()
  }
  const db = new Database(path, { readonly: true })
  const index = db
    .prepare<[], { rootpage: number; sql: string }>(`SELECT rootpage, sql FROM sqlite_schema WHERE name = 'reading_in_force'`)
    .get()
  db.close()
  change(`DELETE FROM sqlite_schema WHERE name IN ('reading_in_force', 'reading_kept')`)
  change('UPDATE reading SET sample = 9 WHERE number = 3')
  change(`INSERT INTO sqlite_schema VALUES ('index', 'reading_in_force', 'reading', ${index?.rootpage}, '${index?.sql}')`)
  expect(problems()).toContain('check.storage_damaged')
})

it('answers in words even where the file can hardly be read', () => {
  const bytes = readFileSync(path)
  bytes.fill(0xa5, 5 * 4096)
  writeFileSync(path, bytes)
  const findings = checked() ?? []
  expect(findings.map(({ kind }) => kind)).toContain('problem')
  expect(findings.map(({ sentence }) => sentence.code)).toContain('check.storage_damaged')
})
