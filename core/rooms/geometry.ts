import { polygonArea, polygonContains } from 'd3-polygon'
import type { EntityBody } from '#core/model/entities.ts'
import type { PlanPoint, PlanShape } from '#core/model/values.ts'

/** A wall terminal has no depth on a plan; it is drawn this deep, in metres, so that it can be seen and picked. */
export const WALL_TERMINAL_DRAWN_DEPTH_M = 0.12

const EDGE_TOLERANCE_M = 1e-9

/** The corners of a plan shape, in metres, counter-clockwise from the lower left for a rectangle, as drawn for a polygon. */
export function outlineOf(shape: PlanShape): PlanPoint[] {
  if (shape.kind === 'polygon') return shape.points
  const { x, y, width, depth } = shape
  return [
    { x, y },
    { x: x + width, y },
    { x: x + width, y: y + depth },
    { x, y: y + depth },
  ]
}

function asPairs(outline: readonly PlanPoint[]): [number, number][] {
  return outline.map((point): [number, number] => [point.x, point.y])
}

/** Area enclosed by corners in order, m2, whichever way round; 0 for fewer than three. Crossing outlines are the caller's to refuse. */
export function outlineAreaM2(outline: readonly PlanPoint[]): number {
  return Math.abs(polygonArea(asPairs(outline)))
}

/** Plan area of a room, m2. */
export function planAreaM2(shape: PlanShape): number {
  return shape.kind === 'rectangle' ? shape.width * shape.depth : outlineAreaM2(shape.points)
}

/**
 * Corners of a terminal's face on the plan, in metres: its gross width along x and depth along y, turned clockwise by its
 * rotation about its centre. A wall terminal shows its width and {@link WALL_TERMINAL_DRAWN_DEPTH_M}.
 */
export function terminalCorners(
  terminal: Pick<EntityBody<'terminal'>, 'x' | 'y' | 'rotationDegrees' | 'mounting' | 'grossWidth' | 'grossDepth'>,
): PlanPoint[] {
  const halfWidth = terminal.grossWidth.si / 2
  const halfDepth = (terminal.mounting === 'wall' ? WALL_TERMINAL_DRAWN_DEPTH_M : terminal.grossDepth.si) / 2
  const turn = (-terminal.rotationDegrees * Math.PI) / 180
  const cosine = Math.cos(turn)
  const sine = Math.sin(turn)
  const corner = (dx: number, dy: number): PlanPoint => ({
    x: terminal.x + dx * cosine - dy * sine,
    y: terminal.y + dx * sine + dy * cosine,
  })
  return [corner(-halfWidth, -halfDepth), corner(halfWidth, -halfDepth), corner(halfWidth, halfDepth), corner(-halfWidth, halfDepth)]
}

function isOnEdge(a: PlanPoint, b: PlanPoint, point: PlanPoint): boolean {
  const lengthM = Math.hypot(b.x - a.x, b.y - a.y)
  if (lengthM === 0) return Math.hypot(point.x - a.x, point.y - a.y) <= EDGE_TOLERANCE_M
  const along = ((point.x - a.x) * (b.x - a.x) + (point.y - a.y) * (b.y - a.y)) / lengthM
  const across = ((b.x - a.x) * (point.y - a.y) - (b.y - a.y) * (point.x - a.x)) / lengthM
  return Math.abs(across) <= EDGE_TOLERANCE_M && along >= -EDGE_TOLERANCE_M && along <= lengthM + EDGE_TOLERANCE_M
}

/** Whether a point lies inside an outline, its edges and corners included. */
export function contains(outline: readonly PlanPoint[], point: PlanPoint): boolean {
  for (const [index, corner] of outline.entries()) {
    const next = outline[(index + 1) % outline.length] ?? corner
    if (isOnEdge(corner, next, point)) return true
  }
  return polygonContains(asPairs(outline), [point.x, point.y])
}

/** Volume of a room, m3: plan area x ceiling height, unless a stated volume (kept with its reason) replaces it. */
export function roomVolumeM3(room: Pick<EntityBody<'room'>, 'shape' | 'ceilingHeight' | 'statedVolume'>): number {
  return room.statedVolume ? room.statedVolume.volume.si : planAreaM2(room.shape) * room.ceilingHeight.si
}
