import type { PlanPoint } from '#core/model/values.ts'
import { contains } from '#core/rooms/geometry.ts'

export type Misfits = { readonly outside: number; readonly overlapping: boolean }

/** Which unturned faces of one size reach out of the room, and whether any two of them lie over each other. Touching is neither. */
export function misfitsOf(centres: readonly PlanPoint[], widthM: number, depthM: number, outline: readonly PlanPoint[]): Misfits {
  const halves = [
    { x: -widthM / 2, y: -depthM / 2 },
    { x: widthM / 2, y: -depthM / 2 },
    { x: widthM / 2, y: depthM / 2 },
    { x: -widthM / 2, y: depthM / 2 },
  ]
  const fits = (centre: PlanPoint) => halves.every((half) => contains(outline, { x: centre.x + half.x, y: centre.y + half.y }))
  const overlap = (a: PlanPoint, b: PlanPoint) => Math.abs(a.x - b.x) < widthM - 1e-6 && Math.abs(a.y - b.y) < depthM - 1e-6
  return {
    outside: centres.filter((centre) => !fits(centre)).length,
    overlapping: centres.some((a, index) => centres.slice(index + 1).some((b) => overlap(a, b))),
  }
}
