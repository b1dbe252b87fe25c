import type { PlanPoint } from '#core/model/values.ts'
import { contains } from '#core/rooms/geometry.ts'
import { boundsOf } from './view-transform.ts'
import { wallsOf } from './walls.ts'

const STEPS = 16

/** A place well inside an outline for its name: the middle where that lies inside, else the one of a fine grid that is farthest from the walls. */
export function innerPlace(corners: readonly PlanPoint[]): PlanPoint | null {
  const bounds = boundsOf(corners)
  if (!bounds) return null
  const middle = { x: (bounds.left + bounds.right) / 2, y: (bounds.bottom + bounds.top) / 2 }
  const walls = wallsOf(corners)
  let best: PlanPoint | null = contains(corners, middle) ? middle : null
  if (best) return best
  let roomiest = 0
  for (let row = 1; row < STEPS; row += 1) {
    for (let column = 1; column < STEPS; column += 1) {
      const place = {
        x: bounds.left + ((bounds.right - bounds.left) * column) / STEPS,
        y: bounds.bottom + ((bounds.top - bounds.bottom) * row) / STEPS,
      }
      if (!contains(corners, place)) continue
      const room = Math.min(...walls.map(({ from, to }) => distanceToSegment(place, from, to)))
      if (room > roomiest) [best, roomiest] = [place, room]
    }
  }
  return best
}

function distanceToSegment(p: PlanPoint, a: PlanPoint, b: PlanPoint): number {
  const along = { x: b.x - a.x, y: b.y - a.y }
  const length2 = along.x ** 2 + along.y ** 2
  const share = length2 === 0 ? 0 : Math.min(1, Math.max(0, ((p.x - a.x) * along.x + (p.y - a.y) * along.y) / length2))
  return Math.hypot(p.x - a.x - share * along.x, p.y - a.y - share * along.y)
}
