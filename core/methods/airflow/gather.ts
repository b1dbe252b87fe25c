import type { ReleasedUse, UncoveredUse } from '#core/criteria/stance.ts'
import type { Location } from '#core/model/readings.ts'
import type { Pinned, RunInput } from '../method.ts'
import { coverLookup, isAbove, isBelow } from './calibration-cover.ts'

/** The readings of one terminal, brought together by point. Arrays run along the terminal's points in path order. */
export type Gathered = {
  readonly terminal: Pinned<'terminal'>
  readonly planned: readonly Location[]
  /** points with at least one valid sample */
  readonly numbers: number[]
  readonly meansMps: number[]
  readonly cellAreasM2: number[]
  /** every sample of the point lies below the range */
  readonly belowRange: boolean[]
  aboveRange: number
  carried: boolean
  uncovered: UncoveredUse[]
  released: ReleasedUse[]
}

/** Finds the place of a point by its number: a plain table while the numbers are dense, which a run's own always are. */
function slotLookup(locations: readonly Location[]): (point: number) => number {
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

function addOnce<T>(list: T[], item: T): void {
  if (!list.includes(item)) list.push(item)
}

/**
 * Brings a run's valid readings together by terminal and point, in one pass. A point's mean is over its valid samples; samples above the
 * instrument's or the calibrated range are left out and counted; readings of points that belong to no terminal are not this
 * method's. Terminals keep the order of the input.
 */
export function gather(input: RunInput, terminals: readonly Pinned<'terminal'>[]): Gathered[] {
  const { locations, values } = input
  const byTerminal = new Map<string, number>()
  const planned: Location[][] = []
  for (const terminal of terminals) {
    byTerminal.set(terminal.id, planned.length)
    planned.push([])
  }
  const owner = new Int32Array(locations.length).fill(-1)
  for (let slot = 0; slot < locations.length; slot += 1) {
    const location = locations[slot]
    const index = location?.terminalId ? byTerminal.get(location.terminalId) : undefined
    if (location === undefined || index === undefined) continue
    owner[slot] = index
    planned[index]?.push(location)
  }
  const gathered = terminals.map(
    (terminal, index): Gathered => ({
      terminal,
      planned: planned[index] ?? [],
      numbers: [],
      meansMps: [],
      cellAreasM2: [],
      belowRange: [],
      aboveRange: 0,
      carried: false,
      uncovered: [],
      released: [],
    }),
  )
  const slotOf = slotLookup(locations)
  const sums = new Float64Array(locations.length)
  const counts = new Int32Array(locations.length)
  const belows = new Int32Array(locations.length)
  const cover = coverLookup(input, 'velocity')
  for (const value of values) {
    const slot = slotOf(value.point)
    const of = slot < 0 ? undefined : gathered[owner[slot] ?? -1]
    if (!of) continue
    const covered = cover(value.instrumentId, value.localDate)
    const { si, flags } = value
    if (flags.length > 0 && flags.includes('carried')) of.carried = true
    if (isAbove(covered, si) || (flags.length > 0 && flags.includes('above_range'))) {
      of.aboveRange += 1
      continue
    }
    if (covered.uncovered) addOnce(of.uncovered, covered.uncovered)
    if (covered.released) addOnce(of.released, covered.released)
    sums[slot] = (sums[slot] ?? 0) + si
    counts[slot] = (counts[slot] ?? 0) + 1
    if (isBelow(covered, si) || (flags.length > 0 && flags.includes('below_range'))) belows[slot] = (belows[slot] ?? 0) + 1
  }
  for (let slot = 0; slot < locations.length; slot += 1) {
    const count = counts[slot] ?? 0
    const location = locations[slot]
    const of = gathered[owner[slot] ?? -1]
    if (!of || !location || count === 0) continue
    of.numbers.push(location.number)
    of.meansMps.push((sums[slot] ?? 0) / count)
    of.cellAreasM2.push(location.cellAreaM2)
    of.belowRange.push(belows[slot] === count)
  }
  return gathered
}
