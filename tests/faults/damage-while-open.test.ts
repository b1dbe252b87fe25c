import { randomBytes } from 'node:crypto'
import { mkdirSync, mkdtempSync, readFileSync, realpathSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { v7 } from 'uuid'
import { afterEach, beforeEach, expect, it } from 'vitest'
import type { EntityBody } from '#core/model/entities.ts'
import { listBackups } from '#electron/project-file/backup.ts'
import { backupFolder } from '#electron/project-file/backup-folder.ts'
import { sentenceOf } from '#tests/project-file/failure.ts'
import { buildSite, type House, startHouse } from '#tests/services/bench-site.ts'
import { failureOf } from '#tests/services/failure.ts'

/** A project made in a first house, and a second one of the kind that people sit at, which looks after what it has open. */
let folder: string
let file: string
let house: House
let personId: string

const PATIENCE = { timeout: 15_000 }
const access = { roots: () => [], allow: (requested: string) => requested }
beforeEach(async () => {
  const made = startHouse()
  const site = await buildSite(made)
  personId = site.personId
  await made.client.attachments.add({
    command: made.newCommand(personId),
    id: v7(),
    ownerId: site.roomId,
    name: 'photograph.jpg',
    mediaType: 'image/jpeg',
    contentBase64: randomBytes(1_000_000).toString('base64'),
  })
  await made.engine.close()
  folder = made.folder
  file = path.join(folder, 'site.facegrid')
  const settingsFolder = realpathSync(mkdtempSync(path.join(tmpdir(), 'facegrid-faults-')))
  house = startHouse({ host: 'browser', settingsFolder, access, log: () => undefined })
})
afterEach(async () => {
  await house.engine.close()
  rmSync(folder, { recursive: true, force: true })
})

const notices = async () =>
  ((await house.client.files.state()).open?.notices ?? []).map((notice) => ({ code: notice.code, text: sentenceOf(notice) }))
const addPerson = (name: string) => {
  const body: EntityBody<'person'> = { name, role: 'technician', organisation: '', active: true }
  return house.client.entities.change({
    command: house.newCommand(personId),
    name: 'create',
    scope: 'project',
    changes: [{ kind: 'person', id: v7(), parentId: null, revision: null, body }],
  })
}

/** 20 kB in the middle of the file, where the pages of the photograph lie, which no opening reads. */
function damage(): void {
  const bytes = readFileSync(file)
  bytes.fill(0xaa, bytes.length / 2, bytes.length / 2 + 20_000)
  writeFileSync(file, bytes)
}

it('damage that the opening does not meet is found beside the work, told, and written into no more', async () => {
  damage()
  await house.client.files.open({ path: file })
  await expect.poll(async () => (await notices()).map(({ code }) => code), PATIENCE).toContain('file.found_damaged')
  expect((await notices())[0]?.text).toMatch(/^site\.facegrid is damaged.*Keep this file as it is.*newest copy/)
  const refused = await failureOf(addPerson('Witness'))
  expect(refused).toMatchObject({ kind: 'damaged_file', sentence: { code: 'file.found_damaged' } })
  expect(listBackups(file)).toEqual([])
})

it('is found, too, where the newest backup is of this very state, so that none is made', async () => {
  await house.client.files.open({ path: file })
  await expect.poll(() => listBackups(file).length, PATIENCE).toBe(1)
  await house.client.files.close()
  damage()
  await house.client.files.open({ path: file })
  await expect.poll(async () => (await notices()).map(({ code }) => code), PATIENCE).toContain('file.found_damaged')
})

it('a sound file is left in peace', async () => {
  await house.client.files.open({ path: file })
  await expect.poll(() => listBackups(file).length, PATIENCE).toBe(1)
  expect(await notices()).toEqual([])
  await addPerson('Witness')
})

it('a backup that cannot be made is told with what to do, and stops no work', async () => {
  writeFileSync(backupFolder(file), 'a file where the folder should be')
  await house.client.files.open({ path: file })
  await expect.poll(async () => (await notices()).map(({ code }) => code), PATIENCE).toEqual(['file.backup_failed'])
  expect((await notices())[0]?.text).toMatch(/a file is where the folder of backups should be\. .*Save a copy elsewhere/)
  await addPerson('Witness')
  rmSync(backupFolder(file))
  mkdirSync(backupFolder(file))
  await house.client.files.close()
  await house.client.files.open({ path: file })
  await expect.poll(() => listBackups(file).length, PATIENCE).toBe(1)
  expect(await notices()).toEqual([])
})
