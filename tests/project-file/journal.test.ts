import { existsSync, statfsSync } from 'node:fs'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { mayBeNetwork } from '#electron/project-file/network.ts'
import { createProjectFile, openProjectFile } from '#electron/project-file/open.ts'
import { APPLICATION_ID, expectPragma, setPragma } from '#electron/project-file/pragmas.ts'
import { STEPS } from '#migrations/index.ts'
import { addSite, makeSite, OPTIONS, recordReading, temporaryFolder } from './site.ts'

// linux/magic.h
const NFS = 0x6969
const EXT4 = 0xef53

let folder: ReturnType<typeof temporaryFolder>
let path: string
beforeEach(() => {
  folder = temporaryFolder()
  path = join(folder.path, 'Hall.facegrid')
})
afterEach(() => folder.remove())

const pragmas = (db: Database.Database, names: string[]) =>
  Object.fromEntries(names.map((name) => [name, db.pragma(name, { simple: true })]))

describe('the settings of a connection', () => {
  it('for writing on a local disk', () => {
    const file = createProjectFile(path, { ...OPTIONS, fileSystemType: () => EXT4 })
    expect(
      pragmas(file.db, [
        'application_id',
        'user_version',
        'journal_mode',
        'synchronous',
        'foreign_keys',
        'trusted_schema',
        'cell_size_check',
        'recursive_triggers',
      ]),
    ).toEqual({
      application_id: APPLICATION_ID,
      user_version: STEPS.length,
      journal_mode: 'wal',
      synchronous: 2,
      foreign_keys: 1,
      trusted_schema: 0,
      cell_size_check: 1,
      recursive_triggers: 1,
    })
    expect(file.journal).toBe('wal')
    file.close()
  })

  it('on a network drive: rollback journal, folder synced too, nobody else beside', () => {
    createProjectFile(path, OPTIONS).close()
    const file = openProjectFile(path, { ...OPTIONS, fileSystemType: () => NFS })
    expect(pragmas(file.db, ['journal_mode', 'synchronous', 'locking_mode'])).toEqual({
      journal_mode: 'delete',
      synchronous: 3,
      locking_mode: 'exclusive',
    })
    expect(file.notices.map((notice) => notice.code)).toEqual(['file.network'])
    const site = addSite(file, 2)
    recordReading(file, site, 1, 0.4)
    expect(existsSync(`${path}-wal`)).toBe(false)
    file.close()
    const again = openProjectFile(path, OPTIONS)
    expect(again.db.prepare('SELECT si FROM reading').pluck().all()).toEqual([0.4])
    again.close()
  })

  it('stops when a pragma is misspelt or refused', () => {
    const db = new Database(':memory:')
    expect(() => setPragma(db, 'foreing_keys', 'ON', 1)).toThrow('foreing_keys')
    // A database in memory has no write-ahead log and says so instead of failing.
    expect(() => setPragma(db, 'journal_mode', 'WAL', 'wal')).toThrow('reads memory')
    expect(() => expectPragma(db, 'foreign_keys', 0)).toThrow('foreign_keys')
    db.close()
  })
})

describe('what may be a network drive', () => {
  it.each([
    [NFS, true],
    [0xff534d42 - 2 ** 32, true], // CIFS as a sign-extended 32-bit number
    [0x01021997, true],
    [EXT4, false],
    [0x9123683e, false], // btrfs
    [0x01021994, false], // tmpfs
  ])('file system %i on Linux: %s', (type, network) => {
    expect(mayBeNetwork('/data/site', 'linux', () => type)).toBe(network)
  })

  it('tells Windows paths by their form, macOS mounts by their place', () => {
    const never = () => EXT4
    expect(mayBeNetwork('\\\\server\\share\\site', 'win32', never)).toBe(true)
    expect(mayBeNetwork('\\\\?\\UNC\\server\\share', 'win32', never)).toBe(true)
    expect(mayBeNetwork('C:\\Sites', 'win32', never)).toBe(false)
    expect(mayBeNetwork('\\\\?\\C:\\Sites', 'win32', never)).toBe(false)
    expect(mayBeNetwork('/Volumes/share', 'darwin', never)).toBe(true)
    expect(mayBeNetwork('/Users/someone', 'darwin', never)).toBe(false)
  })

  it('asks the real file system where none is handed in', () => {
    expect(mayBeNetwork(folder.path, 'linux')).toBe(mayBeNetwork(folder.path, 'linux', () => statfsSync(folder.path).type))
  })
})

describe('the schema', () => {
  it('has strict tables only', () => {
    const { file } = makeSite(path)
    const loose = file.db
      .prepare(
        `SELECT name FROM pragma_table_list WHERE schema = 'main' AND type = 'table' AND strict = 0 AND name NOT LIKE 'sqlite\\_%' ESCAPE '\\'`,
      )
      .all()
    expect(loose).toEqual([])
    file.close()
  })

  it('refuses to overwrite or delete what was measured, recorded or signed', () => {
    const { file, site } = makeSite(path)
    recordReading(file, site, 1, 0.45)
    const attempts = [
      'UPDATE reading SET si = 0.5',
      'DELETE FROM reading',
      `UPDATE audit_entry SET body = '{}'`,
      'DELETE FROM audit_entry',
      `UPDATE entity_revision SET body = '{}'`,
      'DELETE FROM entity_revision',
      `UPDATE segment SET opened_by = 'x'`,
      `INSERT OR REPLACE INTO reading SELECT id, segment_id, number, run_id, location_id, sample, quantity, 9.9, typed, unit, basis,
         instrument_id, person_id, at_ms, flags, note, entry_id, void_entry_id, void_reason, replaced_by FROM reading`,
    ]
    for (const attempt of attempts) expect(() => file.db.exec(attempt), attempt).toThrow(/never|frozen/)
    expect(file.db.prepare('SELECT si FROM reading').pluck().all()).toEqual([0.45])
    file.close()
  })

  it('has an index for every link to an entry, so that a new entry never reads a whole table', () => {
    const { file } = makeSite(path)
    const links = file.db
      .prepare<[], { child: string; parent: string; column: string }>(
        `SELECT m.name AS child, f."table" AS parent, f."from" AS "column" FROM sqlite_schema m, pragma_foreign_key_list(m.name) f
         WHERE m.type = 'table' AND (f."table" IN ('audit_entry', 'segment') OR f."table" = m.name AND m.name = 'reading')`,
      )
      .all()
    expect(links.length).toBeGreaterThanOrEqual(8)
    for (const { child, parent, column } of links) {
      const plan = file.db.prepare<[], { detail: string }>(`EXPLAIN QUERY PLAN SELECT 1 FROM ${child} WHERE ${column} = 1`).all()
      expect(plan.map(({ detail }) => detail).join(), `${child}.${column} to ${parent}`).toMatch(/^SEARCH/)
    }
    file.close()
  })

  it('holds one reading in force per point and sample', () => {
    const { file, site } = makeSite(path)
    recordReading(file, site, 1, 0.45)
    expect(() => recordReading(file, site, 1, 0.46)).toThrow(/UNIQUE/)
    file.close()
  })

  it.each([
    [
      'readings in force of a run',
      'SELECT si FROM reading WHERE run_id = 1 AND void_entry_id IS NULL',
      /USING INDEX reading_in_force \(run_id=\?\)/,
    ],
    [
      'voided readings of a run',
      'SELECT si FROM reading WHERE run_id = 1 AND void_entry_id IS NOT NULL',
      /USING INDEX reading_voided \(run_id=\?\)/,
    ],
    [
      'points of a run with their readings',
      `SELECT l.number, r.si FROM location l LEFT JOIN reading r ON r.run_id = l.run_id AND r.location_id = l.id AND r.void_entry_id IS NULL
       WHERE l.run_id = 1 ORDER BY l.number`,
      /reading_in_force \(run_id=\? AND location_id=\?\)/,
    ],
    [
      'a reading by its identity',
      'SELECT si FROM reading WHERE segment_id = 1 AND number = 1',
      /sqlite_autoindex_reading_1 \(segment_id=\? AND number=\?\)/,
    ],
    [
      'one person’s commands of a run',
      `SELECT id FROM audit_entry WHERE scope = x'00' AND person_uuid = x'00' ORDER BY id DESC`,
      /audit_entry_by_scope/,
    ],
  ])('finds %s by an index, never by reading the whole table', (_what, sql, index) => {
    const { file } = makeSite(path)
    const plan = file.db
      .prepare<[], { detail: string }>(`EXPLAIN QUERY PLAN ${sql}`)
      .all()
      .map(({ detail }) => detail)
    expect(plan.join('\n')).toMatch(index)
    expect(plan.filter((line) => /^SCAN|TEMP B-TREE/.test(line))).toEqual([])
    file.close()
  })
})
