import type { PlanPoint } from '#core/model/values.ts'
import type { Bounds } from './view-transform.ts'

/** What a marquee can take. */
export type Target = { readonly id: string; readonly corners: readonly PlanPoint[] }

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
