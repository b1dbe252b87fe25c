import { renameSync, writeFileSync } from 'node:fs'
import path from 'node:path'
import { afterEach, expect, test } from 'vitest'
import { buildSite, type House, PROJECT, startHouse } from './bench-site.ts'

let houses: House[] = []
afterEach(async () => {
  for (const house of houses) await house.engine.close()
  houses = []
})

/** A host that a person sits at; the next one begins with what the one before left in its settings. */
function start(before?: House): House {
  const house = startHouse({
    host: 'browser',
    log: () => undefined,
    ...(before
      ? { settingsFolder: path.join(before.folder, 'settings'), access: { roots: () => [], allow: (requested: string) => requested } }
      : {}),
  })
  houses.push(house)
  return house
}

const site = (house: House) => path.join(house.folder, 'site.facegrid')

async function restarted(before: House): Promise<House> {
  const after = start(before)
  await after.engine.reopen()
  return after
}

test('what was open when the program ended is open again, at its view, and is told until the page has said it', async () => {
  const first = start()
  await buildSite(first)
  await first.client.files.settings({ view: '/run/1' })
  await first.engine.close()
  const second = await restarted(first)
  expect(await second.client.files.state()).toMatchObject({
    open: { path: site(first), readOnly: false, lastView: '/run/1' },
    reopened: { path: site(first), name: PROJECT.name, failure: null },
  })
  await second.client.files.settings({ reopenedTold: true })
  expect((await second.client.files.state()).reopened).toBeNull()
  await second.engine.close()
  expect((await (await restarted(first)).client.files.state()).open?.path).toBe(site(first))
})

test('a project that a person opened only to read is opened again only to read', async () => {
  const first = start()
  await buildSite(first)
  await first.client.files.close()
  await first.client.files.open({ path: site(first), readOnly: true })
  await first.engine.close()
  expect((await (await restarted(first)).client.files.state()).open).toMatchObject({ path: site(first), readOnly: true })
})

test('a project that a person closed stays closed', async () => {
  const first = start()
  await buildSite(first)
  await first.client.files.close()
  await first.engine.close()
  expect(await (await restarted(first)).client.files.state()).toMatchObject({ open: null, reopened: null })
})

test('a script leaves nothing to be opened again', async () => {
  const script = startHouse()
  houses.push(script)
  await buildSite(script)
  await script.engine.close()
  expect(await (await restarted(script)).client.files.state()).toMatchObject({ open: null, reopened: null })
})

test('a file that is missing or damaged is told at the next start, and not tried again at the one after', async () => {
  for (const [harm, kind] of [
    [(file: string) => renameSync(file, `${file}.away`), 'not_found'],
    [(file: string) => writeFileSync(file, 'not a project any more'), 'not_a_project'],
  ] as const) {
    const first = start()
    await buildSite(first)
    await first.engine.close()
    harm(site(first))
    const second = await restarted(first)
    const state = await second.client.files.state()
    expect(state.open).toBeNull()
    expect(state.reopened).toMatchObject({ path: site(first), name: PROJECT.name, failure: { kind } })
    await second.engine.close()
    expect((await (await restarted(first)).client.files.state()).reopened).toBeNull()
  }
})

test('a file that another program holds is told, and opened at a later start when it is free', async () => {
  const first = start()
  await buildSite(first)
  // The first still runs, and the second finds the file in use.
  await first.client.files.settings({ view: '/site' })
  const second = await restarted(first)
  expect(await second.client.files.state()).toMatchObject({ open: null, reopened: { failure: { kind: 'locked' } } })
  await second.engine.close()
  await first.engine.close()
  expect((await (await restarted(first)).client.files.state()).open?.path).toBe(site(first))
})
