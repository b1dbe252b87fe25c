import path from 'node:path'
import { v7 } from 'uuid'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { checkProject } from '#electron/project-file/check/check.ts'
import { openForCheck } from '#electron/project-file/read-only.ts'
import { buildSite, type House, record, type Site, startHouse, startRun, terminal } from './bench-site.ts'

let house: House
let site: Site
beforeEach(async () => {
  house = startHouse()
  site = await buildSite(house)
})
afterEach(() => house.engine.close())

/** What `check` finds wrong, while the project stays open. */
function problems(): string[] {
  const file = openForCheck(path.join(house.folder, 'site.facegrid'))
  try {
    return (checkProject(file) ?? []).filter(({ kind }) => kind !== 'ok').map(({ sentence }) => sentence.code)
  } finally {
    file.close()
  }
}

test('pins and points agree with the trail after every step of a run: changed grids, refreshed pins, undo and redo', async () => {
  const { client } = house
  const runId = await startRun(house, site)
  const at = async () => ({ command: house.newCommand(site.personId), runId, revision: (await client.runs.get({ runId })).run.revision })
  const turn = (way: 'undo' | 'redo') => client.commands[way]({ command: house.newCommand(site.personId), scope: runId })
  expect(problems()).toEqual([])
  await record(house, site, runId, 1, '0.45')
  expect(problems()).toEqual([])
  await client.runs.setGrid({ ...(await at()), terminalIds: [site.terminalIds[1] ?? ''], rows: 3, columns: 2 })
  await turn('undo')
  await turn('redo')
  expect(problems()).toEqual([])

  // One filter is edited, one comes, one goes; the run takes that over, gives it back and takes it again.
  const [first, second] = await client.entities.list({ kinds: ['terminal'], within: null })
  if (first?.kind !== 'terminal' || second?.kind !== 'terminal') throw new Error('two filters')
  const { kind, parentId } = first
  await client.entities.change({
    command: house.newCommand(site.personId),
    name: 'edit',
    scope: site.roomId,
    changes: [
      { kind, parentId, id: first.id, revision: first.revision, body: { ...first.body, note: 'damper open' } },
      { kind, parentId, id: second.id, revision: second.revision, body: null },
      { kind, parentId, id: v7(), revision: null, body: terminal('T-3', 4) },
    ],
  })
  const before = await client.runs.get({ runId })
  const pinsOf = ({ pins }: typeof before) => pins.map(({ id, revision }) => `${id} ${revision}`).sort()
  await client.runs.refresh(await at())
  const after = await client.runs.get({ runId })
  expect(pinsOf(after)).not.toEqual(pinsOf(before))
  expect(after.locations).not.toEqual(before.locations)
  expect(problems()).toEqual([])
  await turn('undo')
  expect(pinsOf(await client.runs.get({ runId }))).toEqual(pinsOf(before))
  expect((await client.runs.get({ runId })).locations).toEqual(before.locations)
  expect(problems()).toEqual([])
  await turn('redo')
  expect((await client.runs.get({ runId })).locations).toEqual(after.locations)
  expect(problems()).toEqual([])

  // A run that is taken back leaves its pins and points with its identity.
  const other = await startRun(house, site, { phase: 'as_left' })
  await client.commands.undo({ command: house.newCommand(site.personId), scope: other })
  expect(problems()).toEqual([])
  await client.commands.redo({ command: house.newCommand(site.personId), scope: other })
  expect(problems()).toEqual([])
})
