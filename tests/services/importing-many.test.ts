import { readFileSync, statSync } from 'node:fs'
import path from 'node:path'
import Database from 'better-sqlite3'
import { v7 } from 'uuid'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { checkFile } from '#electron/services/job-work.ts'
import { buildSite, type House, record, type Site, startHouse, startRun, terminal } from './bench-site.ts'
import { BY_TAG, ended, importFile, startImport, writeText } from './import-site.ts'

/** A filter of 20 x 20 points and a run of 20 samples each: 8,000 places, more than stand in the trail one by one. */
const [ROWS, SAMPLES] = [20, 20]
const POINTS = ROWS * ROWS
const MAPPING = {
  ...BY_TAG,
  header: ['tag', 'point', 'sample', 'velocity [m/s]'],
  columns: { ...BY_TAG.columns, sample: 3, value: 4, time: null },
}

let house: House
let site: Site
let runId: string
beforeEach(async () => {
  house = startHouse()
  site = await buildSite(house)
  const body = terminal('T-3', 4, { grid: { rows: ROWS, columns: ROWS } })
  await house.client.entities.change({
    command: house.newCommand(site.personId),
    name: 'create',
    scope: site.roomId,
    changes: [{ kind: 'terminal', id: v7(), parentId: site.roomId, revision: null, body }],
  })
  runId = await startRun(house, site, { samplesPerPoint: SAMPLES })
})
afterEach(() => house.engine.close())

const inProject = (name: string) => path.join(house.folder, name)
const problemsOf = (file = 'site.facegrid') => (checkFile(inProject(file))?.findings ?? []).filter(({ kind }) => kind === 'problem')
const inForce = async () => (await house.client.runs.get({ runId })).readings.filter(({ voided }) => voided === null)

function manyRows(points = POINTS): string {
  const rows: string[] = []
  for (let sample = 1; sample <= SAMPLES; sample += 1) {
    for (let point = 1; point <= points; point += 1) rows.push(`T-3;${point};${sample};0,4${(point * sample) % 100}`)
  }
  return `Tag;Point;Sample;Velocity [m/s]\n${rows.join('\n')}\n`
}

test('thousands of readings stand in the trail by the hash of their rows, are exported and imported, undone and redone', async () => {
  const file = writeText(house, 'many.csv', manyRows())
  expect(await importFile(house, site, runId, file, { mapping: MAPPING })).toMatchObject({ imported: true, readings: POINTS * SAMPLES })
  const [entry] = (await house.client.audit.list({ about: runId, before: null, limit: 1 })).entries
  const many = entry?.changes.find(({ what }) => what === 'readings')
  expect(many).toMatchObject({ runId, count: POINTS * SAMPLES })
  expect(JSON.stringify(entry).length).toBeLessThan(5000)
  expect(problemsOf()).toEqual([])

  const { client } = house
  await client.files.exportExchange({ path: inProject('out.json') })
  await client.files.importExchange({ exchangePath: inProject('out.json'), path: inProject('again.facegrid') })
  expect(problemsOf('again.facegrid')).toEqual([])
  await client.files.open({ path: inProject('site.facegrid') })

  const scope = { scope: runId }
  await client.commands.undo({ command: house.newCommand(site.personId), ...scope })
  expect(await inForce()).toEqual([])
  expect(problemsOf()).toEqual([])
  await client.commands.redo({ command: house.newCommand(site.personId), ...scope })
  const back = await inForce()
  expect(back).toHaveLength(POINTS * SAMPLES)
  expect(problemsOf()).toEqual([])
  await client.commands.undo({ command: house.newCommand(site.personId), ...scope })
  await client.commands.redo({ command: house.newCommand(site.personId), ...scope })
  expect(problemsOf()).toEqual([])
  // Built upon: one of them was corrected since.
  const [one] = await inForce()
  await record(house, site, runId, one?.point ?? 0, '0.6', one?.id)
  await client.commands.undo({ command: house.newCommand(site.personId), ...scope })
  await expect(client.commands.undo({ command: house.newCommand(site.personId), ...scope })).rejects.toThrow()
})

test('check finds a single changed digit among them', async () => {
  await importFile(house, site, runId, writeText(house, 'many.csv', manyRows()), { mapping: MAPPING })
  await house.client.files.close()
  const db = new Database(inProject('site.facegrid'))
  const triggers = db.prepare<[], { name: string; sql: string }>(`SELECT name, sql FROM sqlite_schema WHERE type = 'trigger'`).all()
  for (const { name } of triggers) db.exec(`DROP TRIGGER ${name}`)
  db.exec('UPDATE reading SET si = si + 0.001 WHERE id = (SELECT max(id) - 17 FROM reading)')
  for (const { sql } of triggers) db.exec(sql)
  db.close()
  expect(problemsOf().map(({ sentence }) => sentence.code)).toEqual(['check.readings_differ'])
})

test('an import is cancelled while it reads and while it writes, and the project says what it said before', async () => {
  const file = writeText(house, 'many.csv', manyRows())
  const before = await house.client.audit.list({ about: null, before: null, limit: 100 })
  const { id } = await startImport(house, site, runId, file, { mapping: MAPPING })
  await house.client.jobs.cancel({ id })
  expect(await ended(house, id)).toMatchObject({ state: 'cancelled', failure: null })
  // Half of an import is reading; beyond it the worker writes.
  const writing = await startImport(house, site, runId, file, { mapping: MAPPING })
  while ((await house.client.jobs.get({ id: writing.id })).progress <= 0.5) await new Promise((resolve) => setImmediate(resolve))
  await house.client.jobs.cancel({ id: writing.id })
  expect(await ended(house, writing.id)).toMatchObject({ state: 'cancelled', failure: null })
  expect(await inForce()).toEqual([])
  expect(await house.client.audit.list({ about: null, before: null, limit: 100 })).toEqual(before)
  expect(await house.client.attachments.list({ ownerId: runId })).toEqual([])
  expect(await importFile(house, site, runId, file, { mapping: MAPPING })).toMatchObject({ imported: true })
})

test('readings that are typed while a file comes in are kept, and questions are answered meanwhile', async () => {
  const other = await startRun(house, site, { phase: 'as_left' })
  const { id } = await startImport(house, site, runId, writeText(house, 'many.csv', manyRows()), { mapping: MAPPING })
  let typed = 0
  const points = (await house.client.runs.get({ runId: other })).locations.map(({ number }) => number)
  while ((await house.client.jobs.get({ id })).state === 'running' && typed < points.length) {
    await record(house, site, other, points[typed] ?? 0, '0.45')
    typed += 1
    await new Promise((resolve) => setTimeout(resolve, 5))
  }
  expect(await ended(house, id)).toMatchObject({ state: 'done', result: { imported: true } })
  expect(typed).toBeGreaterThan(0)
  expect((await house.client.runs.get({ runId: other })).readings).toHaveLength(typed)
  expect(problemsOf()).toEqual([])
})

test('of a file above the cap of attachments the hash is kept, and the same file is noticed by it', async () => {
  const padding = `# ${'x'.repeat(1000)}\n`.repeat(21_000)
  const file = writeText(house, 'large.csv', `${manyRows(10)}`.replace('\n', `\n`) + padding.replaceAll('# ', ';;;'))
  expect(statSync(file).size).toBeGreaterThan(20 * 1024 * 1024)
  const start = readFileSync(file).subarray(0, 40).toString()
  expect(start).toContain('Tag;Point')
  const withProblems = await importFile(house, site, runId, file, { mapping: MAPPING, dryRun: true })
  expect(withProblems).toMatchObject({ keptWhole: false, readings: 200, problemRows: 21_000 })
  expect(withProblems.problems).toHaveLength(1000)
  // Rows that hold nothing at all are no readings: blank columns make the same file large without a problem.
  const wide = writeText(house, 'wide.csv', manyRows(10) + `;;;${' '.repeat(1000)}\n`.repeat(21_000))
  expect(await importFile(house, site, runId, wide, { mapping: MAPPING })).toMatchObject({ imported: true, keptWhole: false })
  const [kept] = await house.client.attachments.list({ ownerId: runId })
  expect(kept).toMatchObject({ name: 'wide.csv.sha256', mediaType: 'text/plain' })
  const second = await startRun(house, site, { phase: 'as_left', samplesPerPoint: SAMPLES })
  expect((await importFile(house, site, second, wide, { mapping: MAPPING, dryRun: true })).earlier).toHaveLength(1)
  expect(problemsOf()).toEqual([])
})
