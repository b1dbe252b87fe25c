import { appendFileSync, closeSync, ftruncateSync, openSync, writeFileSync, writeSync } from 'node:fs'
import path from 'node:path'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { buildSite, type House, type Site, startHouse, startRun } from './bench-site.ts'
import { failureOf } from './failure.ts'
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

const TEXT = `${HEAD}\n${EIGHT}\n`
const inFolder = (name: string) => path.join(house.folder, name)

function writeBytes(name: string, bytes: Uint8Array): string {
  writeFileSync(inFolder(name), bytes)
  return inFolder(name)
}

const utf16 = (text: string, order: 'le' | 'be') => {
  const bytes = Buffer.from(text, 'utf16le')
  return order === 'le' ? bytes : bytes.swap16()
}

describe('a file of another encoding', () => {
  const encoded: readonly [string, () => Buffer, string][] = [
    ['UTF-8 with a mark', () => Buffer.from(`\ufeff${TEXT}`), 'utf-8'],
    ['UTF-16 with a mark', () => utf16(`\ufeff${TEXT}`, 'le'), 'utf-16le'],
    ['UTF-16 in the other order', () => utf16(`\ufeff${TEXT}`, 'be'), 'utf-16be'],
    ['UTF-16 without a mark', () => utf16(TEXT, 'le'), 'utf-16le'],
    ['Latin-1, with a degree sign that is no UTF-8', () => Buffer.from(`Pr\xfcfstand 7, 21 \xb0C\n\n${TEXT}`, 'latin1'), 'windows-1252'],
    ['lines that end as on Windows', () => Buffer.from(TEXT.replaceAll('\n', '\r\n')), 'utf-8'],
    ['lines that end as on old Macs', () => Buffer.from(TEXT.replaceAll('\n', '\r')), 'utf-8'],
  ]

  test.each(encoded)('is read as what it says: %s', async (_name, bytes, encoding) => {
    const file = writeBytes('encoded.csv', bytes())
    const look = await house.client.imports.look({ path: file, delimiter: null })
    expect(look).toMatchObject({ encoding, proposed: { delimiter: ';', header: BY_TAG.header } })
    expect(await importFile(house, site, runId, file)).toMatchObject({ imported: true, readings: 8 })
  })

  test('that is broken in the middle keeps its rows out, each with its problem', async () => {
    const bytes = Buffer.concat([
      Buffer.from(`\ufeff${HEAD}\nT-`),
      Buffer.from([0xff, 0xfe]),
      Buffer.from(`1;1;0,45;02.03.2026 08:00:00\n${EIGHT}\n`),
    ])
    const outcome = await importFile(house, site, runId, writeBytes('broken.csv', bytes))
    expect(outcome).toMatchObject({ imported: false, readings: 8, problemRows: 1 })
    expect(outcome.problems[0]).toMatchObject({ row: 2, column: 1, sentence: { code: 'import.unknown_tag' } })
  })
})

test('a workbook, a picture and an empty file are refused in a sentence that says what to do', async () => {
  const codeOf = async (file: string) => (await failureOf(house.client.imports.look({ path: file, delimiter: null }))).sentence.code
  // The first bytes of a ZIP archive, which workbooks are, and of a PNG picture.
  expect(await codeOf(writeBytes('book.xlsx', Buffer.from([0x50, 0x4b, 3, 4, 20, 0, 6, 0, 8, 0, 0, 0])))).toBe('import.not_text')
  expect(await codeOf(writeBytes('photo.csv', Buffer.from([0x89, 0x50, 0x4e, 0x47, 13, 10, 26, 10, 0, 0, 0, 13])))).toBe('import.not_text')
  expect(await codeOf(writeText(house, 'empty.csv', ''))).toBe('import.file_empty')
  expect(await codeOf(writeText(house, 'blank.csv', '\ufeff\r\n\r\n ; ;\r\n'))).toBe('import.file_empty')
})

test('a quotation mark that is never closed is told at its row, however long the file goes on', async () => {
  const file = writeText(house, 'open.csv', `${HEAD}\n${EIGHT}\nT-1;"1;0,45;02.03.2026 08:00:00\n`)
  expect((await ended(house, (await startImport(house, site, runId, file)).id)).failure).toMatchObject({
    sentence: { code: 'import.unreadable', params: { row: 10 } },
  })
  appendFileSync(file, 'T-1;1;0,45;02.03.2026 08:00:00\n'.repeat(1_000_000))
  const long = await ended(house, (await startImport(house, site, runId, file)).id)
  expect(long.failure).toMatchObject({ sentence: { code: 'import.endless_row', params: { row: 10 } } })
}, 60_000)

test('quoted cells may hold the delimiter, quotes and line ends', async () => {
  const quoted = EIGHT.split('\n').map((row) =>
    row
      .split(';')
      .map((cell) => `"${cell}"`)
      .join(';'),
  )
  const file = writeText(house, 'quoted.csv', `"Logger ""7""; first\nfloor"\n\n${HEAD}\n\n${quoted.join('\n\n')}\n;;;\n`)
  expect(await importFile(house, site, runId, file)).toMatchObject({ imported: true, readings: 8, rows: 8 })
})

test('a file that changed since its rows were looked at is not imported until it was looked at again', async () => {
  const file = writeText(house, 'logger.csv', TEXT)
  const { sha256 } = await importFile(house, site, runId, file, { dryRun: true })
  const seen = (text: string) => {
    writeFileSync(file, text)
    return importFile(house, site, runId, file, { seen: sha256 })
  }
  // One digit of a value that is as good as the one before: nothing else could tell.
  await expect(seen(TEXT.replace('0,411', '0,412'))).rejects.toThrow('import.file_changed')
  await expect(seen(TEXT.replace(/\n[^\n]*\n$/, '\n'))).rejects.toThrow('import.file_changed')
  expect((await house.client.runs.get({ runId })).readings).toEqual([])
  expect(await house.client.attachments.list({ ownerId: runId })).toEqual([])
  expect(await seen(TEXT)).toMatchObject({ imported: true, readings: 8 })
})

test('a file of two gigabytes of nothing is read to its end, and can be stopped before', async () => {
  const file = writeText(house, 'sparse.csv', TEXT)
  const handle = openSync(file, 'r+')
  // A hole: the file takes no space, and its bytes read as zeros after the first rows.
  ftruncateSync(handle, 2 ** 31)
  writeSync(handle, '\n', 2 ** 31 - 1)
  closeSync(handle)
  const { id } = await startImport(house, site, runId, file, { dryRun: true })
  await new Promise((resolve) => setTimeout(resolve, 300))
  await house.client.jobs.cancel({ id })
  const { state, failure } = await ended(house, id)
  expect(state === 'cancelled' || failure?.sentence.code === 'import.endless_row').toBe(true)
})
