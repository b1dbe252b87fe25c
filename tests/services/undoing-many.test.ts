import path from 'node:path'
import { v7 } from 'uuid'
import { afterEach, beforeEach, expect, test } from 'vitest'
import type { EntityChange } from '#core/api/entities.ts'
import { checkFile } from '#electron/services/job-work.ts'
import { buildSite, type House, record, type Site, startHouse, startRun, terminal } from './bench-site.ts'
import { failureOf } from './failure.ts'
import { BY_TAG, importFile, writeText } from './import-site.ts'

/** Three filters of 20 x 20 points with 20 samples each: more than the engine turns back itself. */
const [FILTERS, ROWS, SAMPLES] = [['T-3', 'T-4', 'T-5'], 20, 20]
const READINGS = FILTERS.length * ROWS * ROWS * SAMPLES
const MAPPING = {
  ...BY_TAG,
  headerRow: null,
  header: [],
  columns: { ...BY_TAG.columns, sample: 3, value: 4, time: null },
}

let house: House
let site: Site
let runId: string
beforeEach(async () => {
  house = startHouse()
  site = await buildSite(house)
  const changes = FILTERS.map(
    (tag): EntityChange => ({
      kind: 'terminal',
      id: v7(),
      parentId: site.roomId,
      revision: null,
      body: terminal(tag, 4, { grid: { rows: ROWS, columns: ROWS } }),
    }),
  )
  await house.client.entities.change({ command: house.newCommand(site.personId), name: 'create', scope: site.roomId, changes })
  runId = await startRun(house, site, { samplesPerPoint: SAMPLES })
  const rows = FILTERS.flatMap((tag) =>
    Array.from({ length: ROWS * ROWS * SAMPLES }, (_, at) => `${tag};${Math.floor(at / SAMPLES) + 1};${(at % SAMPLES) + 1};0,4${at % 100}`),
  )
  await importFile(house, site, runId, writeText(house, 'many.csv', `${rows.join('\n')}\n`), { mapping: MAPPING })
})
afterEach(() => house.engine.close())

const problems = () => (checkFile(path.join(house.folder, 'site.facegrid'))?.findings ?? []).filter(({ kind }) => kind === 'problem')
const inForce = async () => (await house.client.runs.get({ runId })).readings.filter(({ voided }) => voided === null).length
const scope = () => ({ command: house.newCommand(site.personId), scope: runId })

/** Follows the jobs on the change stream until told to stop. */
async function listen(seen: (job: { id: string; kind: string; state: string; progress: number }) => void): Promise<() => void> {
  const stop = new AbortController()
  const stream = await house.client.changes.subscribe(undefined, { signal: stop.signal })
  void (async () => {
    try {
      for await (const change of stream) if (change.what === 'job') seen(change.job)
    } catch {
      // The test is over.
    }
  })()
  return () => stop.abort()
}

test('undo and redo of a very large import leave the engine free, tell how far they are, and hold', async () => {
  expect(await inForce()).toBe(READINGS)
  const shares: number[] = []
  const deaf = await listen(({ kind, progress }) => kind === 'undo' && shares.push(progress))
  let [answered, typed] = [0, false]
  let going = true
  const undone = house.client.commands.undo(scope()).finally(() => {
    going = false
  })
  const other = startRun(house, site, { phase: 'as_left' }).then(async (id) => {
    typed = (await record(house, site, id, 1, '0.45')) !== null
  })
  while (going) {
    await house.client.entities.list({ kinds: ['person'], within: null })
    answered += 1
    await new Promise((resolve) => setTimeout(resolve, 1))
  }
  expect((await undone).undone).toBe('reading.import')
  await other
  deaf()
  expect(answered).toBeGreaterThan(3)
  expect(typed).toBe(true)
  expect(shares.some((share) => share > 0 && share < 1)).toBe(true)
  expect(await inForce()).toBe(0)
  expect(problems()).toEqual([])
  await house.client.commands.redo(scope())
  expect(await inForce()).toBe(READINGS)
  expect(problems()).toEqual([])
}, 90_000)

test('a stopped undo changes nothing, and one sent twice is done once', async () => {
  const before = await house.client.audit.list({ about: runId, before: null, limit: 50 })
  const deaf = await listen(({ id, kind, progress, state }) => {
    if (kind === 'undo' && state === 'running' && progress > 0) void house.client.jobs.cancel({ id })
  })
  expect((await failureOf(house.client.commands.undo(scope()))).sentence.code).toBe('error.turn_stopped')
  deaf()
  expect(await inForce()).toBe(READINGS)
  expect(await house.client.audit.list({ about: runId, before: null, limit: 50 })).toEqual(before)
  const again = scope()
  const first = await house.client.commands.undo(again)
  expect(await house.client.commands.undo(again)).toEqual(first)
  expect(await inForce()).toBe(0)
  expect(problems()).toEqual([])
}, 90_000)
