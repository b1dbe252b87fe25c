import { execFileSync } from 'node:child_process'
import { linkSync, readdirSync, rmSync, symlinkSync } from 'node:fs'
import path from 'node:path'
import { fileURLToPath } from 'node:url'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { sentenceOf } from '#tests/project-file/failure.ts'
import { buildSite, type House, type Site, startHouse } from './bench-site.ts'
import { failureOf } from './failure.ts'
import { startImport } from './import-site.ts'

const OTHER = fileURLToPath(new URL('../project-file/hold-open.ts', import.meta.url))
let house: House
let site: Site
beforeEach(async () => {
  house = startHouse()
  site = await buildSite(house)
})
afterEach(() => house.engine.close())
const at = (name: string) => path.join(house.folder, name)
/** What another program is told that wants to write into the project now. */
const otherWriter = () =>
  execFileSync(process.execPath, [OTHER, at('site.facegrid'), 'Second'], { input: '' })
    .toString()
    .trim()

test('the open project and what belongs to it are read by nothing else, so that its locks hold', async () => {
  const parts = readdirSync(house.folder).filter((name) => name.startsWith('site.facegrid'))
  expect(parts).toEqual(expect.arrayContaining(['site.facegrid', 'site.facegrid-lock', 'site.facegrid-wal', 'site.facegrid-shm']))
  linkSync(at('site.facegrid-lock'), at('second-name.csv'))
  symlinkSync(at('site.facegrid-lock'), at('link.csv'))
  expect(otherWriter()).toBe('file.locked')
  for (const name of [...parts, 'second-name.csv', 'link.csv', 'second-name.facegrid']) {
    // A project with a second name is opened for reading only by anybody, so this name is there only for its own turn.
    if (name === 'second-name.facegrid') linkSync(at('site.facegrid'), at(name))
    const looked = await failureOf(house.client.imports.look({ path: at(name), delimiter: null }))
    expect(looked, name).toMatchObject({ kind: 'refused', field: 'path', sentence: { code: 'file.held' } })
    expect(sentenceOf(looked.sentence)).toContain('Choose another file')
    const imported = await failureOf(house.client.files.importExchange({ exchangePath: at(name), path: at('new.facegrid') }))
    expect(imported, name).toMatchObject({ kind: 'refused', field: 'exchangePath', sentence: { code: 'file.held' } })
    const started = await failureOf(startImport(house, site, site.roomId, at(name), { dryRun: true }))
    expect(started, name).toMatchObject({ kind: 'refused', field: 'path', sentence: { code: 'file.held' } })
    if (name !== 'site.facegrid')
      expect((await failureOf(house.client.files.open({ path: at(name) }))).sentence.code, name).toBe('file.open_here')
    if (name === 'second-name.facegrid') rmSync(at(name))
  }
  // A lock that is lost once does not come back.
  expect(otherWriter()).toBe('file.locked')
})

test('the file chooser does not show what belongs to an open project', async () => {
  const { entries } = await house.client.files.browse({ path: house.folder })
  expect(entries.map(({ name }) => name).filter((name) => name.startsWith('site'))).toEqual(['site.facegrid'])
})
