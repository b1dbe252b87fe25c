import type { Placed } from './alignment.ts'
import { boundsOf } from './view-transform.ts'

/**
 * Sorts the things into rows as they lie on the plan: a row is what overlaps in height by half of the smaller one or more. The
 * first row is farthest ahead (plan-up); within a row from left to right. Tab, tags in sequence and "select the row" follow it.
 */
export function rowsOf<T extends Placed>(items: readonly T[]): T[][] {
  const rows: { middle: number; half: number; items: T[] }[] = []
  for (const item of items.toSorted((a, b) => b.y - a.y || a.x - b.x)) {
    const box = boundsOf(item.corners)
    const half = box ? Math.max((box.top - box.bottom) / 2, 0.05) : 0.05
    const row = rows.find((candidate) => Math.abs(candidate.middle - item.y) <= Math.min(candidate.half, half))
    if (row) row.items.push(item)
    else rows.push({ middle: item.y, half, items: [item] })
  }
  return rows.map((row) => row.items.toSorted((a, b) => a.x - b.x || b.y - a.y))
}

export const SEQUENCE_PATHS = ['rows', 'rows_there_and_back', 'columns', 'columns_there_and_back'] as const
export type SequencePath = (typeof SEQUENCE_PATHS)[number]

/** The things in the order of a walk: row by row (or column by column), each from the same side or there and back. */
export function inSequence<T extends Placed>(items: readonly T[], path: SequencePath): T[] {
  const lanes = path.startsWith('rows') ? rowsOf(items) : columnsOf(items)
  const back = path.endsWith('there_and_back')
  return lanes.flatMap((lane, index) => (back && index % 2 === 1 ? lane.toReversed() : lane))
}

function columnsOf<T extends Placed>(items: readonly T[]): T[][] {
  // Turned a quarter, columns are rows: the leftmost column comes first, and runs from plan-up downwards.
  const turned = items.map((item) => ({
    id: item.id,
    x: -item.y,
    y: -item.x,
    corners: item.corners.map((corner) => ({ x: -corner.y, y: -corner.x })),
    item,
  }))
  return rowsOf(turned).map((lane) => lane.map((entry) => entry.item))
}

export type Direction = 'left' | 'right' | 'up' | 'down'

/** The way an arrow key points; null for any other key. */
export function directionOf(key: string): Direction | null {
  switch (key) {
    case 'ArrowLeft':
      return 'left'
    case 'ArrowRight':
      return 'right'
    case 'ArrowUp':
      return 'up'
    case 'ArrowDown':
      return 'down'
    default:
      return null
  }
}

/**
 * The nearest thing in a direction, as an arrow key goes: along the direction first, sideways distance counted double, only
 * within 60 degrees of it. Null when nothing lies there.
 */
export function neighbour<T extends Placed>(from: T, direction: Direction, items: readonly T[]): T | null {
  let best: T | null = null
  let least = Infinity
  for (const item of items) {
    if (item.id === from.id) continue
    const dx = item.x - from.x
    const dy = item.y - from.y
    const ahead = { left: -dx, right: dx, up: dy, down: -dy }[direction]
    const aside = Math.abs(direction === 'left' || direction === 'right' ? dy : dx)
    if (ahead <= 1e-6 || aside > ahead * Math.sqrt(3)) continue
    const cost = ahead + 2 * aside
    if (cost < least) {
      least = cost
      best = item
    }
  }
  return best
}
