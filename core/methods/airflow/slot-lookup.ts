import type { MeasuredPoint } from '../method.ts'

/** Finds the place of a point in its list by its number, -1 where it is in none: a plain table while the numbers are dense, which a run's own always are. */
export function slotLookup(locations: readonly MeasuredPoint[]): (point: number) => number {
  let greatest = 0
  for (const location of locations) if (location.number > greatest) greatest = location.number
  if (greatest > 16 * locations.length + 4096) {
    const map = new Map(locations.map((location, slot) => [location.number, slot]))
    return (point) => map.get(point) ?? -1
  }
  const table = new Int32Array(greatest + 1).fill(-1)
  for (let slot = 0; slot < locations.length; slot += 1) table[locations[slot]?.number ?? 0] = slot
  return (point) => table[point] ?? -1
}
