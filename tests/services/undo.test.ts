import path from 'node:path'
import { v7 } from 'uuid'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { buildSite, type House, PERSON, record, type Site, startHouse, startRun, terminal } from './bench-site.ts'
import { failureOf } from './failure.ts'

let house: House
let site: Site
beforeEach(async () => {
  house = startHouse()
  site = await buildSite(house)
})
afterEach(() => house.engine.close())

const undo = (scope: string, personId = site.personId) => house.client.commands.undo({ command: house.newCommand(personId), scope })
const redo = (scope: string, personId = site.personId) => house.client.commands.redo({ command: house.newCommand(personId), scope })

async function inForce(runId: string): Promise<Record<number, string>> {
  const { readings } = await house.client.runs.get({ runId })
  return Object.fromEntries(readings.filter((reading) => reading.voided === null).map((reading) => [reading.point, reading.typed]))
}

async function secondPerson(): Promise<string> {
  const id = v7()
  await house.client.entities.change({
    command: house.newCommand(site.personId),
    name: 'create',
    scope: 'people',
    changes: [{ kind: 'person', id, parentId: null, revision: null, body: { ...PERSON, name: 'Marek Sollner' } }],
  })
  return id
}

test('readings are undone and redone as new entries, and nothing is overwritten', async () => {
  const runId = await startRun(house, site)
  await record(house, site, runId, 1, '0.45')
  const wrong = await record(house, site, runId, 2, '4.6')
  await record(house, site, runId, 2, '0.46', wrong.id)
  expect(await inForce(runId)).toEqual({ 1: '0.45', 2: '0.46' })

  expect((await undo(runId)).undone).toBe('reading.correct')
  expect(await inForce(runId)).toEqual({ 1: '0.45', 2: '4.6' })
  expect((await undo(runId)).undone).toBe('reading.record')
  expect(await inForce(runId)).toEqual({ 1: '0.45' })
  expect((await redo(runId)).redone).toBe('reading.record')
  expect((await redo(runId)).redone).toBe('reading.correct')
  expect(await inForce(runId)).toEqual({ 1: '0.45', 2: '0.46' })

  const { readings } = await house.client.runs.get({ runId })
  // 0.45, 4.6, 0.46, 4.6 reinstated, 4.6 redone, 0.46 redone: every one is still there.
  expect(readings.map(({ typed }) => typed)).toEqual(['0.45', '4.6', '0.46', '4.6', '4.6', '0.46'])
  expect(new Set(readings.filter(({ typed }) => typed === '4.6').map(({ at }) => at)).size).toBe(1)
})

test('undo survives closing the file', async () => {
  const runId = await startRun(house, site)
  await record(house, site, runId, 1, '0.45')
  await undo(runId)
  await house.client.files.close()
  await house.client.files.open({ path: path.join(house.folder, 'site.facegrid') })
  expect(await house.client.commands.state({ personId: site.personId, scope: runId })).toEqual({
    undo: 'run.start',
    redo: 'reading.record',
  })
  await redo(runId)
  expect(await inForce(runId)).toEqual({ 1: '0.45' })
})

test('a new command drops what could have been redone', async () => {
  const runId = await startRun(house, site)
  await record(house, site, runId, 1, '0.45')
  await undo(runId)
  await record(house, site, runId, 2, '0.44')
  expect((await failureOf(redo(runId))).sentence.code).toBe('error.nothing_to_redo')
  expect((await house.client.commands.state({ personId: site.personId, scope: runId })).undo).toBe('reading.record')
})

test('each person undoes their own steps, and is refused once another built on them', async () => {
  const other = await secondPerson()
  const runId = await startRun(house, site)
  const first = await record(house, site, runId, 1, '0.45')
  await record(house, site, runId, 2, '0.44', null, other)
  expect((await undo(runId, other)).undone).toBe('reading.record')
  expect(await inForce(runId)).toEqual({ 1: '0.45' })
  await house.client.readings.record({
    command: house.newCommand(other, 'read off wrongly'),
    runId,
    instrumentId: site.instrumentId,
    entries: [{ point: 1, sample: 1, typed: '0.47', unit: 'm/s', replaces: first.id }],
  })
  expect(await failureOf(undo(runId))).toMatchObject({ kind: 'refused', sentence: { code: 'error.built_upon' } })
  expect(await inForce(runId)).toEqual({ 1: '0.47' })
})

test('placing a filter is not undone once something stands in it', async () => {
  const id = v7()
  const element = v7()
  const create = (scope: string, changes: Parameters<typeof house.client.entities.change>[0]['changes']) =>
    house.client.entities.change({ command: house.newCommand(site.personId), name: 'create', scope, changes })
  await create(site.roomId, [{ kind: 'terminal', id, parentId: site.roomId, revision: null, body: terminal('T-3', 4) }])
  const body = { serialNumber: 'E-1', model: '', installedOn: '2026-01-01', removedOn: null, note: '' }
  await create('project', [{ kind: 'filter_element', id: element, parentId: id, revision: null, body }])
  expect((await failureOf(undo(site.roomId))).sentence.code).toBe('error.built_upon')
})

test('a changed grid comes back with its points', async () => {
  const runId = await startRun(house, site)
  const before = await house.client.runs.get({ runId })
  const terminalIds = [site.terminalIds[0] ?? '']
  const grid = { runId, revision: before.run.revision, terminalIds, rows: 3, columns: 3 }
  const after = await house.client.runs.setGrid({ command: house.newCommand(site.personId), ...grid })
  // 9 new points for the first filter, 4 old ones for the second, the first filter still first on the path.
  expect(after.locations.map(({ number }) => number)).toEqual([9, 10, 11, 12, 13, 14, 15, 16, 17, 5, 6, 7, 8])
  await undo(runId)
  expect((await house.client.runs.get({ runId })).locations).toEqual(before.locations)
  await redo(runId)
  expect((await house.client.runs.get({ runId })).locations).toEqual(after.locations)
})
