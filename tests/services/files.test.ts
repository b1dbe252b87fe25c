import { mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import path from 'node:path'
import Database from 'better-sqlite3'
import { v7 } from 'uuid'
import { afterEach, expect, test } from 'vitest'
import { ATTACHMENT_CAP_BYTES } from '#electron/project-file/attachments.ts'
import { NEWEST_STEP } from '#electron/project-file/migrate.ts'
import { APPLICATION_ID } from '#electron/project-file/pragmas.ts'
import { sentenceOf } from '#tests/project-file/failure.ts'
import { buildSite, type House, PERSON, PROJECT, startHouse } from './bench-site.ts'
import { facegrid } from './command-line.ts'
import { failureOf } from './failure.ts'

let house: House
afterEach(() => house.engine.close())
const at = (name: string) => path.join(house.folder, name)

test('a project is left and found again: the view, the person, the list of recent files', async () => {
  house = startHouse()
  const site = await buildSite(house)
  await house.client.files.settings({ view: '/room/1', theme: 'dark' })
  await house.client.files.close()
  await house.engine.close()
  const settingsFolder = at('settings')
  const again = startHouse({ settingsFolder, access: { roots: () => [], allow: (requested) => requested } })
  const state = await again.client.files.state()
  expect(state).toMatchObject({ theme: 'dark', open: null, recent: [{ path: at('site.facegrid'), name: PROJECT.name, missing: false }] })
  expect(await again.client.files.open({ path: at('site.facegrid') })).toMatchObject({ lastView: '/room/1', lastPersonId: site.personId })
  await again.client.files.forgetRecent({ path: at('site.facegrid') })
  expect((await again.client.files.state()).recent).toEqual([])
  await again.engine.close()
})

test('broken settings are begun anew', async () => {
  house = startHouse()
  mkdirSync(at('broken'), { recursive: true })
  for (const broken of ['{"theme": 7', 'null', '[]', '7', '{"theme": 7}', '']) {
    writeFileSync(path.join(at('broken'), 'settings.json'), broken)
    const again = startHouse({ settingsFolder: at('broken') })
    expect((await again.client.files.state()).theme, broken).toBe('system')
    await again.engine.close()
  }
})

test('the file chooser shows folders and projects of the allowed folder, and nothing above it', async () => {
  house = startHouse()
  await buildSite(house)
  await house.client.files.makeFolder({ parent: house.folder, name: 'Copies' })
  const { entries, parent } = await house.client.files.browse({ path: null })
  expect(parent).toBeNull()
  expect(entries.map(({ name, kind }) => [name, kind])).toEqual(
    expect.arrayContaining([
      ['Copies', 'folder'],
      ['site.facegrid', 'project'],
    ]),
  )
  expect((await house.client.files.browse({ path: at('Copies') })).parent).toBe(house.folder)
  expect((await failureOf(house.client.files.browse({ path: '/' }))).kind).toBe('refused')
  mkdirSync(at('second.facegrid-backups'))
  const backups = (await house.client.files.browse({ path: null })).entries.find(({ name }) => name === 'second.facegrid-backups')
  expect(backups?.kind, 'no ordinary folder').toBe('backups')
  const among = await failureOf(house.client.files.saveCopy({ path: at('second.facegrid-backups/mine.facegrid') }))
  expect(among).toMatchObject({ kind: 'refused', field: 'path' })
  expect((await failureOf(house.client.files.makeFolder({ parent: house.folder, name: 'x.facegrid-backups' }))).field).toBe('name')
  expect((await failureOf(house.client.files.makeFolder({ parent: house.folder, name: '../out' }))).field).toBe('name')
  expect((await failureOf(house.client.files.makeFolder({ parent: house.folder, name: 'Copies' }))).kind).toBe('already_exists')
})

test('a copy is a project of its own, and never overwrites', async () => {
  house = startHouse()
  await buildSite(house)
  const copy = await house.client.files.saveCopy({ path: at('copy') })
  expect(copy.path).toBe(at('copy.facegrid'))
  expect((await failureOf(house.client.files.saveCopy({ path: at('copy') }))).kind).toBe('already_exists')
  expect((await house.client.files.open({ path: copy.path })).name).toBe(PROJECT.name)
  const taken = failureOf(house.client.files.create({ path: at('copy'), project: PROJECT, person: PERSON }))
  expect((await taken).kind).toBe('already_exists')
  // What was open before stays open when the new project could not be made.
  expect((await house.client.files.state()).open?.path).toBe(copy.path)
})

test('attachments come back byte for byte, the same content is kept once, and the cap is told', async () => {
  house = startHouse()
  const site = await buildSite(house)
  const content = Buffer.from(Array.from({ length: 1_500_000 }, (_, index) => index % 251))
  const add = (name: string, bytes: Buffer) =>
    house.client.attachments.add({
      command: house.newCommand(site.personId),
      id: v7(),
      ownerId: site.roomId,
      name,
      mediaType: 'application/octet-stream',
      contentBase64: bytes.toString('base64'),
    })
  const one = await add('one.bin', content)
  const two = await add('two.bin', content)
  expect(two.sha256).toBe(one.sha256)
  expect(await house.client.attachments.list({ ownerId: site.roomId })).toEqual([one, two])
  const back = await house.client.attachments.get({ id: two.id })
  expect(Buffer.from(back.contentBase64, 'base64').equals(content)).toBe(true)
  const tooLarge = await failureOf(add('large.bin', Buffer.alloc(ATTACHMENT_CAP_BYTES + 1)))
  expect(tooLarge.sentence).toEqual({ code: 'error.attachment_too_large', params: { name: 'large.bin', capMb: 20 } })
})

test('things are found by a few letters of their name, those that begin with them first', async () => {
  house = startHouse()
  const site = await buildSite(house)
  const found = await house.client.search.find({ text: 't-', limit: 10 })
  expect(found.map(({ kind, label, detail }) => [kind, label, detail])).toEqual([
    ['terminal', 'T-1', 'F-104'],
    ['terminal', 'T-2', 'F-104'],
  ])
  expect((await house.client.search.find({ text: 'filling', limit: 10 }))[0]).toMatchObject({ kind: 'room', id: site.roomId })
})

test('the command line makes a project, tells what is wrong with its use, and checks a file', async () => {
  house = startHouse()
  const made = await facegrid(house.folder, 'new', 'made.facegrid', '--name', 'Made', '--person', 'Ines', '--time-zone', 'Europe/Vienna')
  expect(made).toMatchObject({ status: 0, error: '' })
  expect(await facegrid(house.folder, 'evaluate', 'made.facegrid')).toMatchObject({ status: 3 })
  expect(await facegrid(house.folder, 'check', 'made.facegrid')).toMatchObject({ status: 0 })
  expect((await facegrid(house.folder, 'new', 'made.facegrid', '--name', 'Made', '--person', 'Ines')).status).toBe(2)
  expect((await facegrid(house.folder, 'fly', 'made.facegrid')).error).toContain('fly')
  const bytes = readFileSync(at('made.facegrid'))
  bytes.fill(0xff, 8192, 12_288)
  writeFileSync(at('broken.facegrid'), bytes)
  expect((await facegrid(house.folder, 'check', 'broken.facegrid')).status).not.toBe(0)
})

test('two pages that open the same file, or two files, at once are both answered', async () => {
  house = startHouse()
  await buildSite(house)
  await house.client.files.saveCopy({ path: at('copy') })
  await house.client.files.close()
  const open = (name: string) => house.client.files.open({ path: at(name) })
  const both = await Promise.all([open('site.facegrid'), open('site.facegrid'), open('copy.facegrid'), open('site.facegrid')])
  expect(both.map((opened) => path.basename(opened.path))).toEqual(['site.facegrid', 'site.facegrid', 'copy.facegrid', 'site.facegrid'])
  expect((await house.client.files.state()).open?.path).toBe(at('site.facegrid'))
})

test('a name that is too long is answered at the field with what to do', async () => {
  house = startHouse()
  await buildSite(house)
  for (const long of ['x'.repeat(200), 'x'.repeat(300)]) {
    const failure = await failureOf(house.client.files.saveCopy({ path: at(long) }))
    expect(failure).toMatchObject({ kind: 'invalid_input', field: 'path', sentence: { code: 'file.name_too_long' } })
    expect(sentenceOf(failure.sentence)).toContain('Choose a shorter one')
  }
  const folder = await failureOf(house.client.files.makeFolder({ parent: house.folder, name: 'x'.repeat(300) }))
  expect(folder.sentence.code).toBe('file.name_too_long')
})

test('check says in words that it was given a folder, nothing, or a database that is no project', async () => {
  house = startHouse()
  expect((await facegrid(house.folder, 'check', house.folder)).error).toMatch(/is a folder, not a project file/)
  expect((await facegrid(house.folder, 'check', 'none.facegrid')).error).toMatch(/There is no file none\.facegrid/)
  const db = new Database(at('foreign.facegrid'))
  db.exec(`CREATE TABLE own (a); PRAGMA application_id = ${APPLICATION_ID}; PRAGMA user_version = ${NEWEST_STEP}`)
  db.close()
  expect((await facegrid(house.folder, 'check', 'foreign.facegrid')).error).toMatch(/is not a Facegrid project file/)
  expect(await facegrid(house.folder, 'new', 'made.facegrid', '--name', 'Made', '--person', 'Ines')).toMatchObject({ status: 0 })
  const both = await facegrid(house.folder, 'evaluate', 'made.facegrid', '--all', '--certification', 'X')
  expect(both).toMatchObject({ status: 2, error: expect.stringContaining('leave one of the two out') })
})
