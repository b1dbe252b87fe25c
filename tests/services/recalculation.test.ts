import { v7 } from 'uuid'
import { afterEach, beforeEach, expect, test } from 'vitest'
import type { EntityBody } from '#core/model/entities.ts'
import { buildSite, CALIBRATION, entered, type House, record, type Site, startHouse, startRun } from './bench-site.ts'

let house: House
let site: Site
beforeEach(async () => {
  house = startHouse()
  site = await buildSite(house)
})
afterEach(() => house.engine.close())

/** A complete run: every point of both filters reads the same. */
async function measured(typed: string): Promise<string> {
  const runId = await startRun(house, site)
  for (const { number } of (await house.client.runs.get({ runId })).locations) await record(house, site, runId, number, typed)
  const { run } = await house.client.runs.get({ runId })
  await house.client.runs.complete({ command: house.newCommand(site.personId), runId, revision: run.revision })
  return runId
}

const point = (reading: number, trueValue: number): EntityBody<'calibration'>['points'][number] => ({
  quantity: 'velocity',
  reading: entered(reading, 'm/s'),
  trueValue: entered(trueValue, 'm/s'),
  expandedUncertainty: entered(0.01, 'm/s'),
  coverageFactor: 2,
})

async function foundOut(points: EntityBody<'calibration'>['points']): Promise<void> {
  const found = { certificateNumber: 'C-18', calibratedOn: '2026-06-01', dueOn: '2027-05-31', foundInTolerance: false, points }
  await house.client.entities.change({
    command: house.newCommand(site.personId),
    name: 'create',
    scope: 'project',
    changes: [{ kind: 'calibration', id: v7(), parentId: site.instrumentId, revision: null, body: { ...CALIBRATION, ...found } }],
  })
}
const preview = () => house.client.recalculation.preview({ instrumentId: site.instrumentId })

test('an instrument that was always in tolerance has nothing to look at', async () => {
  await measured('0.50')
  expect(await preview()).toEqual([])
})

test('every run is listed as it stands, corrected by the as-found points, and without the readings', async () => {
  const runId = await measured('0.50')
  const before = await house.client.evaluation.run({ runId })
  await foundOut([point(0.4, 0.38), point(0.6, 0.54)])
  const [doubt] = await preview()
  expect(doubt).toMatchObject({ certificateNumber: 'C-18', from: '2025-10-01', to: '2026-06-01', points: 2 })
  const [run] = doubt?.runs ?? []
  // Volume 5 x 4 x 3 = 60 m3, two filters of 0.36 m2: 0.50 m/s gives 21.6 per hour. At 0.50 the correction is -0.04 (midway between -0.02
  // and -0.06): 0.46 m/s, 19.872 per hour, under the required 20.
  expect(run).toMatchObject({ runId, room: 'F-104', readings: 8, ofReadings: 8 })
  expect(run?.stands.airChangesPerHour).toBeCloseTo(21.6, 10)
  expect(run?.corrected?.meanVelocityMps).toBeCloseTo(0.46, 12)
  expect(run?.corrected?.airChangesPerHour).toBeCloseTo(19.872, 10)
  expect(run?.corrected?.verdict).toBe('fail')
  expect(run?.without).toMatchObject({ airChangesPerHour: null, verdict: 'not_tested' })
  // Nothing was rewritten: the run says what it said, and the trail holds no entry of the preview.
  expect((await house.client.evaluation.run({ runId })).room).toEqual(before.room)
  const { entries } = await house.client.audit.list({ about: runId, before: null, limit: 50 })
  expect(entries[0]?.command).toBe('run.complete')
})

test('without points for what was read nothing is corrected, and a run after the certificate is not in doubt', async () => {
  await measured('0.50')
  await foundOut([])
  house.clock.now = Date.parse('2026-07-01T08:00:00.000Z')
  await measured('0.50')
  const [doubt] = await preview()
  expect(doubt?.runs).toHaveLength(1)
  expect(doubt?.runs[0]?.corrected).toBeNull()
})

test('an as-left run that carries readings of the instrument is reached, though it holds none of its own', async () => {
  const found = await measured('0.50')
  const left = await startRun(house, site, { phase: 'as_left' })
  const { run } = await house.client.runs.get({ runId: left })
  const carried = [{ terminalIds: [...site.terminalIds], fromRunId: found, reason: 'nothing touched', fanOrMainDamperMoved: false }]
  await house.client.runs.edit({ command: house.newCommand(site.personId), runId: left, revision: run.revision, set: { carried } })
  await foundOut([point(0.4, 0.38), point(0.6, 0.54)])
  const [doubt] = await preview()
  expect(doubt?.runs.map(({ runId, readings }) => [runId, readings])).toEqual([
    [found, 8],
    [left, 8],
  ])
  // Corrected as in the run that they come from: 0.46 m/s.
  expect(doubt?.runs[1]?.corrected?.meanVelocityMps).toBeCloseTo(0.46, 12)
  const { notices } = await house.client.evaluation.overview({ certificationId: null })
  const [notice] = notices.filter(({ sentence }) => sentence.code === 'notice.in_doubt')
  expect(notice?.sentence.params.named).toHaveLength(2)
})
