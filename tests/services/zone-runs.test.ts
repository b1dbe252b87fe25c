import { v7 } from 'uuid'
import { afterEach, expect, test } from 'vitest'
import type { EntityChange } from '#core/api/entities.ts'
import { buildSite, type House, record, startHouse, startRun, terminal } from './bench-site.ts'

let house: House
afterEach(() => house.engine.close())

test('a run over one zone leaves its room open, and filters hung later do not move what a visit said', async () => {
  house = startHouse()
  const site = await buildSite(house)
  const change = (changes: EntityChange[]) =>
    house.client.entities.change({ command: house.newCommand(site.personId), name: 'edit', scope: 'project', changes })
  const zoneId = v7()
  const boundary = [
    { x: 0, y: 0 },
    { x: 2, y: 0 },
    { x: 2, y: 4 },
  ]
  const zone = { name: 'Core', boundary, cleanlinessClass: 'ISO 5', occupancyState: 'at_rest', designVelocity: null } as const
  const [first = ''] = site.terminalIds
  await change([
    { kind: 'zone', id: zoneId, parentId: site.roomId, revision: null, body: { ...zone, criteriaSetId: null, overrides: [], note: '' } },
    { kind: 'terminal', id: first, parentId: site.roomId, revision: 1, body: terminal('T-1', 1, { zoneId }) },
  ])
  const runId = v7()
  const { run } = await house.client.runs.get({ runId: await startRun(house, site) })
  if (run.kind !== 'run') throw new Error('no run')
  await house.client.commands.undo({ command: house.newCommand(site.personId), scope: run.id })
  const { method, phase, plane, occupancyState, operatingState, facingDegrees, unit, averagingTimeS, samplesPerPoint } = run.body
  const chosen = { method, phase, plane, occupancyState, operatingState, facingDegrees, unit, averagingTimeS, samplesPerPoint }
  const begin = { command: house.newCommand(site.personId), id: runId, certificationId: site.certificationId, roomId: site.roomId, zoneId }
  await house.client.runs.start({ ...begin, ...chosen })
  for (const point of [1, 2, 3, 4]) await record(house, site, runId, point, '0.45')
  const visit = () => house.client.evaluation.certification({ certificationId: site.certificationId })
  expect((await house.client.evaluation.run({ runId })).verdict).toBe('pass')
  // Open beside the zone: the filter T-2, and the room's air changes and supply.
  const before = await visit()
  expect(before).toMatchObject({ verdict: 'not_tested', counts: { fail: 0, not_tested: 3 } })
  expect(before.rooms[0]).toMatchObject({ filtersMeasured: 1, filtersPlanned: 2, headline: { code: 'headline.zones_only' } })
  await change([{ kind: 'terminal', id: v7(), parentId: site.roomId, revision: null, body: terminal('T-3', 4) }])
  expect(await visit()).toEqual(before)
})
