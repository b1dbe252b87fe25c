import { readFileSync, writeFileSync } from 'node:fs'
import path from 'node:path'
import { Ajv2020 } from 'ajv/dist/2020.js'
import addFormats from 'ajv-formats'
import { v7 } from 'uuid'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { z } from 'zod'
import { FullExchange } from '#core/model/exchange.ts'
import { exchangeJsonSchema } from '#core/model/exchange-schema.ts'
import { buildSite, type House, record, type Site, startHouse, startRun } from './bench-site.ts'
import { failureOf } from './failure.ts'

const EXAMPLE = new URL('../reference/worked-example.exchange.json', import.meta.url)
const PUBLISHED = new URL('../../core/model/exchange.schema.json', import.meta.url)

let house: House
let site: Site
beforeEach(async () => {
  house = startHouse()
  site = await buildSite(house)
})
afterEach(() => house.engine.close())

const at = (name: string) => path.join(house.folder, name)

/** A project with everything in it: corrections, voids, undo, a changed grid, a removed filter, attachments and a signed run. */
async function makeRich(): Promise<void> {
  const { client } = house
  const command = (reason = '') => house.newCommand(site.personId, reason)
  const runId = await startRun(house, site)
  const revision = async () => (await client.runs.get({ runId })).run.revision
  await client.runs.setGrid({
    command: command(),
    runId,
    revision: await revision(),
    terminalIds: [site.terminalIds[1] ?? ''],
    rows: 1,
    columns: 3,
  })
  for (const { number } of (await client.runs.get({ runId })).locations) await record(house, site, runId, number, '0,45')
  const [first, second] = (await client.runs.get({ runId })).readings
  await record(house, site, runId, first?.point ?? 0, '92 fpm', first?.id)
  await client.readings.void({ command: command('probe slipped'), runId, readingIds: [second?.id ?? ''] })
  await client.commands.undo({ command: command(), scope: runId })
  await client.attachments.add({
    command: command(),
    id: v7(),
    ownerId: site.roomId,
    name: 'plan ä.png',
    mediaType: 'image/png',
    contentBase64: Buffer.alloc(2_500_000, 7).toString('base64'),
  })
  await client.runs.complete({ command: command(), runId, revision: await revision() })
  await client.files.close()
  await client.files.open({ path: at('site.facegrid') })
  await client.runs.sign({ command: command(), runId, revision: await revision(), meaning: 'performed' })
  const [terminal] = await client.entities.list({ kinds: ['terminal'], within: null })
  if (terminal?.kind !== 'terminal') throw new Error('no filter')
  await client.entities.change({
    command: command('taken out'),
    name: 'remove',
    scope: site.roomId,
    changes: [{ kind: 'terminal', id: terminal.id, parentId: terminal.parentId, revision: terminal.revision, body: null }],
  })
}

test('export, import and export again give the same bytes, the own entry of the import aside', async () => {
  await makeRich()
  const before = await house.client.evaluation.overview({ certificationId: null })
  await house.client.files.exportExchange({ path: at('one.json') })
  await house.client.files.importExchange({ exchangePath: at('one.json'), path: at('again.facegrid') })
  await house.client.files.exportExchange({ path: at('two.json') })

  const one = readFileSync(at('one.json'), 'utf8').split('\n')
  const two = readFileSync(at('two.json'), 'utf8').split('\n')
  const { trail, segments } = FullExchange.parse(JSON.parse(two.join('\n')))
  expect(trail.at(-1)?.body.command).toBe('project.import')
  const own = trail.at(-1)?.body.segmentId ?? ''
  expect(segments.at(-1)?.id).toBe(own)
  const withoutOwn = two.filter((line) => !(line.startsWith('{"id"') || line.startsWith('{"hash"')) || !line.includes(own))
  const plain = (lines: string[]) => lines.map((line) => line.replace(/,$/, ''))
  expect(plain(withoutOwn)).toEqual(plain(one))

  const after = await house.client.evaluation.overview({ certificationId: null })
  expect(after.state).toEqual(before.state)
})

test('the imported project goes on: undo, conflicts and the chain of the trail still hold', async () => {
  await makeRich()
  await house.client.files.exportExchange({ path: at('one.json') })
  await house.client.files.importExchange({ exchangePath: at('one.json'), path: at('again.facegrid') })
  await house.client.commands.undo({ command: house.newCommand(site.personId), scope: site.roomId })
  expect(await house.client.entities.list({ kinds: ['terminal'], within: null })).toHaveLength(2)
  const job = await house.client.jobs.startCheck()
  await expect.poll(async () => (await house.client.jobs.get({ id: job.id })).state, { timeout: 15_000 }).toBe('done')
  const { result } = await house.client.jobs.get({ id: job.id })
  expect(JSON.stringify(result)).not.toContain('"kind":"problem"')
})

test('an import says which criteria do not state the air they speak of, on whatever form they come in', async () => {
  const example = JSON.parse(readFileSync(new URL('../reference/one-filter.exchange.json', import.meta.url), 'utf8'))
  const write = (name: string, change: (criterion: { basis?: string }) => void) => {
    const copy = structuredClone(example)
    const set = copy.entities.find((entity: { kind: string }) => entity.kind === 'criteria_set')
    change(set.body.criteria[0])
    writeFileSync(at(name), JSON.stringify(copy))
  }
  write('stated.json', () => undefined)
  write('silent.json', (criterion) => {
    delete criterion.basis
  })
  const stated = await house.client.files.importExchange({ exchangePath: at('stated.json'), path: at('stated.facegrid') })
  expect(stated.notices).toEqual([])
  const silent = await house.client.files.importExchange({ exchangePath: at('silent.json'), path: at('silent.facegrid') })
  expect(silent.notices).toEqual([{ code: 'exchange.no_basis', params: { criteria: 1, sets: ['Mixed air'] } }])
  // The page asks for the state of the open file, and reads the same there.
  expect((await house.client.files.state()).open?.notices).toEqual(silent.notices)
})

test('an exchange file that was changed by hand is refused where its own hashes contradict it', async () => {
  await makeRich()
  await house.client.files.exportExchange({ path: at('one.json') })
  const full = FullExchange.parse(JSON.parse(readFileSync(at('one.json'), 'utf8')))
  const entry = full.trail[4]
  if (!entry) throw new Error('no entry')
  entry.body.reason = 'never said'
  writeFileSync(at('tampered.json'), JSON.stringify(full))
  const failure = await failureOf(house.client.files.importExchange({ exchangePath: at('tampered.json'), path: at('t.facegrid') }))
  expect(failure).toMatchObject({ kind: 'invalid_input', field: '$.trail[4].hash' })

  const quiet = FullExchange.parse(JSON.parse(readFileSync(at('one.json'), 'utf8')))
  const reading = quiet.readings[0]
  if (!reading) throw new Error('no reading')
  reading.si = 0.99
  writeFileSync(at('quiet.json'), JSON.stringify(quiet))
  const contradicted = failureOf(house.client.files.importExchange({ exchangePath: at('quiet.json'), path: at('t.facegrid') }))
  expect(await contradicted).toMatchObject({ kind: 'invalid_input', sentence: { code: 'exchange.unsound' } })
  // Nothing is left behind: neither the file nor a half-made one.
  const { entries } = await house.client.files.browse({ path: house.folder })
  expect(entries.filter(({ kind }) => kind === 'project').map(({ name }) => name)).toEqual(['site.facegrid'])
})

test('bodies of a full form keep the rules, too: every problem is told with its place', async () => {
  await house.client.files.exportExchange({ path: at('one.json') })
  const full = FullExchange.parse(JSON.parse(readFileSync(at('one.json'), 'utf8')))
  const place = (kind: string) => full.entities.findIndex((entity) => entity.kind === kind)
  const bodyAt = (index: number) => full.entities[index]?.revisions[0]?.body ?? {}
  const [terminal, calibration, instrument] = [place('terminal'), place('calibration'), place('instrument')]
  bodyAt(terminal).effectiveArea = { si: 9, typed: '9', unit: 'm2' }
  bodyAt(calibration).dueOn = '2025-01-01'
  const [velocity] = z.array(z.record(z.string(), z.unknown())).parse(bodyAt(instrument).senses)
  bodyAt(instrument).senses = [velocity, { ...velocity, low: { si: 40, typed: '40', unit: 'm/s' } }]
  const { field, sentence } = await failureOf(importing(full))
  const told = JSON.stringify({ field, sentence })
  for (const [index, within] of [
    [terminal, 'effectiveArea'],
    [calibration, 'dueOn'],
    [instrument, 'senses[1].quantity'],
    [instrument, 'senses[1].high'],
  ]) {
    expect(told).toContain(`$.entities[${index}].revisions[0].body.${within}`)
  }
})

test('problems of a short form are named by their JSON path, and nothing is imported', async () => {
  const form = JSON.parse(readFileSync(EXAMPLE, 'utf8'))
  form.entities[5].body.ceilingHeight = { typed: 'high', unit: 'm' }
  form.entities[8].body.effectiveArea = { typed: '9', unit: 'm2' }
  writeFileSync(at('wrong.json'), JSON.stringify(form))
  const failure = await failureOf(house.client.files.importExchange({ exchangePath: at('wrong.json'), path: at('wrong.facegrid') }))
  expect(failure.field).toBe('$.entities[5].body.ceilingHeight.typed')
  expect(JSON.stringify(failure.sentence.params)).toContain('$.entities[8]')
  const { entries } = await house.client.files.browse({ path: house.folder })
  expect(entries.map(({ name }) => name)).not.toContain('wrong.facegrid')
})

test('people of a short form may be out of use, also the one who stands first', async () => {
  const form = JSON.parse(readFileSync(EXAMPLE, 'utf8'))
  const first = form.entities.find((entity: { kind: string }) => entity.kind === 'person')
  first.body.active = false
  await importing(form)
  const [person] = await house.client.entities.list({ kinds: ['person'], within: null })
  expect(person).toMatchObject({ id: first.id, body: { active: false } })
})

test('a reading at a point that a filter does not have is named', async () => {
  const form = JSON.parse(readFileSync(EXAMPLE, 'utf8'))
  form.runs[0].readings[3].point = 5
  form.runs[1].readings[0].terminal = 'M-999'
  form.runs.at(-1).complete = false
  writeFileSync(at('wrong.json'), JSON.stringify(form))
  const failure = await failureOf(house.client.files.importExchange({ exchangePath: at('wrong.json'), path: at('wrong.facegrid') }))
  expect(failure.field).toBe('$.runs[0].readings[3]')
  expect(JSON.stringify(failure.sentence.params)).toContain('$.runs[1].readings[0]')
})

function importing(form: unknown, before = '') {
  writeFileSync(at('wrong.json'), before + JSON.stringify(form))
  return house.client.files.importExchange({ exchangePath: at('wrong.json'), path: at('wrong.facegrid') })
}

test('what a rule refuses is named with the path of the field itself', async () => {
  const form = JSON.parse(readFileSync(EXAMPLE, 'utf8'))
  form.entities[8].body.effectiveArea = { typed: '9', unit: 'm2' }
  form.runs[0].readings[0].typed = '0.4.5'
  form.runs[0].readings[1].unit = 'Pa'
  const failure = await failureOf(importing(form))
  expect(failure.field).toBe('$.entities[8].body.effectiveArea')
  form.entities[8].body.effectiveArea = { typed: '0.3', unit: 'm2' }
  const { params } = (await failureOf(importing(form))).sentence
  expect(params).toMatchObject({ path: '$.runs[0].readings[0].typed' })
  expect(JSON.stringify(params)).toContain('$.runs[0].readings[1].unit')
})

test('text that is no number, or does not say what stands beside it, is refused', async () => {
  const form = JSON.parse(readFileSync(EXAMPLE, 'utf8'))
  const area = form.entities[8].body.effectiveArea
  for (const [typed, si] of [
    ['plenty', 0.3],
    ['0.3', 0.33],
    ['1.234', 0.3],
  ]) {
    form.entities[8].body.effectiveArea = { ...area, typed, si }
    const failure = await failureOf(importing(form))
    expect(failure.field, String(typed)).toBe('$.entities[8].body.effectiveArea')
  }
})

test('a day that no calendar has is refused at its place', async () => {
  const form = JSON.parse(readFileSync(EXAMPLE, 'utf8'))
  const { at: honest } = form.runs[0]
  for (const wrong of ['2026-02-30T10:00:00.000Z', '2026-13-01T10:00:00.000Z', '2026-03-01T10:00:00Z']) {
    form.runs[0].at = wrong
    expect((await failureOf(importing(form))).field).toBe('$.runs[0].at')
  }
  form.runs[0].at = honest
  form.runs[0].readings[0].at = '2026-99-99T99:99:99.999Z'
  expect((await failureOf(importing(form))).field).toBe('$.runs[0].readings[0].at')
})

test('two filters of one tag are never mixed up: their readings are refused', async () => {
  const form = JSON.parse(readFileSync(EXAMPLE, 'utf8'))
  const { terminal: tag } = form.runs[0].readings[0]
  const filter = form.entities.find((entity: { body: { tag?: string } }) => entity.body.tag === tag)
  form.entities.push({ ...filter, id: '018f0000-0000-7000-8000-00000000dddd' })
  form.runs[0].grids = []
  const failure = await failureOf(importing(form))
  expect(failure.field).toBe('$.runs[0].readings[0].terminal')
})

test('a point named twice over must be one point', async () => {
  const form = JSON.parse(readFileSync(EXAMPLE, 'utf8'))
  form.runs[0].readings[0] = { ...form.runs[0].readings[0], point: 1, row: 2, column: 1 }
  expect((await failureOf(importing(form))).field).toBe('$.runs[0].readings[0]')
})

test('a byte order mark is no obstacle, and a due date by the month means its last day', async () => {
  const form = JSON.parse(readFileSync(EXAMPLE, 'utf8'))
  for (const entity of form.entities) if (entity.kind === 'calibration') entity.body.dueOn = '2028-02'
  await importing(form, '\ufeff')
  const certificates = await house.client.entities.list({ kinds: ['calibration'], within: null })
  expect(certificates.map(({ body }) => ('dueOn' in body ? body.dueOn : null))).toEqual(certificates.map(() => '2028-02-29'))
})

test('a newer format and a file that is no JSON are refused in words', async () => {
  writeFileSync(at('newer.json'), JSON.stringify({ format: 'facegrid exchange', formatVersion: 99, form: 'full' }))
  writeFileSync(at('no.json'), 'not json')
  const refused = (name: string) => failureOf(house.client.files.importExchange({ exchangePath: at(name), path: at('x.facegrid') }))
  expect((await refused('newer.json')).kind).toBe('newer_file')
  expect((await refused('no.json')).sentence.code).toBe('exchange.not_json')
})

test('the published JSON Schema is current, and accepts the worked example and an export', async () => {
  expect(JSON.parse(readFileSync(PUBLISHED, 'utf8'))).toEqual(JSON.parse(JSON.stringify(exchangeJsonSchema())))
  const ajv = new Ajv2020({ strict: false })
  addFormats.default(ajv)
  const accepts = ajv.compile(exchangeJsonSchema())
  const example = JSON.parse(readFileSync(EXAMPLE, 'utf8'))
  expect(accepts(example), JSON.stringify(accepts.errors?.slice(0, 3))).toBe(true)
  await makeRich()
  await house.client.files.exportExchange({ path: at('one.json') })
  expect(accepts(JSON.parse(readFileSync(at('one.json'), 'utf8'))), JSON.stringify(accepts.errors?.slice(0, 3))).toBe(true)
  example.entities[5].body.airflowType = 'sideways'
  expect(accepts(example)).toBe(false)
})

test('an export as a job runs beside the recording, and a second one never overwrites', async () => {
  const runId = await startRun(house, site)
  const job = await house.client.jobs.startExport({ path: at('job.json') })
  await record(house, site, runId, 1, '0.45')
  await expect.poll(async () => (await house.client.jobs.get({ id: job.id })).state, { timeout: 15_000 }).toBe('done')
  const { path: written } = writtenBy((await house.client.jobs.get({ id: job.id })).result)
  expect(FullExchange.parse(JSON.parse(readFileSync(written, 'utf8'))).entities.length).toBeGreaterThan(5)
  const again = await house.client.jobs.startExport({ path: at('job.json') })
  await expect.poll(async () => (await house.client.jobs.get({ id: again.id })).state, { timeout: 15_000 }).toBe('failed')
  expect((await house.client.jobs.get({ id: again.id })).failure?.kind).toBe('already_exists')
})

function writtenBy(result: unknown): { path: string } {
  if (typeof result === 'object' && result !== null && 'path' in result && typeof result.path === 'string') return { path: result.path }
  throw new Error('the job has no result')
}
