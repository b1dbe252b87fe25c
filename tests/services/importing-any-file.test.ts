import { readFileSync } from 'node:fs'
import path from 'node:path'
import fc from 'fast-check'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { FullExchange } from '#core/model/exchange.ts'
import type { Unit } from '#core/model/values.ts'
import { checkFile } from '#electron/services/job-work.ts'
import { buildSite, type House, type Site, startHouse, startRun } from './bench-site.ts'
import { ended, importFile, startImport, writeText } from './import-site.ts'

const SAMPLES = 3
const [TAGS, POINTS] = [['T-1', 'T-2'], 4]

let house: House
let site: Site
beforeEach(async () => {
  house = startHouse()
  site = await buildSite(house)
})
afterEach(() => house.engine.close())

/** Exact by definition: 1 ft is 0.3048 m, a minute 60 s. */
const MPS: Partial<Record<Unit, number>> = { 'm/s': 1, 'ft/min': 0.3048 / 60 }
const SPELLED: readonly (readonly [string, Unit])[] = [
  ['m/s', 'm/s'],
  ['fpm', 'ft/min'],
  ['ft/min', 'ft/min'],
]

type Row = { readonly tag: string; readonly point: number; readonly sample: number; readonly hundredths: number }
type Slip = 'tag' | 'point' | 'sample' | 'value' | 'no value' | 'twice' | 'ahead'

/** A file as loggers, spreadsheets and people leave it: what it means is known, how it is written is left to chance. */
const anyFile = fc.record({
  rows: fc
    .shuffledSubarray(
      TAGS.flatMap((tag) =>
        Array.from({ length: POINTS * SAMPLES }, (_, at) => ({ tag, point: Math.floor(at / SAMPLES) + 1, sample: (at % SAMPLES) + 1 })),
      ),
      { minLength: 3 },
    )
    .chain((places) =>
      fc.tuple(...places.map((place) => fc.integer({ min: 20, max: 9999 }).map((hundredths): Row => ({ ...place, hundredths })))),
    ),
  delimiter: fc.constantFrom(';', '\t', ','),
  comma: fc.boolean(),
  unit: fc.constantFrom(...SPELLED),
  unitIn: fc.constantFrom('head', 'column', 'cell'),
  columns: fc.shuffledSubarray(['tag', 'point', 'sample', 'value', 'time', 'remark'] as const, { minLength: 6 }),
  above: fc.array(fc.constantFrom('', 'Logger 7', 'Site: Lindenau', 'Written by nobody, floor 2'), { maxLength: 6 }),
  lineEnd: fc.constantFrom('\n', '\r\n'),
  mark: fc.boolean(),
  quoted: fc.boolean(),
  blankAfter: fc.nat({ max: 3 }),
  slip: fc.option(
    fc.tuple(fc.constantFrom<Slip[]>('tag', 'point', 'sample', 'value', 'no value', 'twice', 'ahead'), fc.nat({ max: 1000 })),
    { freq: 2, nil: null },
  ),
})
type AnyFile = typeof anyFile extends fc.Arbitrary<infer T> ? T : never

/** The text of a file, and the rows of it that cannot become readings. */
function written(file: AnyFile): { text: string; bad: number[] } {
  const { delimiter, comma, unit, unitIn, columns, lineEnd } = file
  const cell = (text: string) => (file.quoted || text.includes(delimiter) ? `"${text.replaceAll('"', '""')}"` : text)
  const used = unitIn === 'column' ? ([...columns, 'unit'] as const) : columns
  const heads = {
    tag: 'Terminal',
    point: 'Point',
    sample: 'Sample',
    value: unitIn === 'head' ? `Velocity [${unit[0]}]` : 'Velocity',
    time: 'Time',
    remark: 'Remark',
    unit: 'Unit',
  }
  const lines: string[] = []
  const bad: number[] = []
  const add = (cells: readonly string[]) => lines.push(cells.map(cell).join(delimiter))
  for (const line of file.above) lines.push(cell(line))
  add(used.map((column) => heads[column]))
  const at = file.slip === null ? -1 : file.slip[1] % file.rows.length
  for (const [index, { tag, point, sample, hundredths }] of file.rows.entries()) {
    const slip = index === at ? (file.slip?.[0] ?? null) : null
    const number = (hundredths / 100).toFixed(2).replace('.', comma ? ',' : '.')
    const value = unitIn === 'cell' ? `${number} ${unit[0]}` : number
    const cells = {
      tag: slip === 'tag' ? 'T-9' : tag,
      point: String(slip === 'point' ? POINTS + 1 : point),
      sample: String(slip === 'sample' ? SAMPLES + 1 : sample),
      value: slip === 'value' ? 'n/a' : slip === 'no value' ? '' : value,
      time: slip === 'ahead' ? '2031-01-01 08:00:00' : `2026-03-01 08:00:${String(index).padStart(2, '0')}`,
      remark: index % 3 === 0 ? 'behind the "lamp"' : '',
      unit: unit[0],
    }
    add(used.map((column) => cells[column]))
    if (slip !== null && slip !== 'twice') bad.push(lines.length)
    if (slip === 'twice') {
      add(used.map((column) => cells[column]))
      bad.push(lines.length)
    }
    if (index % 4 === 3) for (let blank = 0; blank < file.blankAfter; blank += 1) lines.push(blank === 1 ? delimiter : '')
  }
  return { text: `${file.mark ? '\ufeff' : ''}${lines.join(lineEnd)}${lineEnd}`, bad }
}

const COLUMNS = [
  ['tag', 'terminal'],
  ['point', 'point'],
  ['sample', 'sample'],
  ['value', 'value'],
  ['time', 'time'],
] as const
const trail = async () => (await house.client.audit.list({ about: null, before: null, limit: 500 })).entries
const problems = (name = 'site.facegrid') =>
  (checkFile(path.join(house.folder, name))?.findings ?? []).filter(({ kind }) => kind === 'problem')

async function exported(name: string): Promise<{ bytes: string; form: FullExchange }> {
  const { path: file } = await house.client.files.exportExchange({ path: path.join(house.folder, name) })
  const bytes = readFileSync(file, 'utf8')
  return { bytes, form: FullExchange.parse(JSON.parse(bytes)) }
}

test('any file comes in whole or not at all, is told from its first rows, and noticed when it comes again', async () => {
  let [whole, refused] = [0, 0]
  await fc.assert(
    fc.asyncProperty(anyFile, async (file) => {
      const runId = await startRun(house, site, { samplesPerPoint: SAMPLES })
      const { text, bad } = written(file)
      const name = writeText(house, 'any.csv', text)
      const { proposed } = await house.client.imports.look({ path: name, delimiter: null })
      expect(proposed.delimiter).toBe(file.delimiter)
      expect(proposed.headerRow).toBe(file.above.length + 1)
      for (const [column, use] of COLUMNS) {
        expect(proposed.columns[use]).toBe(file.columns.indexOf(column) + 1)
      }
      const mapping = { ...proposed, decimal: file.comma ? ('comma' as const) : ('point' as const) }
      const before = await trail()
      const again = bad.length === 0 && file.slip === null ? { again: true } : {}
      const outcome = await importFile(house, site, runId, name, { mapping, ...again })
      const readings = (await house.client.runs.get({ runId })).readings
      if (bad.length > 0) {
        refused += 1
        expect(outcome).toMatchObject({ imported: false, problemRows: bad.length })
        expect(outcome.problems.map(({ row }) => row)).toEqual(bad)
        expect(readings).toEqual([])
        expect(await house.client.attachments.list({ ownerId: runId })).toEqual([])
        expect(await trail()).toEqual(before)
        return
      }
      whole += 1
      expect(outcome).toMatchObject({ imported: true, rows: file.rows.length, readings: file.rows.length })
      const key = (point: number, sample: number) => `${point}/${sample}`
      const factor = MPS[file.unit[1]] ?? Number.NaN
      const meant = new Map(
        file.rows.map(({ tag, point, sample, hundredths }) => [
          key(TAGS.indexOf(tag) * POINTS + point, sample),
          (hundredths / 100) * factor,
        ]),
      )
      expect(readings).toHaveLength(meant.size)
      for (const { point, sample, si } of readings) expect(si).toBeCloseTo(meant.get(key(point, sample)) ?? Number.NaN, 12)
      expect((await trail()).length).toBe(before.length + 1)
      const second = await startRun(house, site, { phase: 'as_left', samplesPerPoint: SAMPLES })
      const twice = await ended(house, (await startImport(house, site, second, name, { mapping })).id)
      expect(twice.failure?.sentence.code).toBe('import.twice')
    }),
    { numRuns: 40 },
  )
  expect(Math.min(whole, refused)).toBeGreaterThan(5)
  expect(problems()).toEqual([])
}, 300_000)

test('an import that is undone leaves every earlier reading, entry and byte of the export as they were', async () => {
  await fc.assert(
    fc.asyncProperty(
      anyFile.filter(({ slip }) => slip === null),
      fc.boolean(),
      async (file, more) => {
        const runId = await startRun(house, site, { samplesPerPoint: SAMPLES })
        const name = writeText(house, 'any.csv', written(file).text)
        const { proposed } = await house.client.imports.look({ path: name, delimiter: null })
        const order = { mapping: { ...proposed, decimal: file.comma ? ('comma' as const) : ('point' as const) } }
        const [before, trailBefore] = [await exported(`${runId}-before.json`), await trail()]
        await importFile(house, site, runId, name, order)
        const scope = () => ({ command: house.newCommand(site.personId), scope: runId })
        await house.client.commands.undo(scope())
        if (more) {
          await house.client.commands.redo(scope())
          await house.client.commands.undo(scope())
        }
        const readings = (await house.client.runs.get({ runId })).readings
        expect(readings).toHaveLength(file.rows.length * (more ? 2 : 1))
        expect(readings.every(({ voided }) => voided !== null)).toBe(true)
        const [after, trailAfter] = [await exported(`${runId}-after.json`), await trail()]
        const commands = more ? ['undo', 'redo', 'undo', 'reading.import'] : ['undo', 'reading.import']
        expect(trailAfter.slice(0, commands.length).map(({ command }) => command)).toEqual(commands)
        expect(trailAfter.slice(commands.length)).toEqual(trailBefore)
        // Everything that was exported before stands in the export now, as it was; what is new belongs to the import and its undo.
        for (const part of ['entities', 'readings', 'trail', 'signedResults', 'attachments', 'contents'] as const) {
          const known = new Set(after.form[part].map((one) => JSON.stringify(one)))
          expect(before.form[part].filter((one) => !known.has(JSON.stringify(one)))).toEqual([])
        }
        expect(after.form.readings.length - before.form.readings.length).toBe(readings.length)
        // It stands no more, and so the same file is no second one.
        expect(await importFile(house, site, runId, name, { ...order, dryRun: true })).toMatchObject({ earlier: [], problemRows: 0 })
      },
    ),
    { numRuns: 8 },
  )
  expect(problems()).toEqual([])
  const { bytes } = await exported('last.json')
  await house.client.files.importExchange({
    exchangePath: path.join(house.folder, 'last.json'),
    path: path.join(house.folder, 'copy.facegrid'),
  })
  expect(problems('copy.facegrid')).toEqual([])
  expect((await exported('copy.json')).bytes).not.toBe('')
  expect(bytes).toContain('"reading.import"')
}, 300_000)
