import { polygonContains } from 'd3-polygon'
import type { PlanPoint } from '#core/model/values.ts'
import type { Bounds } from './view-transform.ts'

/** What lies on what: terminals over doors over zones over the room. */
export const LAYERS = ['room', 'zone', 'door', 'terminal'] as const
export type Layer = (typeof LAYERS)[number]

export type Target = { readonly id: string; readonly layer: Layer; readonly corners: readonly PlanPoint[] }

/** Everything under the point, the uppermost first: by layer, then the smaller face, so that nothing small hides under something large. */
export function hitsAt<T extends Target>(point: PlanPoint, targets: readonly T[]): T[] {
  return targets
    .filter((target) => polygonContains(ring(target.corners), [point.x, point.y]))
    .toSorted((a, b) => LAYERS.indexOf(b.layer) - LAYERS.indexOf(a.layer) || areaOf(a.corners) - areaOf(b.corners))
}

/** Whose every corner lies inside the box of a marquee: touching alone does not select. */
export function insideMarquee<T extends Target>(marquee: Bounds, targets: readonly T[]): T[] {
  return targets.filter((target) =>
    target.corners.every(
      ({ x, y }) => x >= marquee.left - 1e-9 && x <= marquee.right + 1e-9 && y >= marquee.bottom - 1e-9 && y <= marquee.top + 1e-9,
    ),
  )
}

/** The box between two corners in any order. */
export const marqueeBetween = (a: PlanPoint, b: PlanPoint): Bounds => ({
  left: Math.min(a.x, b.x),
  right: Math.max(a.x, b.x),
  bottom: Math.min(a.y, b.y),
  top: Math.max(a.y, b.y),
})

const ring = (corners: readonly PlanPoint[]): [number, number][] => corners.map(({ x, y }) => [x, y])

function areaOf(corners: readonly PlanPoint[]): number {
  let twice = 0
  corners.forEach((corner, index) => {
    const next = corners[(index + 1) % corners.length] ?? corner
    twice += corner.x * next.y - next.x * corner.y
  })
  return Math.abs(twice) / 2
}
