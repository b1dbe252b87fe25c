import type { PlanPoint } from '#core/model/values.ts'

/** Twice the signed area of a triangle: above zero when c lies to the left of the way from a to b. */
function side(a: PlanPoint, b: PlanPoint, c: PlanPoint): number {
  return Math.sign((b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x))
}

function liesBetween(a: PlanPoint, b: PlanPoint, c: PlanPoint): boolean {
  return Math.min(a.x, b.x) <= c.x && c.x <= Math.max(a.x, b.x) && Math.min(a.y, b.y) <= c.y && c.y <= Math.max(a.y, b.y)
}

function touches(a: PlanPoint, b: PlanPoint, c: PlanPoint, d: PlanPoint): boolean {
  const cSide = side(a, b, c)
  const dSide = side(a, b, d)
  const aSide = side(c, d, a)
  const bSide = side(c, d, b)
  if (cSide !== dSide && aSide !== bSide) return true
  if (cSide === 0 && liesBetween(a, b, c)) return true
  if (dSide === 0 && liesBetween(a, b, d)) return true
  if (aSide === 0 && liesBetween(c, d, a)) return true
  return bSide === 0 && liesBetween(c, d, b)
}

/**
 * Whether a closed outline of corners in order neither crosses nor touches itself, so that its area and its inside mean what
 * people think. A corner repeated in succession and an edge that runs back along the one before count as touching. Exact
 * comparison of the given coordinates (m); false for fewer than three corners.
 */
export function isSimpleOutline(corners: readonly PlanPoint[]): boolean {
  if (corners.length < 3) return false
  const edges = corners.map((from, index) => ({ from, to: corners[(index + 1) % corners.length] ?? from }))
  for (const [index, edge] of edges.entries()) {
    if (edge.from.x === edge.to.x && edge.from.y === edge.to.y) return false
    for (const [otherIndex, other] of edges.entries()) {
      if (otherIndex <= index) continue
      const follows = otherIndex === index + 1
      const closes = index === 0 && otherIndex === edges.length - 1
      if (follows || closes) {
        // Neighbours share a corner; they must not lie on one another.
        const [before, after] = follows ? [edge, other] : [other, edge]
        const runsBack = side(before.from, before.to, after.to) === 0 && liesOnWayBack(before.from, before.to, after.to)
        if (runsBack) return false
      } else if (touches(edge.from, edge.to, other.from, other.to)) return false
    }
  }
  return true
}

/** For three points on one line: whether the last goes back towards the first instead of on. */
function liesOnWayBack(from: PlanPoint, corner: PlanPoint, to: PlanPoint): boolean {
  return (corner.x - from.x) * (to.x - corner.x) + (corner.y - from.y) * (to.y - corner.y) < 0
}
