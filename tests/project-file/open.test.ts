import { chmodSync, copyFileSync, linkSync, mkdirSync, readdirSync, readFileSync, symlinkSync, truncateSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { createProjectFile, openProjectFile } from '#electron/project-file/open.ts'
import { APPLICATION_ID } from '#electron/project-file/pragmas.ts'
import { refusal, sentenceOf } from './failure.ts'
import { makeSite, OPTIONS, recordReading, temporaryFolder } from './site.ts'
import { snapshot } from './snapshot.ts'
import { asUnprivileged } from './unprivileged.ts'

let folder: ReturnType<typeof temporaryFolder>
let path: string
beforeEach(() => {
  folder = temporaryFolder()
  path = join(folder.path, 'Hall.facegrid')
})
afterEach(() => folder.remove())

/** Leaves the folder as a crash would: log beside the file, nobody holding it. */
function crashed(): void {
  const { file, site } = makeSite(path)
  recordReading(file, site, 1, 0.45)
  const alive = ['', '-wal', '-shm'].map((side) => [side, readFileSync(`${path}${side}`)] as const)
  file.close()
  for (const [side, bytes] of alive) writeFileSync(`${path}${side}`, bytes)
}

function refusedUnchanged(open = () => openProjectFile(path, OPTIONS)) {
  const before = snapshot(folder.path)
  const failure = refusal(open)
  expect(snapshot(folder.path)).toEqual(before)
  return { kind: failure.kind, said: sentenceOf(failure.sentence) }
}

describe('creating', () => {
  it('leaves exactly one file at rest, marked as ours', () => {
    createProjectFile(path, OPTIONS).close()
    expect(readdirSync(folder.path)).toEqual(['Hall.facegrid'])
    const bytes = readFileSync(path)
    expect(bytes.readUInt32BE(68)).toBe(APPLICATION_ID)
    // SQLite file format, offsets 18 and 19: 1 is rollback journal, so that any copy of the file is whole.
    expect([bytes[18], bytes[19]]).toEqual([1, 1])
  })

  it('never overwrites', () => {
    writeFileSync(path, 'somebody else’s notes')
    const { kind, said } = refusedUnchanged(() => createProjectFile(path, OPTIONS))
    expect(kind).toBe('already_exists')
    expect(said).toContain('Hall.facegrid is there already')
  })

  it('refuses a folder that is not there', () => {
    const { kind } = refusedUnchanged(() => createProjectFile(join(folder.path, 'gone', 'Hall.facegrid'), OPTIONS))
    expect(kind).toBe('not_found')
  })

  it('refuses a folder that may not be written, and leaves nothing in it', () => {
    chmodSync(folder.path, 0o555)
    const { kind, said } = asUnprivileged(folder.path, () => refusedUnchanged(() => createProjectFile(path, OPTIONS)))
    expect(kind).toBe('read_only')
    expect(said).toContain('Nothing may be written in the folder')
  })
})

describe('refusing, with nothing changed on disk', () => {
  it('a file that is not there', () => {
    expect(refusedUnchanged().kind).toBe('not_found')
  })

  it('a folder', () => {
    mkdirSync(path)
    expect(refusedUnchanged()).toMatchObject({ kind: 'not_a_project', said: expect.stringContaining('is a folder') })
  })

  it('an empty file', () => {
    writeFileSync(path, '')
    expect(refusedUnchanged()).toMatchObject({ kind: 'not_a_project', said: expect.stringContaining('0 bytes') })
  })

  it('text with our ending', () => {
    writeFileSync(path, 'room;filter;velocity\n'.repeat(100))
    expect(refusedUnchanged().kind).toBe('not_a_project')
  })

  it('another program’s database', () => {
    new Database(path).exec('CREATE TABLE t (x)').close()
    expect(refusedUnchanged().kind).toBe('not_a_project')
  })

  it('a file of a newer step, naming both steps', () => {
    createProjectFile(path, OPTIONS).close()
    const db = new Database(path)
    db.pragma('user_version = 9001')
    db.close()
    const { kind, said } = refusedUnchanged()
    expect(kind).toBe('newer_file')
    expect(said).toContain('9001')
    expect(said).toContain('Update the program')
  })

  it('a file that was cut short', () => {
    makeSite(path).file.close()
    truncateSync(path, 40_960)
    expect(refusedUnchanged()).toMatchObject({ kind: 'damaged_file', said: expect.stringContaining('40960') })
  })

  it('a file whose inner structure was written over', () => {
    makeSite(path).file.close()
    const bytes = readFileSync(path)
    bytes.fill(0xa5, 100, 4096)
    writeFileSync(path, bytes)
    expect(refusedUnchanged()).toMatchObject({ kind: 'damaged_file', said: expect.stringContaining('backups') })
  })

  it('a file from which the rule against changing entries was taken out', () => {
    makeSite(path).file.close()
    const db = new Database(path)
    db.exec('DROP TRIGGER audit_entry_kept')
    db.close()
    expect(refusedUnchanged()).toMatchObject({ kind: 'damaged_file', said: expect.stringContaining('audit_entry_kept') })
  })

  it('a file that one may not read', () => {
    createProjectFile(path, OPTIONS).close()
    chmodSync(path, 0o000)
    chmodSync(folder.path, 0o777)
    expect(asUnprivileged(folder.path, () => refusal(() => openProjectFile(path, OPTIONS)))).toMatchObject({
      kind: 'refused',
      sentence: { code: 'file.not_readable' },
    })
  })

  it('a second opening in the same process, by another name too', () => {
    const file = createProjectFile(path, OPTIONS)
    const alias = join(folder.path, 'alias.facegrid')
    symlinkSync(path, alias)
    expect(refusal(() => openProjectFile(path, OPTIONS)).sentence.code).toBe('file.open_here')
    expect(refusal(() => openProjectFile(alias, OPTIONS)).sentence.code).toBe('file.open_here')
    file.close()
    openProjectFile(alias, OPTIONS).close()
  })
})

describe('a crash before', () => {
  it('is recovered, told, and nothing recorded is lost', () => {
    crashed()
    const file = openProjectFile(path, OPTIONS)
    expect(file.notices.map((notice) => notice.code)).toEqual(['file.recovered'])
    expect(file.db.prepare('SELECT si FROM reading').pluck().all()).toEqual([0.45])
    file.close()
    expect(readdirSync(folder.path)).toEqual(['Hall.facegrid'])
  })

  it('is recovered for a reader too, where that can be done', () => {
    crashed()
    const file = openProjectFile(path, { ...OPTIONS, readOnly: true })
    expect(file.db.prepare('SELECT si FROM reading').pluck().all()).toEqual([0.45])
    expect(file.readOnly).toBe(true)
    file.close()
  })

  it('in a folder that may not be written is refused with a sentence', () => {
    crashed()
    chmodSync(folder.path, 0o555)
    const { kind, said } = asUnprivileged(folder.path, () => refusedUnchanged())
    expect(kind).toBe('read_only')
    expect(said).toContain('Hall.facegrid-wal')
  })

  it('that left a damaged log and file is refused, and neither is touched', () => {
    crashed()
    const bytes = readFileSync(path)
    bytes.fill(0x5a, 100, 4096)
    writeFileSync(path, bytes)
    const log = readFileSync(`${path}-wal`)
    log.fill(0x5a, 32)
    writeFileSync(`${path}-wal`, log)
    expect(refusal(() => openProjectFile(path, OPTIONS)).kind).toBe('damaged_file')
    expect(readFileSync(path)).toEqual(bytes)
    expect(readFileSync(`${path}-wal`)).toEqual(log)
  })
})

describe('a file that was copied alone while it was open', () => {
  it.each([true, false])(
    'says that the last changes may be missing, and once put right says no more (for reading only: %s)',
    (readOnly) => {
      const { file, site } = makeSite(path)
      recordReading(file, site, 1, 0.45)
      const copy = join(folder.path, 'Copy.facegrid')
      copyFileSync(path, copy)
      file.close()
      const opened = openProjectFile(copy, { ...OPTIONS, readOnly })
      expect(opened.notices.map(sentenceOf)).toEqual([
        expect.stringMatching(/last changes may be missing.*close it first or use Save a copy/),
      ])
      opened.close()
      const again = openProjectFile(copy, OPTIONS)
      again.close()
      const settled = openProjectFile(copy, OPTIONS)
      expect(settled.notices).toEqual([])
      settled.close()
    },
  )
})

describe('reading only, and saying why', () => {
  it('when asked', () => {
    createProjectFile(path, OPTIONS).close()
    const before = snapshot(folder.path)
    const file = openProjectFile(path, { ...OPTIONS, readOnly: true })
    expect(file.segment).toBeNull()
    expect(() => file.db.exec('DELETE FROM result_cache')).toThrow(/readonly|read-only|query_only/i)
    file.close()
    expect(snapshot(folder.path)).toEqual(before)
  })

  it('a write-protected file', () => {
    createProjectFile(path, OPTIONS).close()
    chmodSync(path, 0o444)
    chmodSync(folder.path, 0o777)
    const before = snapshot(folder.path)
    asUnprivileged(folder.path, () => {
      const file = openProjectFile(path, OPTIONS)
      expect(file.readOnlyBecause && sentenceOf(file.readOnlyBecause)).toContain('write-protected')
      file.close()
    })
    expect(snapshot(folder.path)).toEqual(before)
  })

  it('a folder that may not be written', () => {
    createProjectFile(path, OPTIONS).close()
    chmodSync(path, 0o666)
    chmodSync(folder.path, 0o555)
    const before = snapshot(folder.path)
    asUnprivileged(folder.path, () => {
      const file = openProjectFile(path, OPTIONS)
      expect(file.readOnlyBecause?.code).toBe('file.read_only_folder')
      file.close()
    })
    expect(snapshot(folder.path)).toEqual(before)
  })

  it('such a folder, and a file that a reader elsewhere kept in write-ahead mode', () => {
    createProjectFile(path, OPTIONS).close()
    const db = new Database(path)
    db.pragma('journal_mode = WAL')
    db.close()
    chmodSync(path, 0o666)
    chmodSync(folder.path, 0o555)
    const before = snapshot(folder.path)
    asUnprivileged(folder.path, () => {
      const file = openProjectFile(path, OPTIONS)
      expect(file.readOnlyBecause?.code).toBe('file.read_only_folder')
      expect(file.db.prepare('SELECT count(*) FROM entity').pluck().get()).toBe(0)
      file.close()
    })
    expect(snapshot(folder.path)).toEqual(before)
  })

  it('a file with a second name on the disk', () => {
    createProjectFile(path, OPTIONS).close()
    linkSync(path, join(folder.path, 'Second.facegrid'))
    const file = openProjectFile(path, OPTIONS)
    expect(file.readOnlyBecause?.code).toBe('file.read_only_linked')
    file.close()
  })
})

describe('closing', () => {
  it('goes back to one file at rest that any copy of is whole', () => {
    const { file, site } = makeSite(path)
    recordReading(file, site, 1, 0.44)
    file.close()
    file.close()
    expect(readdirSync(folder.path)).toEqual(['Hall.facegrid'])
    const copy = join(folder.path, 'Copy.facegrid')
    copyFileSync(path, copy)
    const again = openProjectFile(copy, OPTIONS)
    expect(again.notices).toEqual([])
    expect(again.db.prepare('SELECT si FROM reading').pluck().all()).toEqual([0.44])
    again.close()
  })

  it('tolerates a reader elsewhere, and the next opening tidies up', () => {
    const { file, site } = makeSite(path)
    recordReading(file, site, 1, 0.44)
    const reader = new Database(path, { readonly: true })
    reader.exec('BEGIN')
    reader.prepare('SELECT count(*) FROM reading').get()
    file.close()
    reader.close()
    const again = openProjectFile(path, OPTIONS)
    expect(again.db.prepare('SELECT si FROM reading').pluck().all()).toEqual([0.44])
    again.close()
    expect(readdirSync(folder.path)).toEqual(['Hall.facegrid'])
  })
})
