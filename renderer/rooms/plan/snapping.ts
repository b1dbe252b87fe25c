import type { PlanPoint } from '#core/model/values.ts'
import { tidy } from './array-placement.ts'
import { type Bounds, boundsOf } from './view-transform.ts'

/** A line that the moved thing was drawn to, in plan metres. */
export type Guide = { readonly axis: 'x' | 'y'; readonly at: number }
export type Snapped = { readonly dx: number; readonly dy: number; readonly guides: readonly Guide[] }

export const GRID_M = 0.05

/**
 * Draws a move to what is near: edges and centres of other boxes within `reachM` first, else steps of 5 cm of the box's lower
 * left corner. Each axis on its own.
 */
export function snapMove(moving: Bounds, dx: number, dy: number, others: readonly Bounds[], reachM: number): Snapped {
  const across = snapAxis(
    [moving.left + dx, (moving.left + moving.right) / 2 + dx, moving.right + dx],
    others.flatMap((box) => [box.left, (box.left + box.right) / 2, box.right]),
    reachM,
  )
  const up = snapAxis(
    [moving.bottom + dy, (moving.bottom + moving.top) / 2 + dy, moving.top + dy],
    others.flatMap((box) => [box.bottom, (box.bottom + box.top) / 2, box.top]),
    reachM,
  )
  const guides: Guide[] = []
  if (across) guides.push({ axis: 'x', at: across.at })
  if (up) guides.push({ axis: 'y', at: up.at })
  return {
    dx: tidy(across ? dx + across.by : toGrid(moving.left + dx) - moving.left),
    dy: tidy(up ? dy + up.by : toGrid(moving.bottom + dy) - moving.bottom),
    guides,
  }
}

/** A point on the nearest 5 cm step, or on a corner of another outline within reach. */
export function snapPoint(point: PlanPoint, corners: readonly PlanPoint[], reachM: number): PlanPoint {
  const near = corners
    .map((corner) => ({ corner, away: Math.hypot(corner.x - point.x, corner.y - point.y) }))
    .filter(({ away }) => away <= reachM)
    .toSorted((a, b) => a.away - b.away)[0]
  return near ? near.corner : { x: toGrid(point.x), y: toGrid(point.y) }
}

export const boxesOf = (outlines: readonly (readonly PlanPoint[])[]): Bounds[] => outlines.flatMap((outline) => boundsOf(outline) ?? [])

function snapAxis(own: readonly number[], lines: readonly number[], reachM: number): { by: number; at: number } | null {
  let best: { by: number; at: number } | null = null
  for (const value of own)
    for (const line of lines) {
      const by = line - value
      if (Math.abs(by) <= reachM && (!best || Math.abs(by) < Math.abs(best.by) - 1e-9)) best = { by, at: line }
    }
  return best
}

const toGrid = (metres: number) => tidy(Math.round(metres / GRID_M) * GRID_M)
