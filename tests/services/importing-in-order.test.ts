import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import type { ImportMapping } from '#core/model/import-mapping.ts'
import { buildSite, type House, type Site, startHouse, startRun } from './bench-site.ts'
import { BY_TAG, importFile, writeText } from './import-site.ts'

let house: House
let site: Site
let runId: string
beforeEach(async () => {
  house = startHouse()
  site = await buildSite(house)
  runId = await startRun(house, site)
})
afterEach(() => house.engine.close())

const HEAD = 'Tag;Velocity [m/s];Time'
const columns = { ...BY_TAG.columns, terminal: null, point: null, value: 2, time: 3 }
const SWEEP: ImportMapping = { ...BY_TAG, header: ['tag', 'velocity [m/s]', 'time'], columns }
const PER_TERMINAL: ImportMapping = { ...SWEEP, columns: { ...columns, terminal: 1 } }

/** Eight values as they were measured, minute by minute: the first four on T-1, the others on T-2. */
const VALUES = ['0,40', '0,41', '0,42', '0,43', '0,44', '0,45', '0,46', '0,47']
const ROWS = VALUES.map((value, index) => `T-${index < 4 ? 1 : 2};${value};02.03.2026 08:0${index}:00`)
const rowAt = (index: number) => ROWS[index] ?? ''

/** Imports these rows; the values in the order of the points they were laid onto, and what the outcome says. */
async function laid(rows: readonly string[], mapping = SWEEP) {
  const file = writeText(house, 'logger.csv', `${HEAD}\n${rows.join('\n')}\n`)
  const outcome = await importFile(house, site, runId, file, { mapping })
  const { readings } = await house.client.runs.get({ runId })
  const inPoints = [...readings].sort((a, b) => a.point - b.point)
  return { typed: inPoints.map(({ typed }) => typed), at: inPoints.map(({ at }) => at), outcome }
}

describe('values that have only their order', () => {
  test('in order of time they are laid as the file has them, without a word', async () => {
    const { typed, outcome } = await laid(ROWS)
    expect(typed).toEqual(VALUES)
    expect(outcome.notes).toEqual([])
  })

  test('newest first, they are laid in order of time, and the first row that goes back is named', async () => {
    const { typed, at, outcome } = await laid([...ROWS].reverse())
    expect(typed).toEqual(VALUES)
    // 08:00 in Vienna in March is 07:00 UTC.
    expect(at[0]).toBe('2026-03-02T07:00:00.000Z')
    // The head is row 1, the newest row 2, and row 3 a minute earlier than that.
    expect(outcome.notes).toEqual([{ code: 'import.not_in_order', params: { row: 3, sameTime: null } }])
    expect(outcome.preview[0]).toMatchObject({ row: 2, typed: '0,47', tag: 'T-2', order: 4 })
  })

  test('two rows that changed places go back to them', async () => {
    const rows = [0, 1, 5, 3, 4, 2, 6, 7].map(rowAt)
    const { typed, outcome } = await laid(rows)
    expect(typed).toEqual(VALUES)
    expect(outcome.notes).toMatchObject([{ params: { row: 5 } }])
  })

  test('rows of one time stay as the file has them, and the first of them is named', async () => {
    const tied = [...[0, 1, 3, 2, 4].map(rowAt), 'T-2;0,45;02.03.2026 08:05:00', 'T-2;0,46;02.03.2026 08:05:00', rowAt(7)]
    const { typed, outcome } = await laid(tied)
    expect(typed).toEqual(VALUES)
    expect(outcome.notes).toMatchObject([{ params: { row: 5, sameTime: 8 } }])
  })

  test('by terminal, each terminal has an order of its own', async () => {
    const grouped = [4, 5, 6, 7, 0, 1, 2, 3].map(rowAt)
    const { typed, outcome } = await laid(grouped, PER_TERMINAL)
    expect(typed).toEqual(VALUES)
    expect(outcome.notes).toEqual([])
  })

  test('by terminal and newest first, each terminal is laid in order of time', async () => {
    const { typed, outcome } = await laid([...ROWS].reverse(), PER_TERMINAL)
    expect(typed).toEqual(VALUES)
    expect(outcome.notes).toMatchObject([{ code: 'import.not_in_order', params: { row: 3 } }])
  })

  test('nothing comes in while one row has no time', async () => {
    const { typed, outcome } = await laid([...ROWS.slice(0, 3), 'T-1;0,43;', ...ROWS.slice(4)])
    expect(typed).toEqual([])
    expect(outcome).toMatchObject({ imported: false, problems: [{ row: 5, column: 3, sentence: { code: 'import.no_time' } }] })
  })

  const iso = { ...SWEEP, timeFormat: '' }
  const isoRows = VALUES.map((value, index) => `T;${value};2026-03-02 08:0${index}:00`)
  const others: readonly [string, string, string][] = [
    ['a time with its own zone among local ones', '2026-03-02T08:03:00Z', 'import.time_otherwise'],
    ['a day without a time', '2026-03-02', 'import.time_otherwise'],
    ['a time of no day', '08:03:00', 'import.no_day'],
  ]
  test.each(others)('nothing comes in that cannot be put in order: %s', async (_name, text, code) => {
    const { typed, outcome } = await laid([...isoRows.slice(0, 3), `T;0,43;${text}`, ...isoRows.slice(4)], iso)
    expect(typed).toEqual([])
    expect(outcome).toMatchObject({ imported: false, problems: [{ row: 5, sentence: { code } }] })
  })

  test('an hour that came twice puts no rows in order', async () => {
    // In Vienna 26 October 2025, 02:00 to 03:00, came twice (EU directive 2000/84/EC).
    const night = VALUES.map((value, index) => `T;${value};26.10.2025 0${index < 4 ? 2 : 3}:0${7 - index}:00`)
    const { typed, outcome } = await laid(night)
    expect(typed).toEqual([])
    expect(outcome.problems.map(({ row, sentence }) => [row, sentence.code])).toEqual([2, 3, 4, 5].map((row) => [row, 'import.time_twice']))
  })
})
