import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  facingEighth,
  inRowOrder,
  neighbour,
  northOnScreenDegrees,
  type QuarterTurns,
  sizeOf,
  turnBy,
  turnedSize,
  turnPlace,
} from '#renderer/readings/face-view.ts'

const turns = fc.constantFrom<QuarterTurns>(0, 1, 2, 3)
const sizes = fc.record({ rows: fc.integer({ min: 2, max: 12 }), columns: fc.integer({ min: 2, max: 12 }) })

/** Screen vector (right, up) from one place to another. */
function vector(from: { row: number; column: number }, to: { row: number; column: number }): [number, number] {
  return [to.column - from.column, from.row - to.row]
}

const whole = (rows: number, columns: number) =>
  Array.from({ length: rows * columns }, (_, index) => ({
    number: index + 1,
    row: Math.floor(index / columns) + 1,
    column: (index % columns) + 1,
  }))

describe('turning the face', () => {
  test('is a rotation: the images of right and ahead span a determinant of +1, so nothing is ever mirrored', () => {
    fc.assert(
      fc.property(sizes, turns, (size, turn) => {
        const origin = turnPlace({ row: 2, column: 1 }, size, turn)
        const [rx, ry] = vector(origin, turnPlace({ row: 2, column: 2 }, size, turn))
        const [ax, ay] = vector(origin, turnPlace({ row: 1, column: 1 }, size, turn))
        expect(rx * ay - ax * ry).toBe(1)
        // a quarter turn of the person to the right turns the picture to the left by the same angle
        const angle = (Math.atan2(ry, rx) * 180) / Math.PI
        expect((Math.round(angle) + 360) % 360).toBe(90 * turn)
      }),
    )
  })

  test('keeps every point on the turned face, each place once, and four turns come home', () => {
    fc.assert(
      fc.property(sizes, turns, (size, turn) => {
        const points = whole(size.rows, size.columns)
        const turned = turnedSize(size, turn)
        const seen = new Set(points.map((point) => turnPlace(point, size, turn)).map((at) => `${at.row}/${at.column}`))
        expect(seen.size).toBe(points.length)
        for (const point of points) {
          const at = turnPlace(point, size, turn)
          expect(at.row).toBeGreaterThanOrEqual(1)
          expect(at.row).toBeLessThanOrEqual(turned.rows)
          expect(at.column).toBeLessThanOrEqual(turned.columns)
          let home: { row: number; column: number } = point
          let now = size
          for (let i = 0; i < 4; i += 1) {
            home = turnPlace(home, now, 1)
            now = turnedSize(now, 1)
          }
          expect({ row: home.row, column: home.column }).toEqual({ row: point.row, column: point.column })
        }
      }),
    )
  })

  // Worked by hand: facing north with north up, the point at the right hand (east) of a 2 x 3 face. Turn right to face east, and that
  // point lies ahead; what was ahead (north) is now at the left hand.
  test('turning right brings what was at the right hand ahead, and what was ahead to the left', () => {
    const size = { rows: 2, columns: 3 }
    expect(turnPlace({ row: 1, column: 3 }, size, 1)).toEqual({ row: 1, column: 1 })
    expect(turnPlace({ row: 2, column: 3 }, size, 1)).toEqual({ row: 1, column: 2 })
    expect(turnPlace({ row: 1, column: 1 }, size, 1)).toEqual({ row: 3, column: 1 })
  })

  test('steps round the compass both ways', () => {
    expect([0, 1, 2, 3].map((turn) => turnBy(turn as QuarterTurns, 1))).toEqual([1, 2, 3, 0])
    expect([0, 1, 2, 3].map((turn) => turnBy(turn as QuarterTurns, -1))).toEqual([3, 0, 1, 2])
  })
})

describe('the north arrow', () => {
  test('points up for one who faces north, left for one who faces east', () => {
    expect(northOnScreenDegrees(0, 0, 0)).toBe(0)
    expect(northOnScreenDegrees(0, 90, 0)).toBe(270)
    expect(northOnScreenDegrees(0, 0, 1)).toBe(270)
    expect(northOnScreenDegrees(30, 180, 0)).toBe(210)
  })
  test('names the way the person faces', () => {
    // index from north, clockwise: 2 is east, 4 south, 7 north-west
    expect(facingEighth(0, 90, 0)).toBe(2)
    expect(facingEighth(0, 90, 1)).toBe(4)
    expect(facingEighth(45, 0, 0)).toBe(7)
  })
})

describe('moving over the face by arrows', () => {
  test('goes to the neighbour on the screen whichever way the view is turned, and back again', () => {
    fc.assert(
      fc.property(sizes, turns, fc.nat(), (size, turn, pick) => {
        const points = whole(size.rows, size.columns)
        const from = points[pick % points.length]
        if (!from) throw new Error('no point')
        const right = neighbour(points, from, 'right', turn)
        if (right) {
          const [dx, dy] = vector(turnPlace(from, size, turn), turnPlace(right, size, turn))
          expect([dx, dy]).toEqual([1, 0])
          expect(neighbour(points, right, 'left', turn)).toEqual(from)
        } else {
          expect(turnPlace(from, size, turn).column).toBe(turnedSize(size, turn).columns)
        }
      }),
    )
  })
  test('steps over a gap in the face', () => {
    const points = whole(1, 3).filter((point) => point.column !== 2)
    expect(neighbour(points, { row: 1, column: 1 }, 'right', 0)?.column).toBe(3)
    expect(sizeOf(points)).toEqual({ rows: 1, columns: 3 })
  })
  test('reads row by row as the screen shows it', () => {
    expect(inRowOrder(whole(2, 3), 0).map((point) => point.number)).toEqual([1, 2, 3, 4, 5, 6])
    expect(inRowOrder(whole(2, 3), 1).map((point) => point.number)).toEqual([3, 6, 2, 5, 1, 4])
  })
})
