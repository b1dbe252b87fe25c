import { polygonArea } from 'd3-polygon'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { PlanPoint } from '#core/model/values.ts'
import { outlineOf } from '#core/rooms/geometry.ts'
import { isRoom, pullWall, wallsOf } from '#renderer/rooms/plan/walls.ts'

const areaM2 = (corners: readonly PlanPoint[]) => Math.abs(polygonArea(corners.map(({ x, y }) => [x, y])))
const rectangle = { kind: 'rectangle', x: 1, y: 2, width: 6, depth: 4 } as const
const ell: PlanPoint[] = [
  { x: 0, y: 0 },
  { x: 6, y: 0 },
  { x: 6, y: 2 },
  { x: 3, y: 2 },
  { x: 3, y: 5 },
  { x: 0, y: 5 },
]

describe('walls', () => {
  test('every wall of either turn points out of the room', () => {
    for (const outline of [ell, ell.toReversed()])
      for (const wall of wallsOf(outline)) {
        const middle = {
          x: (wall.from.x + wall.to.x) / 2 + wall.outward.x * 0.01,
          y: (wall.from.y + wall.to.y) / 2 + wall.outward.y * 0.01,
        }
        const inside =
          (middle.x > 0 && middle.x < 6 && middle.y > 0 && middle.y < 2) || (middle.x > 0 && middle.x < 3 && middle.y > 0 && middle.y < 5)
        expect(inside).toBe(false)
      }
  })

  test('pulling the right wall of a rectangle by 0.5 m makes it 0.5 m wider and leaves the rest', () => {
    expect(pullWall(rectangle, 1, 0.5)).toEqual({ kind: 'rectangle', x: 1, y: 2, width: 6.5, depth: 4 })
    expect(pullWall(rectangle, 3, 0.5)).toEqual({ kind: 'rectangle', x: 0.5, y: 2, width: 6.5, depth: 4 })
    expect(pullWall(rectangle, 2, -1)).toEqual({ kind: 'rectangle', x: 1, y: 2, width: 6, depth: 3 })
  })

  test('a wall pushed through its opposite leaves no room', () => {
    expect(pullWall(rectangle, 1, -6)).toBeNull()
    expect(pullWall({ kind: 'polygon', points: ell }, 1, -6.5)).toBeNull()
  })

  test('pulling the right wall of an L by 1 m adds 1 m x 2 m', () => {
    const pulled = pullWall({ kind: 'polygon', points: ell }, 1, 1)
    expect(pulled && areaM2(outlineOf(pulled))).toBeCloseTo(areaM2(ell) + 2, 9)
  })

  test('a slanting neighbour keeps its direction', () => {
    // Trapezium: the left wall leans 45 degrees. Lifting the top by 1 m moves its left corner along that slant to (2, 3).
    const pulled = pullWall(
      {
        kind: 'polygon',
        points: [
          { x: -1, y: 0 },
          { x: 6, y: 0 },
          { x: 6, y: 2 },
          { x: 1, y: 2 },
        ],
      },
      2,
      1,
    )
    expect(pulled && outlineOf(pulled)).toEqual([
      { x: -1, y: 0 },
      { x: 6, y: 0 },
      { x: 6, y: 3 },
      { x: 2, y: 3 },
    ])
  })

  test('out and back again is the same room', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 5 }), fc.integer({ min: 1, max: 180 }), (index, centimetres) => {
        const out = pullWall({ kind: 'polygon', points: ell }, index, centimetres / 100)
        const back = out && pullWall(out, index, -centimetres / 100)
        expect(back).toEqual({ kind: 'polygon', points: ell })
      }),
    )
  })
})

describe('a room from corners', () => {
  test('crossing walls, two corners and a line are no room', () => {
    expect(isRoom(ell)).toBe(true)
    expect(
      isRoom([
        { x: 0, y: 0 },
        { x: 2, y: 2 },
        { x: 2, y: 0 },
        { x: 0, y: 2 },
      ]),
    ).toBe(false)
    expect(
      isRoom([
        { x: 0, y: 0 },
        { x: 2, y: 2 },
      ]),
    ).toBe(false)
    expect(
      isRoom([
        { x: 0, y: 0 },
        { x: 1, y: 1 },
        { x: 2, y: 2 },
      ]),
    ).toBe(false)
  })
})
