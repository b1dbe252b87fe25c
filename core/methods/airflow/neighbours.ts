import type { AirDirection, FlowWay } from '#core/model/terminals.ts'
import type { Quantity } from '#core/model/values.ts'

/** A point on the path through a run, as far as it says which others are like it. */
export type PathPoint = {
  readonly location: { readonly terminalId: string | null }
  readonly quantity: Quantity
  readonly way: FlowWay | null
  readonly direction: AirDirection
}

/** The points of a run by their number, and the first sample that is in force at each, in SI; null where there is none. */
export type ReadingPath = {
  readonly pointAt: (number: number) => PathPoint | undefined
  readonly valueAt: (number: number) => number | null
}

/** How many points to either side are looked at: a filter rarely has more, and the work for one reading stays the same. */
const NEAR_POINTS = 12

/** How far along the path readings of other terminals are looked for. */
const FAR_POINTS = 2000

/**
 * What the reading of a point is held against, in SI: readings in force around it at the same terminal, else the nearest along the path of the same
 * kind, that is of the same quantity, read the same way in the same direction. Points of one duct and flow elements have no others like
 * them. The one choice for what is typed and what is imported, so that both are asked about alike.
 */
export function neighboursOf(path: ReadingPath, number: number): number[] {
  const point = path.pointAt(number)
  if (!point) return []
  const near: number[] = []
  for (let other = number - NEAR_POINTS; other <= number + NEAR_POINTS; other += 1) {
    if (other === number || path.pointAt(other)?.location.terminalId !== point.location.terminalId) continue
    const si = path.valueAt(other)
    if (si !== null) near.push(si)
  }
  const { quantity, way, direction } = point
  if (near.length > 0 || way === 'duct_traverse' || way === 'flow_element') return near
  for (let away = 1; away <= FAR_POINTS && near.length < NEAR_POINTS; away += 1) {
    for (const other of [number - away, number + away]) {
      const like = path.pointAt(other)
      if (like?.quantity !== quantity || like.way !== way || like.direction !== direction) continue
      const si = path.valueAt(other)
      if (si !== null) near.push(si)
    }
  }
  return near
}
