import { v7 } from 'uuid'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { buildSite, entered, type House, INSTRUMENT, PERSON, record, type Site, startHouse, startRun, terminal } from './bench-site.ts'
import { failureOf } from './failure.ts'

let house: House
let site: Site
beforeEach(async () => {
  house = startHouse()
  site = await buildSite(house)
})
afterEach(() => house.engine.close())

async function measureAll(runId: string, typed = '0.45') {
  for (const { number } of (await house.client.runs.get({ runId })).locations) await record(house, site, runId, number, typed)
}
async function onRun(runId: string, reason = '') {
  const { run } = await house.client.runs.get({ runId })
  return { command: house.newCommand(site.personId, reason), runId, revision: run.revision }
}
async function roomEntity() {
  const [room] = await house.client.entities.list({ kinds: ['room'], within: null })
  if (room?.kind !== 'room') throw new Error('no room')
  return room
}

test('editing the ceiling today does not move the air changes of a run made before', async () => {
  const runId = await startRun(house, site)
  await measureAll(runId)
  // Two filters of 0.36 m2 at 0.45 m/s: 2 x 0.162 = 0.324 m3/s. Room 5 m x 4 m x 3 m = 60 m3. 3600 x 0.324 / 60 = 19.44 per hour.
  const before = await house.client.evaluation.run({ runId })
  expect(before.room.airChangesPerHour).toBeCloseTo(19.44, 10)
  const room = await roomEntity()
  await house.client.entities.change({
    command: house.newCommand(site.personId),
    name: 'edit',
    scope: room.id,
    changes: [{ ...edit(room), body: { ...room.body, ceilingHeight: entered(2.5, 'm') } }],
  })
  expect(await house.client.evaluation.run({ runId })).toEqual(before)
  expect((await house.client.runs.get({ runId })).stale).toEqual([room.id])

  // Only when the open run is told to use today's revisions: 3600 x 0.324 / 50 = 23.328 per hour.
  await house.client.runs.refresh(await onRun(runId))
  expect((await house.client.evaluation.run({ runId })).room.airChangesPerHour).toBeCloseTo(23.328, 10)
})

function edit({ kind, id, parentId, revision }: { kind: 'room'; id: string; parentId: string | null; revision: number }) {
  return { kind, id, parentId, revision }
}

test('a removed filter stays in the runs that measured it', async () => {
  const runId = await startRun(house, site)
  await measureAll(runId)
  const before = await house.client.evaluation.run({ runId })
  const [first] = await house.client.entities.list({ kinds: ['terminal'], within: null })
  if (first?.kind !== 'terminal') throw new Error('no filter')
  await house.client.entities.change({
    command: house.newCommand(site.personId),
    name: 'remove',
    scope: site.roomId,
    changes: [{ kind: 'terminal', id: first.id, parentId: first.parentId, revision: first.revision, body: null }],
  })
  expect(await house.client.evaluation.run({ runId })).toEqual(before)
  await house.client.runs.refresh(await onRun(runId))
  expect((await house.client.evaluation.run({ runId })).filters).toHaveLength(2)
})

test('a run with points left out is completed only with a reason for them', async () => {
  const runId = await startRun(house, site)
  for (const point of [1, 2, 3, 4]) await record(house, site, runId, point, '0.45')
  const failure = await failureOf(house.client.runs.complete(await onRun(runId)))
  expect(failure).toMatchObject({ kind: 'refused', sentence: { code: 'error.reason_needed_missing', params: { tags: 'T-2', filters: 1 } } })
  const missing = [{ terminalIds: [site.terminalIds[1] ?? ''], cause: 'obstructed' as const, note: 'scaffold' }]
  await house.client.runs.edit({ ...(await onRun(runId)), set: { missing } })
  expect(await house.client.runs.complete(await onRun(runId))).toMatchObject({ body: { state: 'complete', missing } })
})

test('a complete run wants a reason for every change, and a signed one refuses it', async () => {
  const runId = await startRun(house, site)
  await measureAll(runId)
  await house.client.runs.complete(await onRun(runId))
  const [reading] = (await house.client.runs.get({ runId })).readings
  const correct = (reason: string, replaces = reading?.id ?? '') =>
    house.client.readings.record({
      command: house.newCommand(site.personId, reason),
      runId,
      instrumentId: site.instrumentId,
      entries: [{ point: 1, sample: 1, typed: '0.44', unit: 'm/s', replaces }],
    })
  expect(await failureOf(correct(''))).toMatchObject({ kind: 'refused', field: 'command.reason' })
  const [corrected] = await correct('transposed with the point before')
  await house.client.runs.sign({ ...(await onRun(runId)), meaning: 'performed' })
  expect((await failureOf(correct('too late', corrected?.id))).sentence.code).toBe('error.run_signed')
  expect((await failureOf(house.client.runs.reopen(await onRun(runId, 'again')))).sentence.code).toBe('error.run_signed')
  const twice = failureOf(house.client.runs.sign({ ...(await onRun(runId)), meaning: 'performed' }))
  expect((await twice).sentence.code).toBe('error.already_signed')
})

test('signing freezes the result, and later signatures stand under the same bytes', async () => {
  const runId = await startRun(house, site)
  await measureAll(runId)
  await house.client.runs.complete(await onRun(runId))
  const computed = await house.client.evaluation.run({ runId })
  await house.client.runs.sign({ ...(await onRun(runId)), meaning: 'performed' })
  await house.client.runs.sign({ ...(await onRun(runId)), meaning: 'approved' })
  expect(await house.client.evaluation.run({ runId })).toEqual(computed)
  const { entries } = await house.client.audit.list({ about: runId, before: null, limit: 500 })
  const seals = entries.flatMap(({ changes }) => changes).filter((change) => change.what === 'results')
  expect(seals.map(({ meaning }) => meaning)).toEqual(['approved', 'performed'])
  expect(new Set(seals.map(({ sha256 }) => sha256)).size).toBe(1)
})

test('a run says who signed it, when and with which meaning; the visit says it too, also from its cache', async () => {
  const approver = v7()
  await house.client.entities.change({
    command: house.newCommand(site.personId),
    name: 'create',
    scope: 'project',
    changes: [
      { kind: 'person', id: approver, parentId: null, revision: null, body: { ...PERSON, name: 'Marek Sollner', role: 'quality' } },
    ],
  })
  const runId = await startRun(house, site)
  await measureAll(runId)
  await house.client.runs.complete(await onRun(runId))
  expect((await house.client.runs.get({ runId })).signatures).toEqual([])
  const signedAt = house.clock.now
  await house.client.runs.sign({ ...(await onRun(runId)), meaning: 'performed' })
  house.clock.now += 3_600_000
  await house.client.runs.sign({ ...(await onRun(runId)), command: house.newCommand(approver), meaning: 'approved' })
  const { signatures } = await house.client.runs.get({ runId })
  expect(signatures.map(({ personId, meaning }) => [personId, meaning])).toEqual([
    [site.personId, 'performed'],
    [approver, 'approved'],
  ])
  const [first, second] = signatures.map(({ at }) => Date.parse(at))
  expect(first).toBeGreaterThan(signedAt)
  expect((second ?? 0) - (first ?? 0)).toBeGreaterThanOrEqual(3_600_000)
  for (const _again of [1, 2]) {
    const state = await house.client.evaluation.certification({ certificationId: site.certificationId })
    expect(state.rooms[0]?.runs[0]?.signatures).toEqual(signatures)
  }
})

test("another person's reading is changed only with a reason", async () => {
  const other = v7()
  await house.client.entities.change({
    command: house.newCommand(site.personId),
    name: 'create',
    scope: 'project',
    changes: [{ kind: 'person', id: other, parentId: null, revision: null, body: { ...PERSON, name: 'Marek Sollner' } }],
  })
  const runId = await startRun(house, site)
  const first = await record(house, site, runId, 1, '0.45')
  expect((await failureOf(record(house, site, runId, 1, '0.44', first.id, other))).sentence.code).toBe('error.reason_needed_other')
  const byOther = { command: house.newCommand(other), runId, readingIds: [first.id] }
  expect((await failureOf(house.client.readings.void(byOther))).sentence.code).toBe('error.reason_needed_other')
})

test('a value is refused where the page saw something else, or the instrument cannot say it', async () => {
  const runId = await startRun(house, site)
  await record(house, site, runId, 1, '0.45')
  expect((await failureOf(record(house, site, runId, 1, '0.44'))).kind).toBe('conflict')
  expect(await failureOf(record(house, site, runId, 2, '-0.2'))).toMatchObject({ kind: 'invalid_input', field: 'entries.0.typed' })
  expect(await failureOf(record(house, site, runId, 2, 'o.45'))).toMatchObject({ kind: 'invalid_input', field: 'entries.0.typed' })
  expect((await failureOf(record(house, site, runId, 99, '0.45'))).field).toBe('entries.0.point')
  expect((await house.client.runs.get({ runId })).readings).toHaveLength(1)
})

test('an odd value is questioned and kept; one made with an instrument past due is logged and not valid', async () => {
  const runId = await startRun(house, site)
  await record(house, site, runId, 1, '0.45')
  expect((await record(house, site, runId, 2, '4.6')).flags).toEqual(['questioned'])
  // The certificate is due on 2026-09-30; the next day it is past.
  house.clock.now = Date.parse('2026-10-01T06:00:00.000Z')
  expect((await record(house, site, runId, 3, '0.44')).flags).toEqual(['past_due'])
  const result = await house.client.evaluation.run({ runId })
  expect(result.filters[0]?.verdict).toBe('not_valid')
})

test('the instrument and its certificates are pinned with the first reading', async () => {
  const runId = await startRun(house, site)
  const kinds = async () => (await house.client.runs.get({ runId })).pins.map(({ kind }) => kind)
  expect(await kinds()).not.toContain('instrument')
  await record(house, site, runId, 1, '0.45')
  expect(await kinds()).toEqual(expect.arrayContaining(['instrument', 'calibration']))
  const [instrument] = await house.client.entities.list({ kinds: ['instrument'], within: null })
  const body = { ...INSTRUMENT, name: 'Renamed' }
  const changes = [{ kind: 'instrument' as const, id: site.instrumentId, parentId: null, revision: instrument?.revision ?? 0, body }]
  await house.client.entities.change({ command: house.newCommand(site.personId), name: 'rename', scope: 'project', changes })
  const pinned = (await house.client.runs.get({ runId })).pins.find(({ kind }) => kind === 'instrument')
  expect(pinned?.body).toEqual(INSTRUMENT)
})

test('a grid with valid readings is kept; once they are voided it may change', async () => {
  const runId = await startRun(house, site)
  const reading = await record(house, site, runId, 1, '0.45')
  const grid = { terminalIds: [...site.terminalIds], rows: 3, columns: 3 }
  expect((await failureOf(house.client.runs.setGrid({ ...(await onRun(runId)), ...grid }))).sentence.code).toBe('error.grid_has_readings')
  await house.client.readings.void({ command: house.newCommand(site.personId), runId, readingIds: [reading.id] })
  expect((await house.client.runs.setGrid({ ...(await onRun(runId)), ...grid })).locations).toHaveLength(18)
  expect((await house.client.evaluation.run({ runId })).filters[0]?.readingsVoided).toBe(1)
})

test('an as-left run after an as-found one keeps the trace of the failure', async () => {
  const asFound = await startRun(house, site)
  await measureAll(asFound, '0.30')
  await house.client.runs.complete(await onRun(asFound))
  const failed = await house.client.evaluation.room({ certificationId: site.certificationId, roomId: site.roomId })
  expect(failed.state).toMatchObject({ verdict: 'fail', failedAsFound: false })
  const asLeft = await startRun(house, site, { phase: 'as_left' })
  await measureAll(asLeft, '0.50')
  await house.client.runs.complete(await onRun(asLeft))
  const { state } = await house.client.evaluation.overview({ certificationId: null })
  // 0.50 m/s x 0.72 m2 x 3600 / 60 m3 = 21.6 per hour, above the required 20; each filter within 15 % of its design flow.
  expect(state?.rooms[0]).toMatchObject({ failedAsFound: true, airChangesPerHour: expect.closeTo(21.6, 10) })
  expect(state?.rooms[0]?.runs.map(({ current }) => current)).toEqual([false, true])
})

test('an overview asked twice says the same, also after the cache was made', async () => {
  const runId = await startRun(house, site)
  await measureAll(runId)
  const first = await house.client.evaluation.overview({ certificationId: null })
  expect(await house.client.evaluation.overview({ certificationId: null })).toEqual(first)
  const { id } = (await house.client.runs.get({ runId })).readings[0] ?? { id: '' }
  await record(house, site, runId, 1, '0.20', id)
  const changed = await house.client.evaluation.overview({ certificationId: null })
  expect(changed.state?.rooms[0]?.airChangesPerHour).not.toBe(first.state?.rooms[0]?.airChangesPerHour)
})

test('a room without a filter has nothing to measure', async () => {
  const room = await roomEntity()
  const empty = v7()
  await house.client.entities.change({
    command: house.newCommand(site.personId),
    name: 'create',
    scope: 'project',
    changes: [
      { kind: 'room', id: empty, parentId: room.parentId, revision: null, body: { ...room.body, number: 'F-105' } },
      { kind: 'terminal', id: v7(), parentId: empty, revision: null, body: terminal('R-1', 1, { kind: 'return_grille' }) },
    ],
  })
  expect((await failureOf(startRun(house, { ...site, roomId: empty }))).sentence.code).toBe('error.nothing_to_measure')
})

test('an instrument edited in the middle of a run flags as the pinned revision does, until the changes are taken over', async () => {
  const runId = await startRun(house, site)
  // The range begins at 0.05 m/s.
  expect((await record(house, site, runId, 1, '0.06')).flags).not.toContain('below_range')
  const [instrument] = await house.client.entities.list({ kinds: ['instrument'], within: null })
  if (!instrument) throw new Error('no instrument')
  const edited = { ...INSTRUMENT, senses: INSTRUMENT.senses.map((sense) => ({ ...sense, low: entered(0.1, 'm/s') })) }
  await house.client.entities.change({
    command: house.newCommand(site.personId),
    name: 'edit',
    scope: 'project',
    changes: [{ kind: 'instrument', id: site.instrumentId, parentId: null, revision: instrument.revision, body: edited }],
  })
  expect((await record(house, site, runId, 2, '0.06')).flags, 'a range that this run does not know yet').not.toContain('below_range')
  expect((await house.client.runs.get({ runId })).stale).toEqual([site.instrumentId])
  await house.client.runs.refresh(await onRun(runId))
  expect((await record(house, site, runId, 3, '0.06')).flags).toContain('below_range')
  expect((await house.client.runs.get({ runId })).stale).toEqual([])
})

test('fewer samples than planned are told in the overview of the visit and do not hold the run up', async () => {
  const runId = await startRun(house, site, { samplesPerPoint: 3 })
  await measureAll(runId)
  const state = await house.client.evaluation.certification({ certificationId: site.certificationId })
  // Eight points with one sample of three each.
  expect(state.rooms[0]?.runs[0]).toMatchObject({ pointsMeasured: 8, pointsPlanned: 8, samplesLacking: 16 })
  const completed = await house.client.runs.complete(await onRun(runId))
  expect(completed).toMatchObject({ body: { state: 'complete' } })
})
