import { v7 } from 'uuid'
import { afterEach, beforeEach, expect, test } from 'vitest'
import type { EntityChange } from '#core/api/entities.ts'
import { buildSite, entered, type House, type Site, startHouse } from './bench-site.ts'
import { failureOf } from './failure.ts'

let house: House
let site: Site
beforeEach(async () => {
  house = startHouse()
  site = await buildSite(house)
})
afterEach(() => house.engine.close())

const change = (changes: EntityChange[], name: 'create' | 'edit' | 'remove' = 'edit') =>
  house.client.entities.change({ command: house.newCommand(site.personId), name, scope: 'project', changes })

async function firstTerminal() {
  const [found] = await house.client.entities.list({ kinds: ['terminal'], within: site.roomId })
  if (found?.kind !== 'terminal') throw new Error('no terminal')
  return found
}

async function addSystem(): Promise<{ id: string; parentId: string }> {
  const [facility] = await house.client.entities.list({ kinds: ['facility'], within: null })
  const id = v7()
  const parentId = facility?.id ?? ''
  const body = { name: 'AHU 1', designSupply: entered(3600, 'm3/h'), designReturn: null, designExhaust: null, note: '' }
  await change([{ kind: 'air_system', id, parentId, revision: null, body }], 'create')
  return { id, parentId }
}

test('a terminal is put on an air system; the system then stays until the terminal is off it', async () => {
  const system = await addSystem()
  const { id, parentId, revision, body } = await firstTerminal()
  const [put] = await change([{ kind: 'terminal', id, parentId, revision, body: { ...body, airSystemId: system.id } }])
  const removal: EntityChange = { kind: 'air_system', id: system.id, parentId: system.parentId, revision: 1, body: null }
  const refused = await failureOf(change([removal], 'remove'))
  expect(refused.sentence.code).toBe('error.still_used')
  await change([{ kind: 'terminal', id, parentId, revision: put?.revision ?? 0, body }])
  await change([removal], 'remove')
  expect(await house.client.entities.list({ kinds: ['air_system'], within: null })).toEqual([])
})

test('a terminal on a system that is not there is refused at its field', async () => {
  const { id, parentId, revision, body } = await firstTerminal()
  const failure = await failureOf(change([{ kind: 'terminal', id, parentId, revision, body: { ...body, airSystemId: v7() } }]))
  expect(failure).toMatchObject({ kind: 'invalid_input', sentence: { code: 'error.reference_missing' } })
  expect(failure.field).toContain('airSystemId')
})
