import { v7 } from 'uuid'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { buildSite, type House, record, type Site, startHouse, startRun } from './bench-site.ts'

// The bench site has one room with two filters of 2 x 2 points.

let house: House
let site: Site
beforeEach(async () => {
  house = startHouse()
  site = await buildSite(house)
})
afterEach(() => house.engine.close())

const remaining = () => house.client.certifications.remaining({ certificationId: site.certificationId })
async function onRun(runId: string) {
  const { run } = await house.client.runs.get({ runId })
  return { command: house.newCommand(site.personId), runId, revision: run.revision }
}
async function measure(runId: string, points: readonly number[]) {
  for (const point of points) await record(house, site, runId, point, '0.45')
}

test('before a run the proposed points are left, then those without a reading; each reading takes one off', async () => {
  expect(await remaining()).toMatchObject({ filters: 2, readings: 8 })
  const runId = await startRun(house, site)
  await measure(runId, [1, 2, 3])
  // Left: one point of the first filter, four of the second. 5 x (5 + 7) s + 1 x 45 s = 105 s = 1.75 min, and 10 min to set up.
  const left = await remaining()
  expect(left).toMatchObject({ filters: 2, readings: 5, rooms: [{ roomId: site.roomId, filters: 2, readings: 5 }] })
  expect(left.minutes).toBeCloseTo(11.75, 9)
})

test('points given up for a reason are not left', async () => {
  const runId = await startRun(house, site)
  await measure(runId, [1, 2, 3, 4])
  const missing = [{ terminalIds: [site.terminalIds[1] ?? ''], cause: 'obstructed' as const, note: 'scaffold' }]
  await house.client.runs.edit({ ...(await onRun(runId)), set: { missing } })
  expect(await remaining()).toMatchObject({ filters: 0, readings: 0, minutes: 0 })
})

test('an as-found run that an as-left run has replaced leaves nothing, and a retest that was begun does', async () => {
  const found = await startRun(house, site)
  await measure(found, [1, 2])
  const left = await startRun(house, site, { phase: 'as_left' })
  expect(await remaining()).toMatchObject({ filters: 2, readings: 8 })
  await measure(left, [1, 2, 3, 4, 5, 6, 7, 8])
  await house.client.runs.complete(await onRun(left))
  expect(await remaining()).toMatchObject({ filters: 0, readings: 0 })
  await startRun(house, site, { phase: 'as_left' })
  expect(await remaining()).toMatchObject({ filters: 2, readings: 8 })
})

test('a room without a run is planned with the averaging time that its criteria ask for', async () => {
  // 8 x (5 + 7) s + 45 s = 141 s = 2.35 min + 10 min; at 10 s, where ISO 14644-3 is cited, 8 x 17 s + 45 s = 181 s = 3.01667 min + 10 min.
  expect((await remaining()).minutes).toBeCloseTo(12.35, 9)
  const set = (await house.client.criteria.starting()).find((one) => one.criteria.some(({ source }) => source.includes('ISO 14644-3')))
  const [room] = await house.client.entities.list({ kinds: ['room'], within: null })
  if (!set || room?.kind !== 'room') throw new Error('no citing set, or no room')
  const id = v7()
  await house.client.entities.change({
    command: house.newCommand(site.personId),
    name: 'edit',
    scope: 'project',
    changes: [
      { kind: 'criteria_set', id, parentId: null, revision: null, body: set },
      { kind: 'room', id: room.id, parentId: room.parentId, revision: room.revision, body: { ...room.body, criteriaSetId: id } },
    ],
  })
  expect((await remaining()).minutes).toBeCloseTo(13 + 1 / 60, 9)
})
