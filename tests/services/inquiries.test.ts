import { mkdtempSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { buildSite, type House, record, type Site, startHouse, startRun } from './bench-site.ts'
import { facegrid } from './command-line.ts'

const folder = mkdtempSync(path.join(os.tmpdir(), 'facegrid-inquiries-'))
let house: House
let site: Site
beforeEach(async () => {
  house = startHouse()
  site = await buildSite(house)
})
afterEach(() => house.engine.close())

/** Measures the room of the bench site and closes the file for the command line. */
async function measured(typed: string): Promise<string> {
  const runId = await startRun(house, site)
  for (const { number } of (await house.client.runs.get({ runId })).locations) await record(house, site, runId, number, typed)
  const { run } = await house.client.runs.get({ runId })
  await house.client.runs.complete({ command: house.newCommand(site.personId), runId, revision: run.revision })
  await house.client.files.close()
  return path.join(house.folder, 'site.facegrid')
}

test('the balance on the command line says the same as the service, and that only the supply was measured', async () => {
  const file = await measured('0.40')
  const { status, out } = await facegrid(folder, 'balance', file, '--json')
  expect(status).toBe(0)
  // Two filters of 0.36 m2 at 0.40 m/s: 0.288 m3/s, as indicated.
  expect(JSON.parse(out)).toMatchObject([
    { certification: 'Certification 2026', basis: 'as_indicated', offsetM3ps: null, rooms: [{ number: 'F-104', gap: 'supply_only' }] },
  ])
  expect(JSON.parse(out)[0].supplyM3ps).toBeCloseTo(0.288, 12)
  expect((await facegrid(folder, 'balance', file)).out).toContain('only its supply was measured')
})

test('what-if names the filter and the flow that bring the room to its minimum, and that neighbours move', async () => {
  const file = await measured('0.40')
  const { status, out } = await facegrid(folder, 'what-if', file, '--room', 'F-104')
  expect(status).toBe(0)
  // 20 per hour in 60 m3 are 1200 m3/h; 0.288 m3/s are 1036.8 m3/h: 163.2 are lacking.
  expect(out).toMatch(/163\sm³\/h are lacking/)
  expect(out).toContain('the neighbours move too')
  expect((await facegrid(folder, 'what-if', file, '--room', 'none')).status).toBe(2)
})

test('recalculate asks for an instrument and knows one by its serial number', async () => {
  const file = await measured('0.40')
  expect(await facegrid(folder, 'recalculate', file)).toMatchObject({ status: 2, error: expect.stringContaining('--instrument') })
  expect((await facegrid(folder, 'recalculate', file, '--instrument', 'nothing')).status).toBe(2)
  expect(await facegrid(folder, 'recalculate', file, '--instrument', 'TP-0001')).toMatchObject({
    status: 0,
    out: 'TP-0001 was never found out of tolerance.\n',
  })
})
