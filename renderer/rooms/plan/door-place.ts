import type { PlanPoint } from '#core/model/values.ts'
import { tidy } from './array-placement.ts'
import { wallsOf } from './walls.ts'

export type DoorPlace = { readonly at: PlanPoint; readonly rotationDegrees: number; readonly beyond: PlanPoint }

/** The place on the nearest wall, with the clockwise turn that lays a door along it, and a point just beyond that wall. */
export function doorPlace(outline: readonly PlanPoint[], near: PlanPoint): DoorPlace | null {
  let best: DoorPlace | null = null
  let least = Number.POSITIVE_INFINITY
  for (const { from, to, lengthM, outward } of wallsOf(outline)) {
    if (lengthM === 0) continue
    const along = ((near.x - from.x) * (to.x - from.x) + (near.y - from.y) * (to.y - from.y)) / lengthM ** 2
    const share = Math.min(1, Math.max(0, along))
    const at = { x: tidy(from.x + share * (to.x - from.x)), y: tidy(from.y + share * (to.y - from.y)) }
    const away = Math.hypot(near.x - at.x, near.y - at.y)
    if (away >= least) continue
    least = away
    // A door's leaf swings to its own plan-up before the turn; turned so that this side is outward.
    const degrees = (Math.atan2(outward.x, outward.y) * 180) / Math.PI
    best = {
      at,
      rotationDegrees: (Math.round(degrees * 10) / 10 + 360) % 360,
      beyond: { x: at.x + outward.x * 0.4, y: at.y + outward.y * 0.4 },
    }
  }
  return best
}
