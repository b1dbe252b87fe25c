import { v7 } from 'uuid'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { buildSite, type House, record, type Site, startHouse, startRun } from './bench-site.ts'

// The house's rule A2 (common practice): 10 s at a filter face where a criterion in use cites ISO 14644-3, else 5 s. Runs here take 5 s.

let house: House
let site: Site
beforeEach(async () => {
  house = startHouse()
  site = await buildSite(house)
})
afterEach(() => house.engine.close())

/** Gives the room the starting set of unidirectional zones, which cites ISO 14644-3 as its style of test. */
async function citeIso() {
  const { client } = house
  const set = (await client.criteria.starting()).find((one) => one.criteria.some(({ source }) => source.includes('ISO 14644-3')))
  const [room] = await client.entities.list({ kinds: ['room'], within: null })
  if (!set || room?.kind !== 'room') throw new Error('no citing set, or no room')
  const id = v7()
  await client.entities.change({
    command: house.newCommand(site.personId),
    name: 'edit',
    scope: 'project',
    changes: [
      { kind: 'criteria_set', id, parentId: null, revision: null, body: set },
      { kind: 'room', id: room.id, parentId: room.parentId, revision: room.revision, body: { ...room.body, criteriaSetId: id } },
    ],
  })
}

test('5 s are too short where the criteria cite ISO 14644-3: flagged on the reading, said of the filter', async () => {
  await citeIso()
  const runId = await startRun(house, site)
  expect((await record(house, site, runId, 1, '0.45')).flags).toEqual(['short_averaging'])
  const [filter, other] = (await house.client.evaluation.run({ runId })).filters
  expect(filter?.notes).toContainEqual({ code: 'note.short_averaging', params: { readings: 1, leastS: 10 } })
  expect(other?.notes.map(({ code }) => code)).not.toContain('note.short_averaging')
})

test('5 s are enough elsewhere, and a run keeps what its own criteria ask for', async () => {
  const runId = await startRun(house, site)
  expect((await record(house, site, runId, 1, '0.45')).flags).toEqual([])
  await citeIso()
  expect((await record(house, site, runId, 2, '0.45')).flags).toEqual([])
  const { run } = await house.client.runs.get({ runId })
  await house.client.runs.refresh({ command: house.newCommand(site.personId), runId, revision: run.revision })
  expect((await record(house, site, runId, 3, '0.45')).flags).toEqual(['short_averaging'])
})
