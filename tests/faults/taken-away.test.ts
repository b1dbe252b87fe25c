import { copyFileSync, renameSync, rmSync } from 'node:fs'
import path from 'node:path'
import { v7 } from 'uuid'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import type { EntityBody } from '#core/model/entities.ts'
import { sentenceOf } from '#tests/project-file/failure.ts'
import { buildSite, type House, PERSON, PROJECT, type Site, startHouse } from '#tests/services/bench-site.ts'
import { failureOf } from '#tests/services/failure.ts'

let house: House
let site: Site
const at = (name: string) => path.join(house.folder, name)
beforeEach(async () => {
  house = startHouse()
  site = await buildSite(house)
})
afterEach(async () => {
  await house.engine.close()
  rmSync(house.folder, { recursive: true, force: true })
})

const addPerson = (name: string) => {
  const body: EntityBody<'person'> = { name, role: 'technician', organisation: '', active: true }
  const changes = [{ kind: 'person' as const, id: v7(), parentId: null, revision: null, body }]
  return house.client.entities.change({ command: house.newCommand(site.personId), name: 'create', scope: 'project', changes })
}
const people = async () =>
  (await house.client.entities.list({ kinds: ['person'], within: null })).flatMap(({ body }) => ('name' in body ? [body.name] : []))

const WAYS: [string, () => void][] = [
  ['deleted', () => rmSync(at('site.facegrid'))],
  ['renamed', () => renameSync(at('site.facegrid'), at('elsewhere.facegrid'))],
  [
    'replaced',
    () => {
      copyFileSync(at('site.facegrid'), at('other.facegrid'))
      renameSync(at('other.facegrid'), at('site.facegrid'))
    },
  ],
]

describe.each(WAYS)('a project file that is %s while it is open', (_way, takeAway) => {
  it('takes no more changes and says so; what was acknowledged is kept at closing', async () => {
    await addPerson('Before')
    takeAway()
    const refused = await failureOf(addPerson('After'))
    expect(refused.sentence.code).toBe('file.taken_away')
    expect(sentenceOf(refused.sentence)).toMatch(/Put it back under its name.*or save a copy now/)
    expect((await house.client.files.state()).open?.notices.map(({ code }) => code)).toEqual(['file.taken_away'])
    const closed = await failureOf(house.client.files.close())
    expect(sentenceOf(closed.sentence)).toContain('kept in site (kept at closing).facegrid')
    expect((await house.client.files.state()).open).toBeNull()
    await house.client.files.open({ path: at('site (kept at closing).facegrid') })
    expect(await people()).toEqual(expect.arrayContaining([PERSON.name, 'Before']))
    expect(await people()).not.toContain('After')
  })
})

it('goes on where the file is put back, and another project that is opened meanwhile says what became of it', async () => {
  renameSync(at('site.facegrid'), at('elsewhere.facegrid'))
  await failureOf(addPerson('Lost'))
  renameSync(at('elsewhere.facegrid'), at('site.facegrid'))
  await addPerson('Found')
  rmSync(at('site.facegrid'))
  const opened = await house.client.files.create({ path: at('next'), project: PROJECT, person: PERSON })
  expect(opened.name).toBe(PROJECT.name)
  const { open } = await house.client.files.state()
  expect(open?.notices.map(({ code }) => code)).toEqual(['file.was_taken_away'])
})
