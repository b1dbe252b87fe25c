import { v7 } from 'uuid'
import { afterEach, beforeEach, expect, test } from 'vitest'
import type { EntityChange } from '#core/api/entities.ts'
import type { EntityBody } from '#core/model/entities.ts'
import { buildSite, entered, type House, ROOM, record, type Site, startHouse, startRun, terminal } from './bench-site.ts'
import { failureOf } from './failure.ts'

let house: House
let site: Site
beforeEach(async () => {
  house = startHouse()
  site = await buildSite(house)
})
afterEach(() => house.engine.close())

function change(changes: EntityChange[]) {
  return house.client.entities.change({ command: house.newCommand(site.personId), name: 'edit', scope: 'project', changes })
}

function typed(runId: string, point: number, text: string, unit: 'm/s' | 'Pa', command = house.newCommand(site.personId)) {
  const entries = [{ point, sample: 1, typed: text, unit, replaces: null }]
  return house.client.readings.record({ command, runId, instrumentId: site.instrumentId, entries })
}

const ZONE: EntityBody<'zone'> = {
  name: 'Core',
  boundary: [
    { x: 0, y: 0 },
    { x: 2, y: 0 },
    { x: 2, y: 2 },
  ],
  cleanlinessClass: 'ISO 5',
  occupancyState: 'at_rest',
  designVelocity: null,
  criteriaSetId: null,
  overrides: [],
  note: '',
}

test('a face velocity in a unit of pressure is refused at its unit, and no number is kept', async () => {
  const runId = await startRun(house, site)
  const failure = await failureOf(typed(runId, 1, '0.45', 'Pa'))
  expect(failure).toMatchObject({ kind: 'invalid_input', field: 'entries.0.unit', sentence: { code: 'rule.dimension' } })
  expect((await house.client.runs.get({ runId })).readings).toEqual([])
})

test('an identity used again for another value is no confirmation of that value', async () => {
  const runId = await startRun(house, site)
  const command = house.newCommand(site.personId)
  const [first] = await typed(runId, 1, '0.45', 'm/s', command)
  expect(await typed(runId, 1, '0.45', 'm/s', command)).toEqual([first])
  expect((await failureOf(typed(runId, 2, '0.46', 'm/s', command))).sentence.code).toBe('error.command_reused')
  expect((await failureOf(typed(runId, 1, '0.54', 'm/s', command))).sentence.code).toBe('error.command_reused')
  expect((await house.client.runs.get({ runId })).readings).toEqual([first])
})

test('a reading named twice is voided once', async () => {
  const runId = await startRun(house, site)
  const { id } = await record(house, site, runId, 1, '0.45')
  await house.client.readings.void({ command: house.newCommand(site.personId), runId, readingIds: [id, id] })
  const { readings } = await house.client.runs.get({ runId })
  expect(readings.map(({ voided }) => voided?.replacedBy)).toEqual([null])
})

test('a run cannot be moved to a unit that is no velocity, nor be given a temperature in metres', async () => {
  const runId = await startRun(house, site)
  const edit = (set: Parameters<House['client']['runs']['edit']>[0]['set']) =>
    failureOf(house.client.runs.edit({ command: house.newCommand(site.personId), runId, revision: 1, set }))
  expect(await edit({ unit: 'Pa' })).toMatchObject({ kind: 'invalid_input', sentence: { code: 'rule.dimension' } })
  const conditions = { temperature: entered(21, 'm'), relativeHumidity: null, pressure: null }
  expect(await edit({ conditions })).toMatchObject({ kind: 'invalid_input', field: 'set.conditions.temperature' })
})

test('a certification without a name is refused, and the list of certifications still reads', async () => {
  const start = (name: string, why: string) =>
    house.client.certifications.startFrom({
      command: house.newCommand(site.personId),
      id: v7(),
      previousId: null,
      name,
      startsOn: '2026-04-01',
      endsOn: '2026-04-02',
      purpose: 'periodic',
      why,
      roomIds: [site.roomId],
    })
  expect(await failureOf(start('  ', ''))).toMatchObject({ kind: 'invalid_input', field: 'name' })
  expect(await failureOf(start('Spring', 'w'.repeat(4001)))).toMatchObject({ kind: 'invalid_input', field: 'why' })
  expect(await house.client.entities.list({ kinds: ['certification'], within: null })).toHaveLength(1)
})

test('a zone lies in its room, and a filter in a zone of its own room', async () => {
  const [room] = await house.client.entities.list({ kinds: ['room'], within: null })
  const [other, zoneId] = [v7(), v7()]
  const make = { revision: null } as const
  await change([{ ...make, kind: 'room', id: other, parentId: room?.parentId ?? null, body: { ...ROOM, number: 'F-105' } }])
  const outside = { ...ZONE, boundary: ZONE.boundary.map(({ x, y }) => ({ x: x + 90, y })) }
  const drawn = await failureOf(change([{ ...make, kind: 'zone', id: zoneId, parentId: other, body: outside }]))
  expect(drawn).toMatchObject({ field: 'changes.0.body.boundary.0', sentence: { code: 'rule.outside_room' } })
  await change([{ ...make, kind: 'zone', id: zoneId, parentId: other, body: ZONE }])
  const placed = await failureOf(
    change([{ ...make, kind: 'terminal', id: v7(), parentId: site.roomId, body: terminal('T-9', 2, { zoneId }) }]),
  )
  expect(placed).toMatchObject({ field: 'changes.0.body.zoneId', sentence: { code: 'error.zone_of_other_room' } })
  // A room and its zones move in one command, in whatever order they are named.
  const away = { ...ROOM, number: 'F-105', shape: { kind: 'rectangle', x: 90, y: 0, width: 5, depth: 4 } } as const
  await change([
    { kind: 'zone', id: zoneId, parentId: other, revision: 1, body: outside },
    { kind: 'room', id: other, parentId: room?.parentId ?? null, revision: 1, body: away },
  ])
})

test('an override names a criterion of the set that reigns in its room or zone; one that stood there before stays', async () => {
  const [room] = await house.client.entities.list({ kinds: ['room'], within: null })
  if (room?.kind !== 'room') throw new Error('no room')
  const { id, parentId } = room
  const own = (key: string) => ({ key, form: null, on: false, reason: 'Site rule 12.' })
  const edit = (revision: number, overrides: ReturnType<typeof own>[], criteriaSetId = room.body.criteriaSetId) =>
    change([{ kind: 'room', id, parentId, revision, body: { ...room.body, overrides, criteriaSetId } }])
  expect(await failureOf(edit(1, [own('air_changes_minimum'), own('no_such')]))).toMatchObject({
    kind: 'invalid_input',
    field: 'changes.0.body.overrides.1.key',
    sentence: { code: 'rule.unknown_criterion', params: { key: 'no_such' } },
  })
  await edit(1, [own('air_changes_minimum')])
  // Its room's set is the one a zone follows that has none of its own.
  const zone = (key: string) => change([{ kind: 'zone', id: v7(), parentId: id, revision: null, body: { ...ZONE, overrides: [own(key)] } }])
  expect(await failureOf(zone('no_such'))).toMatchObject({ field: 'changes.0.body.overrides.0.key' })
  await zone('filter_flow_design')
  // The set is taken away: what was said of it stays readable, and nothing new can be said.
  await edit(2, [own('air_changes_minimum')], null)
  expect(await failureOf(edit(3, [own('air_changes_minimum'), own('supply_design')], null))).toMatchObject({
    field: 'changes.0.body.overrides.1.key',
  })
})

test('a criterion is not judged for what has no such figure', async () => {
  const [set] = await house.client.entities.list({ kinds: ['criteria_set'], within: null })
  if (set?.kind !== 'criteria_set') throw new Error('no set')
  const criteria = set.body.criteria.map((criterion) => ({ ...criterion, scope: 'filter' as const }))
  const { kind, id, parentId, revision } = set
  const failure = await failureOf(change([{ kind, id, parentId, revision, body: { ...set.body, criteria } }]))
  expect(failure).toMatchObject({ kind: 'invalid_input', field: 'changes.0.body.criteria.0.scope' })
})

test('a corrected time zone reaches the verdict of the visit as it reaches the run', async () => {
  // Due on 1 March at the site; 2 March 00:30 in Vienna is still 1 March in UTC.
  const [certificate] = await house.client.entities.list({ kinds: ['calibration'], within: null })
  if (certificate?.kind !== 'calibration') throw new Error('no certificate')
  const { kind, id, parentId, revision, body } = certificate
  await change([{ kind, id, parentId, revision, body: { ...body, dueOn: '2026-03-01' } }])
  house.clock.now = Date.parse('2026-03-01T23:30:00.000Z')
  const runId = await startRun(house, site)
  for (let point = 1; point <= 8; point += 1) await record(house, site, runId, point, '0.45')
  const verdicts = async () => [
    (await house.client.evaluation.certification({ certificationId: site.certificationId })).counts.not_valid > 0,
    (await house.client.evaluation.run({ runId })).counts.not_valid > 0,
  ]
  expect(await verdicts()).toEqual([true, true])
  const [project] = await house.client.entities.list({ kinds: ['project'], within: null })
  if (project?.kind !== 'project') throw new Error('no project')
  await change([{ ...settings(project), body: { ...project.body, timeZone: 'UTC' } }])
  expect(await verdicts()).toEqual([false, false])
})

function settings({ id, revision }: { id: string; revision: number }) {
  return { kind: 'project', id, parentId: null, revision } as const
}
