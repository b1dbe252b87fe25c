import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { align, distribute, type Placed, shift } from '#renderer/rooms/plan/alignment.ts'
import { arrayPlaces, copyOffsets, spreadOver } from '#renderer/rooms/plan/array-placement.ts'
import { boxesOf, snapMove, snapPoint } from '#renderer/rooms/plan/snapping.ts'

const face = (id: string, x: number, y: number, width = 0.6, depth = 1.2): Placed => ({
  id,
  x,
  y,
  corners: [
    { x: x - width / 2, y: y - depth / 2 },
    { x: x + width / 2, y: y - depth / 2 },
    { x: x + width / 2, y: y + depth / 2 },
    { x: x - width / 2, y: y + depth / 2 },
  ],
})

describe('an array of filters', () => {
  test('two rows of three start farthest ahead at the left and run right, then nearer', () => {
    const places = arrayPlaces({ rows: 2, columns: 3, columnPitchM: 1.2, rowPitchM: 2.4, first: { x: 0.6, y: 4.1 } })
    expect(places).toEqual([
      { row: 1, column: 1, x: 0.6, y: 4.1 },
      { row: 1, column: 2, x: 1.8, y: 4.1 },
      { row: 1, column: 3, x: 3, y: 4.1 },
      { row: 2, column: 1, x: 0.6, y: 1.7 },
      { row: 2, column: 2, x: 1.8, y: 1.7 },
      { row: 2, column: 3, x: 3, y: 1.7 },
    ])
  })

  test('decimal pitches leave no trace of binary fractions', () => {
    // 0.1 + 0.2 style sums: 0.61 + 9 x 0.61 is 6.1 exactly as a person writes it.
    expect(arrayPlaces({ rows: 1, columns: 10, columnPitchM: 0.61, rowPitchM: 0, first: { x: 0.61, y: 0 } }).at(-1)?.x).toBe(6.1)
  })

  test('copies leave the original out, and negative pitches run left and up', () => {
    expect(copyOffsets({ rows: 1, columns: 3, columnPitchM: -0.6, rowPitchM: 1 })).toEqual([
      { x: -0.6, y: 0 },
      { x: -1.2, y: 0 },
    ])
    expect(copyOffsets({ rows: 2, columns: 1, columnPitchM: 1, rowPitchM: -1.5 })).toEqual([{ x: 0, y: 1.5 }])
  })

  test('40 filters spread over a 10 x 5 m room stand in the middle of equal cells', () => {
    // By hand: 8 columns of 1.25 m, 5 rows of 1 m; the first centre half a cell from the far left corner.
    const form = spreadOver({ left: 0, right: 10, bottom: 0, top: 5 }, 5, 8)
    expect(form).toMatchObject({ columnPitchM: 1.25, rowPitchM: 1, first: { x: 0.625, y: 4.5 } })
    const places = arrayPlaces(form)
    expect(places).toHaveLength(40)
    expect(places.at(-1)).toMatchObject({ x: 9.375, y: 0.5 })
  })

  test('as many places as rows times columns, none twice', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 25 }), fc.integer({ min: 1, max: 25 }), (rows, columns) => {
        const places = arrayPlaces({ rows, columns, columnPitchM: 0.7, rowPitchM: 1.3, first: { x: 1, y: 1 } })
        expect(new Set(places.map(({ x, y }) => `${x} ${y}`)).size).toBe(rows * columns)
      }),
    )
  })
})

describe('alignment', () => {
  const small = face('small', 1, 1, 0.6, 0.6)
  const large = face('large', 3, 2, 1.2, 1.2)

  test('left edges meet at the leftmost edge, and only what moves is named', () => {
    // small's left edge is 0.7; large is 1.2 wide, so its centre goes to 0.7 + 0.6.
    expect([...align([small, large], 'left')]).toEqual([['large', { x: 1.3, y: 2 }]])
  })

  test('top edges meet at the farthest edge', () => {
    // large's top is 2.6; small is 0.6 deep, so its centre goes to 2.6 - 0.3.
    expect([...align([small, large], 'top')]).toEqual([['small', { x: 1, y: 2.3 }]])
  })

  test('middles meet in the middle of the box around all', () => {
    // Box from 0.7 (small's lower edge) to 2.6 (large's top): middle 1.65.
    expect(Object.fromEntries(align([small, large], 'middle'))).toEqual({ small: { x: 1, y: 1.65 }, large: { x: 3, y: 1.65 } })
  })

  test('aligning twice changes nothing more, whichever edge', () => {
    const centimetre = fc.integer({ min: 0, max: 2000 }).map((cm) => cm / 100)
    fc.assert(
      fc.property(
        fc.array(fc.tuple(centimetre, centimetre), { minLength: 1, maxLength: 12 }),
        fc.constantFrom('left', 'right', 'top', 'bottom', 'centre', 'middle'),
        (centres, edge) => {
          const items = centres.map(([x, y], index) => face(String(index), x, y, 0.6 + 0.1 * (index % 3)))
          const once = align(items, edge)
          const moved = items.map((item, index) =>
            face(item.id, once.get(item.id)?.x ?? item.x, once.get(item.id)?.y ?? item.y, 0.6 + 0.1 * (index % 3)),
          )
          for (const [id, to] of align(moved, edge)) {
            const from = moved.find((item) => item.id === id)
            expect(Math.hypot(to.x - (from?.x ?? 0), to.y - (from?.y ?? 0))).toBeLessThan(2e-4)
          }
        },
      ),
    )
  })

  test('distribute leaves the outermost and spaces the rest evenly', () => {
    const row = [face('a', 0, 0), face('c', 5, 0.1), face('b', 1, 0), face('d', 6, 0)]
    // 0 to 6 in three steps of 2.
    expect(Object.fromEntries(distribute(row, 'across'))).toEqual({ b: { x: 2, y: 0 }, c: { x: 4, y: 0.1 } })
    expect(distribute(row.slice(0, 2), 'across').size).toBe(0)
  })

  test('a nudge of 1 cm moves every selected filter by 1 cm', () => {
    expect(Object.fromEntries(shift([face('a', 0.1, 0), face('b', 2, 3)], 0.01, 0))).toEqual({ a: { x: 0.11, y: 0 }, b: { x: 2.01, y: 3 } })
  })
})

describe('snapping', () => {
  test('a dragged filter is drawn to the edge of its neighbour within reach and names the line', () => {
    const [moving, other] = boxesOf([face('m', 5, 5).corners, face('o', 1, 1).corners])
    if (!moving || !other) throw new Error('two boxes expected')
    // Its left edge would land at 0.72; the neighbour's left edge is 0.7.
    const snapped = snapMove(moving, -3.98, 0, [other], 0.03)
    expect(moving.left + snapped.dx).toBeCloseTo(0.7, 9)
    expect(snapped.guides).toEqual([{ axis: 'x', at: 0.7 }])
  })

  test('with nothing near, edges go to steps of 5 cm', () => {
    const moving = { left: 1, right: 2, bottom: 1, top: 2 }
    expect(snapMove(moving, 0.117, -0.112, [], 0.05)).toMatchObject({ dx: 0.1, dy: -0.1, guides: [] })
  })

  test('a drawn corner prefers the corner of a neighbouring room', () => {
    expect(snapPoint({ x: 4.03, y: 2.04 }, [{ x: 4.0123, y: 2.02 }], 0.1)).toEqual({ x: 4.0123, y: 2.02 })
    expect(snapPoint({ x: 4.03, y: 2.04 }, [], 0.1)).toEqual({ x: 4.05, y: 2.05 })
  })
})
