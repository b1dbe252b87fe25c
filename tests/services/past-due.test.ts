import { v7 } from 'uuid'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { say } from '#core/messages/say.ts'
import type { EntityBody } from '#core/model/entities.ts'
import { createFormatter } from '#core/units/format.ts'
import { buildSite, CALIBRATION, type House, PROJECT, record, type Site, startHouse, startRun } from './bench-site.ts'

// The house's rule A3 (common practice): readings made past due are not valid until a later calibration shows as-found in tolerance, or
// a numbered deviation releases them; and the verdict then says so.

const DAY_MS = 86_400_000
let house: House
let site: Site
beforeEach(async () => {
  house = startHouse()
  site = await buildSite(house)
  // The certificate of the bench site ends on 2026-09-30; these runs are measured in October.
  house.clock.now = Date.parse('2026-10-05T08:00:00.000Z')
})
afterEach(() => house.engine.close())

async function measured(state: 'open' | 'complete' = 'open'): Promise<string> {
  const runId = await startRun(house, site)
  // 0.5 m/s x 0.36 m2 x 2 = 0.36 m3/s; 3600 x 0.36 / 60 m3 = 21.6 per hour, above the 20 that the room requires.
  for (const { number } of (await house.client.runs.get({ runId })).locations) await record(house, site, runId, number, '0.5')
  if (state === 'complete') await house.client.runs.complete(await onRun(runId))
  return runId
}
async function onRun(runId: string, reason = '') {
  const { run } = await house.client.runs.get({ runId })
  return { command: house.newCommand(site.personId, reason), runId, revision: run.revision }
}
async function certify(body: Partial<EntityBody<'calibration'>>): Promise<string> {
  const id = v7()
  const later = { certificateNumber: 'C-18', calibratedOn: '2026-10-20', dueOn: '2027-10-19', foundInTolerance: null, release: null }
  await house.client.entities.change({
    command: house.newCommand(site.personId),
    name: 'create',
    scope: 'project',
    changes: [{ kind: 'calibration', id, parentId: site.instrumentId, revision: null, body: { ...CALIBRATION, ...later, ...body } }],
  })
  return id
}
async function airChanges(runId: string) {
  const found = (await house.client.evaluation.run({ runId })).roomCriteria.find(({ quantity }) => quantity === 'air_changes')
  if (!found) throw new Error('no criterion on air changes')
  return found
}
const formatter = createFormatter(PROJECT.display, 'en', PROJECT.timeZone)
const words = async (runId: string) => {
  const { code, params } = (await airChanges(runId)).reason
  return say('en', formatter, code, params)
}

test('past due is not valid; a later calibration found in tolerance makes it pass and is named in the reason', async () => {
  const runId = await measured()
  expect(await airChanges(runId)).toMatchObject({ verdict: 'not_valid', would: 'pass' })
  expect((await house.client.evaluation.overview({ certificationId: null })).state?.verdict).toBe('not_valid')

  await certify({ foundInTolerance: true })
  expect(await airChanges(runId)).toMatchObject({ verdict: 'pass' })
  expect(await words(runId)).toContain('certificate C-18 later found it in tolerance')
  // The roll-up of the visit must not come from a cache made before.
  expect((await house.client.evaluation.overview({ certificationId: null })).state?.verdict).not.toBe('not_valid')
  // The page's live figures are computed of what the run's detail names.
  const { pins, stale } = await house.client.runs.get({ runId })
  expect(pins.filter(({ kind }) => kind === 'calibration')).toHaveLength(2)
  expect(stale).toEqual([])
})

test('a later calibration found out of tolerance, or silent about it, releases nothing', async () => {
  const runId = await measured('complete')
  const id = await certify({ foundInTolerance: false })
  expect(await airChanges(runId)).toMatchObject({ verdict: 'not_valid' })
  const [certificate] = (await house.client.entities.list({ kinds: ['calibration'], within: site.instrumentId })).filter((c) => c.id === id)
  if (certificate?.kind !== 'calibration') throw new Error('no certificate')
  const edit = (body: Partial<EntityBody<'calibration'>>, revision: number) =>
    house.client.entities.change({
      command: house.newCommand(site.personId),
      name: 'edit',
      scope: 'project',
      changes: [{ kind: 'calibration', id, parentId: site.instrumentId, revision, body: { ...certificate.body, ...body } }],
    })
  await edit({ foundInTolerance: null }, 1)
  expect(await airChanges(runId)).toMatchObject({ verdict: 'not_valid' })
  // A numbered deviation does, also on a complete run.
  await edit({ release: { number: 'DEV-31', reason: 'drift shown to be below a tenth of the margin' } }, 2)
  expect(await airChanges(runId)).toMatchObject({ verdict: 'pass' })
  expect(await words(runId)).toContain('deviation DEV-31 (certificate C-18) releases the readings')
})

test('a certificate made after the last reading covers none, and one made before counts once it is pinned', async () => {
  const runId = await measured()
  const id = await certify({ certificateNumber: 'C-17a', calibratedOn: '2026-10-01', dueOn: '2026-12-31' })
  expect(await airChanges(runId)).toMatchObject({ verdict: 'not_valid' })
  expect((await house.client.runs.get({ runId })).stale).toEqual([id])
  await house.client.runs.refresh(await onRun(runId))
  expect(await airChanges(runId)).toMatchObject({ verdict: 'pass' })
  expect(await words(runId)).not.toContain('C-17a')
})

test('a reading made with a certificate that came during the run is covered by it at once', async () => {
  const runId = await startRun(house, site)
  const first = await record(house, site, runId, 1, '0.5')
  expect(first.flags).toEqual(['past_due'])
  house.clock.now += 20 * DAY_MS
  await certify({ foundInTolerance: true })
  for (const { number } of (await house.client.runs.get({ runId })).locations.slice(1)) {
    expect((await record(house, site, runId, number, '0.5')).flags).toEqual([])
  }
  expect(await airChanges(runId)).toMatchObject({ verdict: 'pass' })
  expect(await words(runId)).toContain('certificate C-18 later found it in tolerance')
})

test('signing pins what released the run: what comes later moves neither the signed figures nor their recomputation', async () => {
  const runId = await measured('complete')
  const id = await certify({ foundInTolerance: true })
  await house.client.runs.sign({ ...(await onRun(runId)), meaning: 'performed' })
  const signed = await house.client.evaluation.run({ runId })
  expect(signed.roomCriteria.find(({ quantity }) => quantity === 'air_changes')?.verdict).toBe('pass')
  await house.client.entities.change({
    command: house.newCommand(site.personId),
    name: 'remove',
    scope: 'project',
    changes: [{ kind: 'calibration', id, parentId: site.instrumentId, revision: 1, body: null }],
  })
  expect(await house.client.evaluation.run({ runId })).toEqual(signed)
  const { rows } = await house.client.compare.certifications({ thenId: site.certificationId, nowId: site.certificationId, roomId: null })
  expect(rows.length).toBeGreaterThan(0)
  expect(rows.filter((row) => row.differsFromSigned || row.verdictNow === 'not_valid')).toEqual([])
  const { findings } = await checked()
  expect(findings.filter(({ kind }) => kind === 'problem')).toEqual([])
})

async function checked(): Promise<{ findings: { kind: string }[] }> {
  const { id } = await house.client.jobs.startCheck()
  for (;;) {
    const job = await house.client.jobs.get({ id })
    // The outcome of a check is its findings.
    if (job.state === 'done') return job.result as { findings: { kind: string }[] }
    if (job.state !== 'running') throw new Error(`check ${job.state}`)
    await new Promise((resolve) => setTimeout(resolve, 50))
  }
}

test('an instrument found out of tolerance puts its runs since the last good calibration in doubt, by name', async () => {
  const doubts = async () =>
    (await house.client.evaluation.overview({ certificationId: null })).notices.filter(
      ({ sentence }) => sentence.code === 'notice.in_doubt',
    )
  // 1 September is in calibration; nothing is in doubt while no certificate says so.
  house.clock.now = Date.parse('2026-09-01T08:00:00.000Z')
  await measured('complete')
  expect(await doubts()).toEqual([])
  await certify({ foundInTolerance: false })
  const [notice, ...others] = await doubts()
  expect(others).toEqual([])
  expect(notice).toMatchObject({ kind: 'calibration', entityId: site.instrumentId })
  const text = say('en', formatter, 'notice.in_doubt', notice?.sentence.params ?? {})
  expect(text).toContain('Thermal probe 1 (TP-0001) was found out of tolerance')
  expect(text).toContain('certificate C-18')
  expect(text).toContain('1 run made with it before')
  expect(text).toContain('F-104 (Certification 2026)')
  // A run made after that certificate is not in doubt.
  house.clock.now = Date.parse('2026-11-02T08:00:00.000Z')
  await measured('complete')
  expect((await doubts()).map(({ sentence }) => sentence.params.named)).toEqual([[{ room: 'F-104', visit: 'Certification 2026' }]])
})
