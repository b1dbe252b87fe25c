import { afterEach, expect, test } from 'vitest'
import { buildSite, type House, startHouse, startRun } from './bench-site.ts'

let house: House
afterEach(() => house.engine.close())

async function started() {
  house = startHouse()
  const site = await buildSite(house)
  const runId = await startRun(house, site)
  const runOf = async () => {
    const { run } = await house.client.runs.get({ runId })
    if (run.kind !== 'run') throw new Error('no run')
    return run
  }
  const misfit = { code: 'misfit.hold_to_mark', terminalId: null, instrumentId: site.instrumentId, reason: 'Held by a fixed bracket.' }
  const accept = async (more: Partial<typeof misfit> = {}, reason = '') =>
    house.client.runs.acceptMisfit({
      command: house.newCommand(site.personId, reason),
      runId,
      revision: (await runOf()).revision,
      misfit: { ...misfit, ...more },
    })
  return { site, runId, runOf, misfit, accept }
}

test('a misfit is accepted with the reason, the person of the command and the time, and stands in the trail; undo takes it back', async () => {
  const { site, runId, runOf, misfit, accept } = await started()
  await accept()
  const [kept] = (await runOf()).body.acceptedMisfits
  expect(kept).toMatchObject({ ...misfit, personId: site.personId })
  // The clock of this engine stands on the second of March.
  expect(kept?.at).toMatch(/^2026-03-02T08:/)
  const { entries } = await house.client.audit.list({ about: runId, before: null, limit: 10 })
  expect(entries.map(({ command }) => command)).toContain('run.misfit')
  await house.client.commands.undo({ command: house.newCommand(site.personId), scope: runId })
  expect((await runOf()).body.acceptedMisfits).toEqual([])
})

test('another reason for the same thing takes the place of the first, another thing stands beside it', async () => {
  const { runOf, accept } = await started()
  await accept()
  await accept({ reason: 'Held by hand, checked at every point.' })
  await accept({ code: 'misfit.sensors_in_stream', reason: 'Both are.' })
  expect((await runOf()).body.acceptedMisfits.map(({ code, reason }) => [code, reason])).toEqual([
    ['misfit.hold_to_mark', 'Held by hand, checked at every point.'],
    ['misfit.sensors_in_stream', 'Both are.'],
  ])
})

test('without a reason, on an old revision, about an unknown instrument or on a complete run nothing is accepted', async () => {
  const { site, runId, runOf, misfit, accept } = await started()
  await expect(accept({ reason: '  ' })).rejects.toMatchObject({ code: 'invalid_input' })
  await expect(accept({ instrumentId: site.roomId })).rejects.toMatchObject({ code: 'not_found' })
  const old = (await runOf()).revision
  await accept()
  await expect(
    house.client.runs.acceptMisfit({ command: house.newCommand(site.personId), runId, revision: old, misfit }),
  ).rejects.toMatchObject({ code: 'conflict' })
  const missing = [{ terminalIds: [...site.terminalIds], cause: 'inaccessible' as const, note: '' }]
  const edited = await house.client.runs.edit({
    command: house.newCommand(site.personId),
    runId,
    revision: (await runOf()).revision,
    set: { missing },
  })
  await house.client.runs.complete({ command: house.newCommand(site.personId), runId, revision: edited.revision })
  await expect(accept({ reason: 'Too late.' })).rejects.toMatchObject({ code: 'refused' })
  expect((await runOf()).body.acceptedMisfits).toHaveLength(1)
})
