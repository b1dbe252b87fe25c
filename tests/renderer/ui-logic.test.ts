import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { base64ToBytes, bytesToBase64 } from '#renderer/projects/attachment-bytes.ts'
import { fileNameOf, inFolder, proposedName } from '#renderer/projects/chooser-name.ts'
import { findingsOf } from '#renderer/projects/findings.ts'
import { marginScale } from '#renderer/ui/margin-scale.ts'
import { sortRows } from '#renderer/ui/sort-rows.ts'

describe('the margin scale', () => {
  const figure = fc.double({ min: -1e6, max: 1e6, noNaN: true })
  test('keeps everything on the bar and in the order of the figures', () => {
    fc.assert(
      fc.property(figure, figure, (value, low) => {
        const scale = marginScale(value, low, null)
        expect(scale.high).toBeNull()
        const [at, limit] = [scale.value ?? Number.NaN, scale.low ?? Number.NaN]
        expect(at).toBeGreaterThanOrEqual(0)
        expect(at).toBeLessThanOrEqual(1)
        if (value > low) expect(at).toBeGreaterThan(limit)
        if (value < low) expect(at).toBeLessThan(limit)
        if (value === low) expect(at).toBe(limit)
      }),
    )
  })

  test('has no places where there are no figures', () => {
    expect(marginScale(null, null, null)).toEqual({ value: null, low: null, high: null })
    expect(marginScale(Number.NaN, null, null)).toEqual({ value: null, low: null, high: null })
  })
})

describe('sorting rows', () => {
  const values = (rows: readonly { v: number | string | null }[]) => rows.map((row) => row.v)
  test('counts as people do, and leaves what is absent for last either way', () => {
    const rows = [{ v: 'F-10' }, { v: null }, { v: 'F-9' }]
    expect(values(sortRows(rows, (row) => row.v, 'ascending'))).toEqual(['F-9', 'F-10', null])
    expect(values(sortRows(rows, (row) => row.v, 'descending'))).toEqual(['F-10', 'F-9', null])
  })

  test('sorts numbers by size and does not touch the rows given', () => {
    const rows = [{ v: 10 }, { v: 9 }, { v: -1 }]
    expect(values(sortRows(rows, (row) => row.v, 'ascending'))).toEqual([-1, 9, 10])
    expect(values(rows)).toEqual([10, 9, -1])
  })
})

describe('names of files', () => {
  test('get their ending once', () => {
    expect(fileNameOf(' North wing ', 'project')).toBe('North wing.facegrid')
    expect(fileNameOf('North wing.facegrid', 'project')).toBe('North wing.facegrid')
    expect(fileNameOf('out', 'exchange')).toBe('out.json')
  })

  test('that no file system takes are refused', () => {
    for (const name of ['', '  ', '.', '..', '../up', 'a/b', 'a\\b', 'C:x', 'what?', '.facegrid', '.hidden']) {
      expect(fileNameOf(name, 'project'), name).toBeNull()
    }
  })

  test('proposed from any title are taken, or empty', () => {
    fc.assert(
      fc.property(fc.string(), (title) => {
        const name = proposedName(title)
        if (name !== '') expect(fileNameOf(name, 'project')).not.toBeNull()
      }),
    )
  })

  test('join in the manner of the folder', () => {
    expect(inFolder('/home/aina', 'a.facegrid')).toBe('/home/aina/a.facegrid')
    expect(inFolder('/', 'a.facegrid')).toBe('/a.facegrid')
    expect(inFolder('C:\\Sites', 'a.facegrid')).toBe('C:\\Sites\\a.facegrid')
  })
})

test('bytes come back from base64 as they were', () => {
  fc.assert(
    fc.property(fc.uint8Array({ maxLength: 5000 }), (bytes) => {
      expect([...base64ToBytes(bytesToBase64(bytes))]).toEqual([...bytes])
    }),
  )
  const large = new Uint8Array(200_000).map((_byte, index) => index % 251)
  expect(bytesToBase64(large)).toBe(Buffer.from(large).toString('base64'))
})

describe('what a check found', () => {
  const finding = { kind: 'ok', sentence: { code: 'check.ok', params: {} } }
  test('is read from its result', () => {
    expect(findingsOf({ findings: [finding] })).toEqual([finding])
  })
  test('is unknown when the result says nothing, never sound', () => {
    for (const silent of [null, undefined, [], {}, { findings: [] }, { findings: [{ kind: 'fine' }] }])
      expect(findingsOf(silent)).toBeNull()
  })
})
