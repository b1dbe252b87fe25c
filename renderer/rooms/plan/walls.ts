import { polygonArea } from 'd3-polygon'
import type { PlanPoint, PlanShape } from '#core/model/values.ts'
import { outlineAreaM2, outlineOf } from '#core/rooms/geometry.ts'
import { isSimpleOutline } from '#core/rooms/simple-outline.ts'
import { tidy } from './array-placement.ts'
import type { Rect } from './rect.ts'
import { toPixel, type View } from './view-transform.ts'

/** One wall of a room, from corner to corner; `outward` is the unit direction that leaves the room. */
export type Wall = {
  readonly index: number
  readonly from: PlanPoint
  readonly to: PlanPoint
  readonly lengthM: number
  readonly outward: PlanPoint
}

/** The walls of an outline in its own order. */
export function wallsOf(outline: readonly PlanPoint[]): Wall[] {
  const turn = polygonArea(outline.map(({ x, y }) => [x, y])) < 0 ? 1 : -1
  return outline.map((from, index) => {
    const to = outline[(index + 1) % outline.length] ?? from
    const lengthM = Math.hypot(to.x - from.x, to.y - from.y)
    const along = lengthM > 0 ? { x: (to.x - from.x) / lengthM, y: (to.y - from.y) / lengthM } : { x: 0, y: 0 }
    // d3-polygon counts areas in a y-down frame: a negative area is counter-clockwise on our y-up plan.
    return { index, from, to, lengthM, outward: { x: along.y * turn, y: -along.x * turn } }
  })
}

const HALF_WALL_PX = 3

/** Where the walls along the window's edges stand, in its pixels; walls at a slant take no upright box. */
export function wallRects(outline: readonly PlanPoint[], view: View): Rect[] {
  return wallsOf(outline).flatMap(({ from, to }) => {
    if (from.x !== to.x && from.y !== to.y) return []
    const [a, b] = [toPixel(view, from), toPixel(view, to)]
    const left = Math.min(a.x, b.x) - HALF_WALL_PX
    const top = Math.min(a.y, b.y) - HALF_WALL_PX
    return [{ left, top, width: Math.abs(a.x - b.x) + 2 * HALF_WALL_PX, height: Math.abs(a.y - b.y) + 2 * HALF_WALL_PX }]
  })
}

/**
 * Pulls one wall outwards (negative: inwards) by `distanceM`. A rectangle stays a rectangle; in a polygon the neighbouring walls
 * keep their direction and grow or shrink, as when a partition is moved. Null when the result is no room any more.
 */
export function pullWall(shape: PlanShape, index: number, distanceM: number): PlanShape | null {
  const outline = outlineOf(shape)
  const wall = wallsOf(outline)[index]
  if (!wall) return null
  const moved = movedCorners(outline, wall, distanceM)
  if (shape.kind === 'polygon') return isRoom(moved) && sameTurn(outline, moved) ? { kind: 'polygon', points: moved } : null
  const xs = moved.map((corner) => corner.x)
  const ys = moved.map((corner) => corner.y)
  const box = {
    x: Math.min(...xs),
    y: Math.min(...ys),
    width: tidy(Math.max(...xs) - Math.min(...xs)),
    depth: tidy(Math.max(...ys) - Math.min(...ys)),
  }
  const size = Math.abs(wall.outward.x) > 0.5 ? shape.width : shape.depth
  return size + distanceM > 0 ? { kind: 'rectangle', ...box } : null
}

/** True for three or more corners that enclose an area without their walls crossing. */
export function isRoom(corners: readonly PlanPoint[]): boolean {
  return corners.length >= 3 && outlineAreaM2(corners) > 1e-6 && isSimpleOutline(corners)
}

function movedCorners(outline: readonly PlanPoint[], wall: Wall, distanceM: number): PlanPoint[] {
  const count = outline.length
  const before = outline[(wall.index - 1 + count) % count] ?? wall.from
  const after = outline[(wall.index + 2) % count] ?? wall.to
  const push = { x: wall.outward.x * distanceM, y: wall.outward.y * distanceM }
  const along = { x: wall.to.x - wall.from.x, y: wall.to.y - wall.from.y }
  const slide = (corner: PlanPoint, other: PlanPoint): PlanPoint => {
    const side = { x: corner.x - other.x, y: corner.y - other.y }
    const cross = side.x * along.y - side.y * along.x
    // Where the neighbour runs on in the same line there is nothing to slide along: the corner moves straight out.
    if (Math.abs(cross) < 1e-9) return { x: tidy(corner.x + push.x), y: tidy(corner.y + push.y) }
    const share = (push.x * along.y - push.y * along.x) / cross
    return { x: tidy(corner.x + side.x * share), y: tidy(corner.y + side.y * share) }
  }
  return outline.map((corner, index) => {
    if (index === wall.index) return slide(corner, before)
    if (index === (wall.index + 1) % count) return slide(corner, after)
    return corner
  })
}

function sameTurn(a: readonly PlanPoint[], b: readonly PlanPoint[]): boolean {
  const area = (corners: readonly PlanPoint[]) => polygonArea(corners.map(({ x, y }) => [x, y]))
  return Math.sign(area(a)) === Math.sign(area(b))
}
