import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { isBlock, layBlock, type PasteTarget, readBlock } from '#renderer/readings/paste-layout.ts'

const target = (terminalId: string, first: number, rows: number, columns: number): PasteTarget => ({
  terminalId,
  columns,
  places: Array.from({ length: rows * columns }, (_, index) => ({ point: first + index, sample: 1 })),
})

describe('reading a pasted block', () => {
  test('a spreadsheet parts cells by tabs and rows by line ends', () => {
    expect(readBlock('0.45\t0.46\r\n0.44\t0.43\r\n')).toEqual([
      ['0.45', '0.46'],
      ['0.44', '0.43'],
    ])
  })
  test('a decimal comma never parts cells', () => {
    expect(readBlock('0,45\t0,46\n0,44\t0,43')).toEqual([
      ['0,45', '0,46'],
      ['0,44', '0,43'],
    ])
    expect(readBlock('0,45\n0,46')).toEqual([['0,45'], ['0,46']])
    expect(readBlock('0,45;0,46')).toEqual([['0,45', '0,46']])
    expect(readBlock('0,45  0,46 ')).toEqual([['0,45', '0,46']])
  })
  test('one number is no block', () => {
    expect(isBlock(readBlock('0.45\n'))).toBe(false)
    expect(isBlock(readBlock(''))).toBe(false)
    expect(isBlock(readBlock('0.45\t0.46'))).toBe(true)
    expect(isBlock(readBlock('0.45\n0.46'))).toBe(true)
  })
})

describe('laying a block onto the points', () => {
  test('goes row by row over the face, then over the next face', () => {
    const layout = layBlock(readBlock('1\t2\n3\t4\n5\t6'), [target('a', 1, 2, 2), target('b', 5, 2, 2)])
    expect(layout.values.map((value) => [value.terminalId, value.place.point, value.text])).toEqual([
      ['a', 1, '1'],
      ['a', 2, '2'],
      ['a', 3, '3'],
      ['a', 4, '4'],
      ['b', 5, '5'],
      ['b', 6, '6'],
    ])
    expect(layout.leftOver).toBe(0)
    expect(layout.otherShape).toBe(false)
  })
  test('an empty cell leaves its point alone', () => {
    const layout = layBlock(readBlock('1\t\n3\t4'), [target('a', 1, 2, 2)])
    expect(layout.values.map((value) => value.place.point)).toEqual([1, 3, 4])
  })
  test('says how many values found no point, and when the rows are of another length', () => {
    const layout = layBlock(readBlock('1\t2\t3\n4\t5\t6'), [target('a', 1, 2, 2)])
    expect(layout.leftOver).toBe(2)
    expect(layout.otherShape).toBe(true)
  })
  test('one filter per row, as a field sheet is often kept, is not another shape', () => {
    expect(layBlock(readBlock('1\t2\t3\t4\n5\t6\t7\t8'), [target('a', 1, 2, 2), target('b', 5, 2, 2)]).otherShape).toBe(false)
  })
  test('every value lands once and in order, or is counted as left over', () => {
    const cell = fc.constantFrom('0.4', '0,5', '', '91')
    fc.assert(
      fc.property(fc.array(fc.array(cell, { minLength: 1, maxLength: 5 }), { minLength: 1, maxLength: 6 }), (rows) => {
        const layout = layBlock(rows, [target('a', 1, 2, 3), target('b', 7, 2, 2)])
        const typed = rows.flat().filter((text) => text !== '')
        expect(layout.values.length + layout.leftOver).toBe(typed.length)
        expect(layout.values.map((value) => value.text)).toEqual(typed.slice(0, layout.values.length))
        const points = layout.values.map((value) => value.place.point)
        expect(new Set(points).size).toBe(points.length)
        expect([...points].sort((a, b) => a - b)).toEqual(points)
      }),
    )
  })
})
