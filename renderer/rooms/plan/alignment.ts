import type { PlanPoint } from '#core/model/values.ts'
import { tidy } from './array-placement.ts'
import { type Bounds, boundsOf } from './view-transform.ts'

/** A thing on the plan by its centre and its corners. */
export type Placed = { readonly id: string; readonly x: number; readonly y: number; readonly corners: readonly PlanPoint[] }

export const ALIGNMENTS = ['left', 'centre', 'right', 'top', 'middle', 'bottom'] as const
export type Alignment = (typeof ALIGNMENTS)[number]
export type Axis = 'across' | 'up'

/** New centres, by id, of those that move. */
export type Moves = ReadonlyMap<string, PlanPoint>

/** Brings edges or centres of the things onto one line: the outermost edge, or the middle of the box around all. */
export function align(items: readonly Placed[], to: Alignment): Moves {
  const around = boundsOf(items.flatMap((item) => item.corners))
  if (!around) return new Map()
  return movesOf(items, (item) => {
    const box = boxOf(item)
    switch (to) {
      case 'left':
        return { x: item.x + around.left - box.left, y: item.y }
      case 'right':
        return { x: item.x + around.right - box.right, y: item.y }
      case 'top':
        return { x: item.x, y: item.y + around.top - box.top }
      case 'bottom':
        return { x: item.x, y: item.y + around.bottom - box.bottom }
      case 'centre':
        return { x: item.x + (around.left + around.right) / 2 - (box.left + box.right) / 2, y: item.y }
      case 'middle':
        return { x: item.x, y: item.y + (around.bottom + around.top) / 2 - (box.bottom + box.top) / 2 }
    }
  })
}

/** Spaces centres evenly between the two outermost, which stay. Fewer than three have nothing between them: no moves. */
export function distribute(items: readonly Placed[], axis: Axis): Moves {
  if (items.length < 3) return new Map()
  const along = (item: Placed) => (axis === 'across' ? item.x : item.y)
  const sorted = items.toSorted((a, b) => along(a) - along(b))
  const first = sorted.at(0)
  const last = sorted.at(-1)
  if (!first || !last) return new Map()
  const step = (along(last) - along(first)) / (sorted.length - 1)
  const place = new Map(sorted.map((item, index) => [item.id, along(first) + index * step]))
  return movesOf(items, (item) => {
    const value = place.get(item.id) ?? along(item)
    return axis === 'across' ? { x: value, y: item.y } : { x: item.x, y: value }
  })
}

/** Moves everything by the same step. */
export const shift = (items: readonly Placed[], dx: number, dy: number): Moves =>
  movesOf(items, (item) => ({ x: item.x + dx, y: item.y + dy }))

function movesOf(items: readonly Placed[], place: (item: Placed) => PlanPoint): Moves {
  const moves = new Map<string, PlanPoint>()
  for (const item of items) {
    const { x, y } = place(item)
    const to = { x: tidy(x), y: tidy(y) }
    if (to.x !== item.x || to.y !== item.y) moves.set(item.id, to)
  }
  return moves
}

function boxOf(item: Placed): Bounds {
  return boundsOf(item.corners) ?? { left: item.x, right: item.x, bottom: item.y, top: item.y }
}
