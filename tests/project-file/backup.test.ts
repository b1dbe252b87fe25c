import { chmodSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import fc from 'fast-check'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { backUp, keepBackups, listBackups } from '#electron/project-file/backup.ts'
import { backupFolder } from '#electron/project-file/backup-folder.ts'
import { type Backup, beyondLadder, LADDER } from '#electron/project-file/backup-ladder.ts'
import { checkProject } from '#electron/project-file/check/check.ts'
import { saveCopy } from '#electron/project-file/copy.ts'
import { openProjectFile } from '#electron/project-file/open.ts'
import { ProblemError } from '#electron/project-file/problem.ts'
import type { ProjectFile } from '#electron/project-file/project-file.ts'
import { sentenceOf } from './failure.ts'
import { makeSite, OPTIONS, recordReading, type Site, temporaryFolder } from './site.ts'

const HOUR = 3_600_000
const DAY = 24 * HOUR
const START = Date.parse('2026-03-02T08:00:00.000Z')
let folder: ReturnType<typeof temporaryFolder>
let path: string
let file: ProjectFile
let site: Site
let nowMs: number
const options = { clock: () => nowMs, uuid: OPTIONS.uuid }

beforeEach(() => {
  folder = temporaryFolder()
  path = join(folder.path, 'Hall.facegrid')
  nowMs = START
  const made = makeSite(path, 100)
  file = made.file
  site = made.site
})
afterEach(() => {
  file.close()
  folder.remove()
})

const copiesOf = (opened: ProjectFile) => opened.db.prepare('SELECT si FROM reading ORDER BY id').pluck().all()
async function refusalOf(work: Promise<unknown>) {
  const error = await work.then(
    () => null,
    (caught: unknown) => caught,
  )
  if (error instanceof ProblemError) return error.failure
  throw new Error(`not refused: ${String(error)}`)
}

describe('a backup', () => {
  it('is a whole project at rest, named after its time and the head of its trail', async () => {
    recordReading(file, site, 1, 0.45)
    const made = await backUp(file, options)
    expect(readdirSync(backupFolder(path))).toEqual([expect.stringMatching(/^Hall 2026-03-02 08-00-00Z [0-9a-f]{12}\.facegrid$/)])
    const backup = openProjectFile(made?.path ?? '', OPTIONS)
    expect(copiesOf(backup)).toEqual([0.45])
    expect(backup.notices).toEqual([])
    expect(checkProject(backup)?.every(({ kind }) => kind === 'ok')).toBe(true)
    backup.close()
  })

  it('is not made again while nothing was recorded', async () => {
    await backUp(file, options)
    nowMs += HOUR
    expect(await backUp(file, options)).toBeNull()
    recordReading(file, site, 1, 0.45)
    expect(await backUp(file, options)).not.toBeNull()
    expect(listBackups(path)).toHaveLength(2)
  })

  it('opens for reading only and says what to do, because it is removed in time', async () => {
    const made = await backUp(file, options)
    const backup = openProjectFile(made?.path ?? '', OPTIONS)
    expect(backup.readOnly).toBe(true)
    expect(backup.readOnlyBecause && sentenceOf(backup.readOnlyBecause)).toMatch(/automatic backup.*save a copy in another folder/)
    backup.close()
    expect(readdirSync(backupFolder(path))).toHaveLength(1)
  })

  it('is thinned out beside a folder that a backup opened for writing once left', async () => {
    const left = join(backupFolder(path), 'Hall 2026-03-01 08-00-00Z 0123456789ab.facegrid-backups')
    mkdirSync(left, { recursive: true })
    for (let hour = 0; hour < 8; hour += 1) {
      recordReading(file, site, hour + 1, 0.45)
      nowMs += HOUR
      await backUp(file, options)
    }
    expect(listBackups(path)).toHaveLength(LADDER.recent)
    expect(readdirSync(backupFolder(path))).toContain('Hall 2026-03-01 08-00-00Z 0123456789ab.facegrid-backups')
  })

  it('goes on while readings are recorded, and holds a state that was', async () => {
    for (let point = 1; point <= 50; point += 1) recordReading(file, site, point, point)
    const making = backUp(file, options)
    for (let point = 51; point <= 100; point += 1) {
      recordReading(file, site, point, point)
      await new Promise((resolve) => setImmediate(resolve))
    }
    const made = await making
    const backup = openProjectFile(made?.path ?? '', { ...OPTIONS, readOnly: true })
    const values = copiesOf(backup)
    expect(values).toEqual(values.map((_value, index) => index + 1))
    expect(values.length).toBeGreaterThanOrEqual(50)
    expect(checkProject(backup)?.every(({ kind }) => kind === 'ok')).toBe(true)
    backup.close()
  })

  it('clears away what a crash in the middle of an earlier one left', async () => {
    mkdirSync(backupFolder(path))
    writeFileSync(join(backupFolder(path), '.Hall 2026-03-01 08-00-00Z 0123456789ab.facegrid.1234.new'), 'half')
    writeFileSync(join(backupFolder(path), '.Hall 2026-03-01 08-00-00Z 0123456789ab.facegrid.1234.new-journal'), 'half')
    await backUp(file, options)
    expect(readdirSync(backupFolder(path))).toHaveLength(1)
  })

  it('leaves other files in its folder alone', async () => {
    await backUp(file, options)
    writeFileSync(join(backupFolder(path), 'notes.txt'), 'keep me')
    recordReading(file, site, 1, 0.45)
    nowMs += HOUR
    await backUp(file, { ...options, budgetBytes: 1 })
    expect(readFileSync(join(backupFolder(path), 'notes.txt'), 'utf8')).toBe('keep me')
    expect(listBackups(path)).toHaveLength(1)
  })

  it('is made on a timer; trouble is told and stops nothing', async () => {
    const failures: string[] = []
    const keeper = keepBackups(file, { ...options, everyMs: 20, onFailure: (sentence) => failures.push(sentence.code) })
    await new Promise((resolve) => setTimeout(resolve, 60))
    recordReading(file, site, 1, 0.45)
    nowMs += HOUR
    await new Promise((resolve) => setTimeout(resolve, 200))
    await keeper.stop()
    expect(listBackups(path)).toHaveLength(2)
    expect(failures).toEqual([])

    writeFileSync(join(folder.path, 'Blocked.facegrid-backups'), 'a file where the folder should be')
    const blocked = keepBackups(
      { ...file, path: join(folder.path, 'Blocked.facegrid') },
      { ...options, onFailure: (sentence) => failures.push(sentence.code) },
    )
    await new Promise((resolve) => setTimeout(resolve, 50))
    await blocked.stop()
    expect(failures).toEqual(['file.backup_failed'])
    recordReading(file, site, 2, 0.45)
  })
})

describe('the ladder', () => {
  const at = (ageMs: number, bytes = 1): Backup => ({ name: `${ageMs}`, atMs: START - ageMs, bytes })
  const kept = (backups: Backup[], budget = Number.POSITIVE_INFINITY) => {
    const gone = beyondLadder(backups, START, budget)
    return backups.filter((backup) => !gone.includes(backup))
  }

  it('keeps the last few of a day, then one a day, then one a month', () => {
    const everyHour = Array.from({ length: 400 * 24 }, (_unused, hour) => at(hour * HOUR))
    const ages = kept(everyHour).map((backup) => Number(backup.name) / HOUR)
    expect(ages.slice(0, LADDER.recent)).toEqual([0, 1, 2, 3, 4, 5])
    // Made at 08:00 of 2 March: the newest of each earlier day is that of 23:00, 9 hours before.
    expect(ages.slice(LADDER.recent, LADDER.recent + 3)).toEqual([9, 33, 57])
    const months = new Set(kept(everyHour).map((backup) => new Date(backup.atMs).toISOString().slice(0, 7)))
    // 400 days back from 2 March 2026 is 26 January 2025: twelve months of 2025 and three of 2026.
    expect(months.size).toBe(15)
    expect(ages.length).toBeLessThanOrEqual(LADDER.recent + LADDER.days + LADDER.months)
  })

  it('stays within the budget by letting the oldest go, but keeps the newest in any case', () => {
    const backups = [at(0, 40), at(DAY, 40), at(2 * DAY, 40)]
    expect(kept(backups, 100).map(({ name }) => Number(name) / DAY)).toEqual([0, 1])
    expect(kept(backups, 10).map(({ name }) => Number(name) / DAY)).toEqual([0])
  })

  it('always keeps the newest, is done after one pass, and never exceeds the budget with more than one', () => {
    const ages = fc.uniqueArray(fc.integer({ min: 0, max: 900 * 24 }), { minLength: 1, maxLength: 80 })
    fc.assert(
      fc.property(ages, fc.integer({ min: 1, max: 50 }), fc.integer({ min: 1, max: 500 }), (hours, bytes, budget) => {
        const backups = hours.map((hour) => at(hour * HOUR, bytes))
        const left = kept(backups, budget)
        expect(left).toContainEqual(at(Math.min(...hours) * HOUR, bytes))
        expect(kept(left, budget)).toEqual(left)
        if (left.length > 1) expect(left.length * bytes).toBeLessThanOrEqual(budget)
      }),
    )
  })
})

describe('saving a copy', () => {
  it('writes a whole project at rest beside the open one', async () => {
    recordReading(file, site, 1, 0.45)
    const target = join(folder.path, 'Copy.facegrid')
    const copied = await saveCopy(file, target, 'unique')
    expect(copied.bytes).toBe(readFileSync(target).length)
    const copy = openProjectFile(target, OPTIONS)
    expect(copiesOf(copy)).toEqual([0.45])
    expect(copy.notices).toEqual([])
    copy.close()
    expect(readdirSync(folder.path).filter((name) => name.startsWith('.'))).toEqual([])
  })

  it('can be made of a project that is open for reading only', async () => {
    file.close()
    file = openProjectFile(path, { ...OPTIONS, readOnly: true })
    await saveCopy(file, join(folder.path, 'Copy.facegrid'), 'unique')
    const copy = openProjectFile(join(folder.path, 'Copy.facegrid'), OPTIONS)
    expect(copy.readOnly).toBe(false)
    copy.close()
  })

  it('never overwrites, nor onto itself, nor into nowhere', async () => {
    const taken = join(folder.path, 'Taken.facegrid')
    writeFileSync(taken, 'mine')
    expect((await refusalOf(saveCopy(file, taken, 'u'))).kind).toBe('already_exists')
    expect(readFileSync(taken, 'utf8')).toBe('mine')
    expect((await refusalOf(saveCopy(file, path, 'u'))).sentence.code).toBe('file.same_file')
    expect((await refusalOf(saveCopy(file, join(folder.path, 'gone', 'x.facegrid'), 'u'))).kind).toBe('not_found')
  })

  it('says that the folder may not be written', async () => {
    const target = join(folder.path, 'locked')
    mkdirSync(target)
    chmodSync(folder.path, 0o777)
    chmodSync(target, 0o555)
    const administrator = process.getuid?.() === 0
    if (administrator) process.seteuid?.(65534)
    try {
      const failure = await refusalOf(saveCopy(file, join(target, 'x.facegrid'), 'u'))
      expect(failure).toMatchObject({ kind: 'read_only', sentence: { code: 'file.folder_not_writable' } })
    } finally {
      if (administrator) process.seteuid?.(0)
    }
    expect(readdirSync(target)).toEqual([])
  })
})
