import { createHash } from 'node:crypto'
import { readFileSync, statSync } from 'node:fs'
import path from 'node:path'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { checkFile } from '#electron/services/job-work.ts'
import { buildSite, type House, record, type Site, startHouse, startRun } from './bench-site.ts'
import { BY_TAG, EIGHT, ended, HEAD, importFile, startImport, writeText } from './import-site.ts'

let house: House
let site: Site
let runId: string
beforeEach(async () => {
  house = startHouse()
  site = await buildSite(house)
  runId = await startRun(house, site)
})
afterEach(() => house.engine.close())

const hashOf = (file: string) => createHash('sha256').update(readFileSync(file)).digest('hex')
const readingsNow = async () => (await house.client.runs.get({ runId })).readings
const entries = async () => (await house.client.audit.list({ about: null, before: null, limit: 100 })).entries
const problemsIn = () => (checkFile(path.join(house.folder, 'site.facegrid'))?.findings ?? []).filter(({ kind }) => kind === 'problem')

describe('a file by tag and point', () => {
  test('comes in as one command, with its values, times, instrument and the file itself', async () => {
    const file = writeText(house, 'logger.csv', `${HEAD}\n${EIGHT}\n`)
    const before = (await entries()).length
    const outcome = await importFile(house, site, runId, file)
    expect(outcome).toMatchObject({ imported: true, rows: 8, readings: 8, problemRows: 0, keptWhole: true, sha256: hashOf(file) })
    const readings = await readingsNow()
    expect(readings.map(({ point, si, typed, unit, at }) => ({ point, si, typed, unit, at }))).toEqual(
      [1, 2].flatMap((filter) =>
        [1, 2, 3, 4].map((point) => ({
          point: (filter - 1) * 4 + point,
          si: Number(`0.4${filter}${point}`),
          typed: `0,4${filter}${point}`,
          unit: 'm/s',
          at: `2026-03-02T07:0${filter}:0${point}.000Z`,
        })),
      ),
    )
    expect(readings.every(({ instrumentId, personId }) => instrumentId === site.instrumentId && personId === site.personId)).toBe(true)
    const [entry] = await entries()
    expect((await entries()).length).toBe(before + 1)
    expect(entry).toMatchObject({ command: 'reading.import', scope: runId, personId: site.personId })
    const [attachment] = await house.client.attachments.list({ ownerId: runId })
    expect(attachment).toMatchObject({ name: 'logger.csv', sha256: hashOf(file), bytes: statSync(file).size })
    const kept = await house.client.attachments.get({ id: attachment?.id ?? '' })
    expect(Buffer.from(kept.contentBase64, 'base64').equals(readFileSync(file))).toBe(true)
    expect(problemsIn()).toEqual([])
    // What is typed afterwards goes on in the same segment, and the engine knows what the worker wrote.
    const first = readings[0]
    await record(house, site, runId, 1, '0.5', first?.id)
    expect((await house.client.evaluation.run({ runId })).filters[0]?.pointsMeasured).toBe(4)
    expect(problemsIn()).toEqual([])
  })

  test('a dry run shows everything and writes nothing', async () => {
    const file = writeText(house, 'logger.csv', `${HEAD}\n${EIGHT}\n`)
    const before = await entries()
    const outcome = await importFile(house, site, runId, file, { dryRun: true })
    expect(outcome).toMatchObject({ imported: false, refused: null, readings: 8 })
    expect(outcome.preview[7]).toMatchObject({ row: 9, tag: 'T-2', point: 8, order: 4, sample: 1, si: 0.424, typed: '0,424' })
    expect(await readingsNow()).toEqual([])
    expect(await entries()).toEqual(before)
  })

  test('every problem stands at its row, and one problem keeps everything out', async () => {
    const rows = [
      'T-9;1;0,45;02.03.2026 08:00:00',
      'T-1;5;0,45;02.03.2026 08:00:00',
      'T-1;1;0.45;02.03.2026 08:00:00',
      'T-1;1;ten;02.03.2026 08:00:00',
      'T-1;1;0,45;02.13.2026 08:00:00',
      'T-1;1;0,45;02.03.2036 08:00:00',
      'T-1;1;;02.03.2026 08:00:00',
      'T-1;1;-0,2;02.03.2026 08:00:00',
      'T-1;2;0,45;02.03.2026 08:00:00',
      'T-1;2;0,46;02.03.2026 08:00:01',
      'T-1;3;300 m3/h;02.03.2026 08:00:01',
      'T-2;1;0,45;02.03.2026 08:00:00',
    ]
    await record(house, site, runId, 5, '0.44')
    const file = writeText(house, 'odd.csv', `\ufeffLogger 7\n\n${HEAD}\n${rows.join('\n')}\n\n`)
    const outcome = await importFile(house, site, runId, file)
    expect(outcome).toMatchObject({ imported: false, rows: 12, readings: 1, problemRows: 11 })
    expect(outcome.refused).toEqual({ code: 'import.problems', params: { problems: 11, rows: 12 } })
    expect(outcome.problems.map(({ row, column, sentence }) => [row, column, sentence.code])).toEqual([
      [4, 1, 'import.unknown_tag'],
      [5, 2, 'import.no_such_point'],
      [6, 3, 'import.other_decimal'],
      [7, 3, 'units.not_a_number'],
      [8, 4, 'import.no_time'],
      [9, 4, 'import.time_ahead'],
      [10, 3, 'import.no_value'],
      [11, 3, 'refusal.no_reverse_flow'],
      [13, 2, 'import.same_place'],
      [14, 3, 'units.other_dimension'],
      [15, 2, 'import.has_reading'],
    ])
    expect((await readingsNow()).length).toBe(1)
    expect(await house.client.attachments.list({ ownerId: runId })).toEqual([])
  })

  test('the same file is noticed before anything is written, and comes in again when the person says so', async () => {
    const file = writeText(house, 'logger.csv', `${HEAD}\n${EIGHT}\n`)
    await importFile(house, site, runId, file)
    const second = await startRun(house, site, { phase: 'as_left' })
    const renamed = writeText(house, 'renamed.csv', readFileSync(file, 'utf8'))
    expect((await importFile(house, site, second, renamed, { dryRun: true })).earlier).toMatchObject([
      { name: 'logger.csv', personId: site.personId },
    ])
    const refused = await ended(house, (await startImport(house, site, second, renamed)).id)
    expect(refused.failure).toMatchObject({ kind: 'conflict', sentence: { code: 'import.twice' } })
    expect((await house.client.runs.get({ runId: second })).readings).toEqual([])
    expect(await importFile(house, site, second, renamed, { again: true })).toMatchObject({ imported: true, readings: 8 })
    expect(problemsIn()).toEqual([])
  })

  test('is undone and redone as one step', async () => {
    await importFile(house, site, runId, writeText(house, 'logger.csv', `${HEAD}\n${EIGHT}\n`))
    const undone = await house.client.commands.undo({ command: house.newCommand(site.personId), scope: runId })
    expect(undone.undone).toBe('reading.import')
    expect((await readingsNow()).every(({ voided }) => voided !== null)).toBe(true)
    await house.client.commands.redo({ command: house.newCommand(site.personId), scope: runId })
    expect((await readingsNow()).filter(({ voided }) => voided === null).map(({ si }) => si)).toHaveLength(8)
    expect(problemsIn()).toEqual([])
  })

  test('a repeated command is answered and not done twice', async () => {
    const file = writeText(house, 'logger.csv', `${HEAD}\n${EIGHT}\n`)
    const command = house.newCommand(site.personId)
    await importFile(house, site, runId, file, { command })
    const before = await entries()
    const repeated = await ended(house, (await startImport(house, site, runId, file, { command })).id)
    expect(await entries()).toEqual(before)
    expect(repeated.state).toBe('done')
  })

  test('rows of a certification find their runs by the tag', async () => {
    const file = writeText(house, 'logger.csv', `${HEAD}\n${EIGHT}\n`)
    const into = { kind: 'certification', certificationId: site.certificationId } as const
    expect(await importFile(house, site, runId, file, { into })).toMatchObject({ imported: true, runs: [{ runId, readings: 8 }] })
    expect((await house.client.attachments.list({ ownerId: site.certificationId })).map(({ name }) => name)).toEqual(['logger.csv'])
    const second = await startRun(house, site, { phase: 'as_left' })
    const refused = await importFile(house, site, second, file, { into, dryRun: true })
    expect(refused.problems[0]?.sentence.code).toBe('import.tag_twice')
  })

  test('a signed or complete run, a missing file and another head are refused in a sentence', async () => {
    const file = writeText(house, 'logger.csv', `${HEAD}\n${EIGHT}\n`)
    const other = writeText(house, 'other.csv', 'a;b;c;d\n1;2;3;4\n')
    const codeOf = async (path: string) => (await ended(house, (await startImport(house, site, runId, path)).id)).failure?.sentence.code
    expect(await codeOf(other)).toBe('import.other_head')
    expect(await codeOf(path.join(house.folder, 'none.csv'))).toBe('file.missing')
    // All days up to 12: the look proposes no order of day and month, and nothing is read until one is chosen.
    const open = writeText(house, 'open.csv', `${HEAD}\n${EIGHT.replaceAll('.03.2026', '/03/2026')}\n`)
    const { proposed } = await house.client.imports.look({ path: open, delimiter: null })
    expect(proposed.timeFormat).toBeNull()
    const unasked = (await ended(house, (await startImport(house, site, runId, open, { mapping: proposed })).id)).failure
    expect(unasked).toMatchObject({ sentence: { code: 'import.time_not_chosen' }, field: 'mapping.timeFormat' })
    expect(await codeOf(writeText(house, 'empty.csv', `${HEAD}\n\n`))).toBe('import.no_rows')
    await importFile(house, site, runId, file)
    const { run } = await house.client.runs.get({ runId })
    await house.client.runs.complete({ command: house.newCommand(site.personId), runId, revision: run.revision })
    expect(await codeOf(file)).toBe('error.run_complete')
  })
})

test('times and values alone are laid onto the points in the order of the sweep', async () => {
  const mapping = {
    ...BY_TAG,
    decimal: 'point' as const,
    header: ['time', 'speed [fpm]'],
    headerRow: 1,
    delimiter: ',' as const,
    timeFormat: '',
  }
  const columns = { ...BY_TAG.columns, terminal: null, point: null, value: 2, time: 1 }
  const six = Array.from({ length: 6 }, (_, index) => `2026-03-02 08:0${index}:00,${90 + index}`).join('\n')
  const file = writeText(house, 'sweep.csv', `Time,Speed [fpm]\n${six}\n`)
  const outcome = await importFile(house, site, runId, file, { mapping: { ...mapping, columns } })
  expect(outcome.notes).toEqual([{ code: 'import.fewer_values', params: { places: 2 } }])
  // 90 ft/min is 0.4572 m/s exactly (1 ft = 0.3048 m).
  expect((await readingsNow()).map(({ point, si }) => [point, Math.round(si * 1e6) / 1e6])).toEqual([
    [1, 0.4572],
    [2, 0.46228],
    [3, 0.46736],
    [4, 0.47244],
    [5, 0.47752],
    [6, 0.4826],
  ])
  const more = await importFile(house, site, runId, writeText(house, 'more.csv', `Time,Speed [fpm]\n${six}\n# \n`.replace('# \n', '')), {
    mapping: { ...mapping, columns },
    again: true,
  })
  // Two points are left from the first one without a reading on; the other four values have no place.
  expect(more).toMatchObject({ imported: false, readings: 2, problemRows: 4 })
  expect(more.problems[0]?.sentence.code).toBe('import.no_point_left')
})
