import { copyFileSync } from 'node:fs'
import path from 'node:path'
import Database from 'better-sqlite3'
import { v7 } from 'uuid'
import { afterEach, beforeEach, expect, test } from 'vitest'
import type { Entity } from '#core/model/entities.ts'
import { buildSite, type House, PERSON, record, type Site, startHouse, startRun } from './bench-site.ts'
import { failureOf } from './failure.ts'

let house: House
let site: Site
let otherId: string
beforeEach(async () => {
  house = startHouse()
  site = await buildSite(house)
  otherId = v7()
  const body = { ...PERSON, name: 'Marek Sollner' }
  await house.client.entities.change({
    command: house.newCommand(site.personId),
    name: 'create',
    scope: 'people',
    changes: [{ kind: 'person', id: otherId, parentId: null, revision: null, body }],
  })
})
afterEach(() => house.engine.close())

async function setActive(by: string, id: string, active: boolean) {
  const people = await house.client.entities.list({ kinds: ['person'], within: null })
  // Only people were asked for.
  const person = people.find((candidate) => candidate.id === id) as Entity<'person'>
  const changes = [{ kind: 'person' as const, id, parentId: null, revision: person.revision, body: { ...person.body, active } }]
  return house.client.entities.change({ command: house.newCommand(by), name: 'edit', scope: 'people', changes })
}

const REFUSED = {
  kind: 'refused',
  field: 'command.personId',
  sentence: { code: 'error.person_inactive', params: { name: 'Marek Sollner' } },
}

test('somebody out of use changes nothing: no recording, no edit, no undo, and not themselves', async () => {
  const runId = await startRun(house, site)
  await record(house, site, runId, 1, '0.45', null, otherId)
  await setActive(site.personId, otherId, false)
  expect(await failureOf(record(house, site, runId, 2, '0.45', null, otherId))).toMatchObject(REFUSED)
  expect(await failureOf(house.client.commands.undo({ command: house.newCommand(otherId), scope: runId }))).toMatchObject(REFUSED)
  expect(await failureOf(setActive(otherId, otherId, true))).toMatchObject(REFUSED)
  expect((await house.client.runs.get({ runId })).readings).toHaveLength(1)
})

test('another person puts them back, and they go on, with their own steps to undo', async () => {
  const runId = await startRun(house, site)
  await record(house, site, runId, 1, '0.45', null, otherId)
  await setActive(site.personId, otherId, false)
  await setActive(site.personId, otherId, true)
  expect((await house.client.commands.undo({ command: house.newCommand(otherId), scope: runId })).undone).toBe('reading.record')
})

test('a repeated command is answered as before, also when its person has left since', async () => {
  const runId = await startRun(house, site)
  const command = house.newCommand(otherId)
  const once = () =>
    house.client.readings.record({
      command,
      runId,
      instrumentId: site.instrumentId,
      entries: [{ point: 1, sample: 1, typed: '0.45', unit: 'm/s', replaces: null }],
    })
  const first = await once()
  await setActive(site.personId, otherId, false)
  expect(await once()).toEqual(first)
})

test('nobody takes themselves out of use, so there is always somebody left', async () => {
  expect(await failureOf(setActive(site.personId, site.personId, false))).toMatchObject({
    kind: 'refused',
    field: 'changes.0.body.active',
    sentence: { code: 'error.own_activity' },
  })
})

test('somebody who is not in the project yet adds themselves, and does nothing else by that', async () => {
  const id = v7()
  const add = (active: boolean) => ({
    kind: 'person' as const,
    id,
    parentId: null,
    revision: null,
    body: { ...PERSON, name: 'Pia Renner', active },
  })
  const change = (changes: Parameters<House['client']['entities']['change']>[0]['changes']) =>
    house.client.entities.change({ command: house.newCommand(id), name: 'create', scope: 'people', changes })
  const [facility] = await house.client.entities.list({ kinds: ['facility'], within: null })
  if (facility?.kind !== 'facility') throw new Error('no facility')
  const edit = { kind: 'facility' as const, id: facility.id, parentId: null, revision: facility.revision, body: facility.body }
  expect(await failureOf(change([add(true), edit]))).toMatchObject({ kind: 'not_found', field: 'command.personId' })
  expect(await failureOf(change([add(false)]))).toMatchObject({ sentence: { code: 'error.own_activity' } })
  expect(await failureOf(change([edit]))).toMatchObject({ kind: 'not_found' })
  await change([add(true)])
  expect(await change([edit])).toHaveLength(1)
})

test('a file in which nobody is in use any more, as earlier programs let it come to, can be put right', async () => {
  await setActive(site.personId, otherId, false)
  await house.client.files.close()
  const target = path.join(house.folder, 'left.facegrid')
  copyFileSync(path.join(house.folder, 'site.facegrid'), target)
  const db = new Database(target)
  const triggers = db.prepare<[], { name: string; sql: string }>(`SELECT name, sql FROM sqlite_schema WHERE type = 'trigger'`).all()
  for (const { name } of triggers) db.exec(`DROP TRIGGER ${name}`)
  db.exec(
    `UPDATE entity_revision SET body = json_set(body, '$.active', json('false')) WHERE body ->> '$.active' = 1 AND body ->> '$.role' IS NOT NULL`,
  )
  for (const { sql } of triggers) db.exec(sql)
  db.close()
  await house.client.files.open({ path: target })
  await setActive(site.personId, site.personId, true)
  expect(await failureOf(setActive(otherId, otherId, true))).toMatchObject(REFUSED)
})
