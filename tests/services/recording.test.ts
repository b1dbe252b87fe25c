import path from 'node:path'
import { afterEach, expect, test } from 'vitest'
import { contract } from '#core/api/contract.ts'
import { buildSite, type House, record, startHouse, startRun } from './bench-site.ts'

let house: House
afterEach(() => house.engine.close())

test('a run is started, recorded and read back after the file was closed', async () => {
  house = startHouse()
  const site = await buildSite(house)
  const runId = await startRun(house, site)
  const detail = await house.client.runs.get({ runId })
  // Two filters with a 2 x 2 grid each.
  expect(detail.locations.map((location) => location.number)).toEqual([1, 2, 3, 4, 5, 6, 7, 8])

  const first = await record(house, site, runId, 1, '0,45')
  expect(first).toMatchObject({ point: 1, si: 0.45, typed: '0,45', unit: 'm/s', flags: [], basis: 'as_indicated' })
  await house.client.files.close()
  await house.client.files.open({ path: path.join(house.folder, 'site.facegrid') })
  expect((await house.client.runs.get({ runId })).readings).toEqual([first])
  await record(house, site, runId, 2, '90 fpm')
  const result = await house.client.evaluation.run({ runId })
  // (0.45 + 0.4572) / 2, 90 ft/min being 0.4572 m/s exactly.
  expect(result.filters[0]?.meanVelocityMps).toBeCloseTo(0.4536, 12)
})

test('what recording answers is what the contract says, though the router does not prove it a second time', async () => {
  house = startHouse()
  const site = await buildSite(house)
  const runId = await startRun(house, site)
  const answers = [await record(house, site, runId, 1, '0,45'), await record(house, site, runId, 2, '90 fpm')]
  expect(contract.readings.record['~orpc'].outputSchema?.safeParse(answers)).toEqual({ success: true, data: answers })
})
