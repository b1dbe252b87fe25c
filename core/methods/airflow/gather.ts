import type { ReleasedUse, UncoveredUse } from '#core/criteria/stance.ts'
import type { Location } from '#core/model/readings.ts'
import type { Pinned, RunInput } from '../method.ts'
import { coverLookup, isAbove, isBelow } from './calibration-cover.ts'

/** The readings of one terminal, brought together by point in path order. */
export type Gathered = {
  readonly terminal: Pinned<'terminal'>
  readonly planned: readonly Location[]
  /** points with at least one valid sample */
  readonly numbers: number[]
  readonly meansMps: number[]
  /** whether every sample of a measured point lies below the range; empty while none does */
  belowRange: boolean[]
  belowPoints: number
  aboveRange: number
  /** valid samples flagged as averaged too short */
  averagedShort: number
  /** measured points with fewer valid samples than the run plans, and how many samples they lack together */
  shortPoints: number
  samplesLacking: number
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

/** Deals the run's points out to its terminals; -1 for a point that belongs to none. Points of one terminal mostly follow each other. */
function dealOut(locations: readonly Location[], gathered: readonly Gathered[], planned: readonly Location[][]): Int32Array {
  const byTerminal = new Map(gathered.map((of, index) => [of.terminal.id, index]))
  const owner = new Int32Array(locations.length).fill(-1)
  let lastId: string | null = null
  let last = -1
  for (let slot = 0; slot < locations.length; slot += 1) {
    const location = locations[slot]
    if (!location) continue
    if (location.terminalId !== lastId) {
      lastId = location.terminalId
      last = lastId === null ? -1 : (byTerminal.get(lastId) ?? -1)
    }
    if (last < 0) continue
    owner[slot] = last
    planned[last]?.push(location)
  }
  return owner
}

/** Sums by point: running total, number of valid samples, number of those below the range. */
type Sums = { readonly totals: Float64Array; readonly samples: Int32Array; readonly below: Int32Array }

function addUp(input: RunInput, gathered: readonly Gathered[], owner: Int32Array): Sums {
  const { locations, values } = input
  const slotOf = slotLookup(locations)
  const totals = new Float64Array(locations.length)
  const samples = new Int32Array(locations.length)
  const below = new Int32Array(locations.length)
  const cover = coverLookup(input, 'velocity')
  for (let i = 0; i < values.length; i += 1) {
    const value = values[i]
    if (!value) continue
    const slot = slotOf(value.point)
    const of = slot < 0 ? undefined : gathered[owner[slot] ?? -1]
    if (!of) continue
    const covered = cover(value.instrumentId, value.localDate)
    const { si, flags } = value
    const flagged = flags.length > 0
    if (flagged && flags.includes('carried')) of.carried = true
    if (isAbove(covered, si) || (flagged && flags.includes('above_range'))) {
      of.aboveRange += 1
      continue
    }
    if (covered.uncovered) addOnce(of.uncovered, covered.uncovered)
    if (covered.released) addOnce(of.released, covered.released)
    if (flagged && flags.includes('short_averaging')) of.averagedShort += 1
    totals[slot] = (totals[slot] ?? 0) + si
    samples[slot] = (samples[slot] ?? 0) + 1
    if (isBelow(covered, si) || (flagged && flags.includes('below_range'))) below[slot] = (below[slot] ?? 0) + 1
  }
  return { totals, samples, below }
}

function markBelow(of: Gathered): void {
  while (of.belowRange.length < of.numbers.length - 1) of.belowRange.push(false)
  of.belowRange.push(true)
  of.belowPoints += 1
}

/**
 * Brings a run's valid readings together by terminal and point, in one pass. A point's mean is over its valid samples; samples above the
 * instrument's or the calibrated range are left out and counted; readings of points that belong to no terminal are not this
 * method's. A point with fewer valid samples than planned is measured all the same; what it lacks is counted. Terminals keep the
 * order of the input.
 */
export function gather(input: RunInput, terminals: readonly Pinned<'terminal'>[]): Gathered[] {
  const { locations } = input
  const { samplesPerPoint } = input.run
  const planned: Location[][] = []
  const gathered = terminals.map((terminal): Gathered => {
    const points: Location[] = []
    planned.push(points)
    return {
      terminal,
      planned: points,
      numbers: [],
      meansMps: [],
      belowRange: [],
      belowPoints: 0,
      aboveRange: 0,
      averagedShort: 0,
      shortPoints: 0,
      samplesLacking: 0,
      carried: false,
      uncovered: [],
      released: [],
    }
  })
  const owner = dealOut(locations, gathered, planned)
  const { totals, samples, below } = addUp(input, gathered, owner)
  for (let slot = 0; slot < locations.length; slot += 1) {
    const count = samples[slot] ?? 0
    const location = locations[slot]
    const of = gathered[owner[slot] ?? -1]
    if (!of || !location || count === 0) continue
    of.numbers.push(location.number)
    of.meansMps.push((totals[slot] ?? 0) / count)
    if (below[slot] === count) markBelow(of)
    if (count < samplesPerPoint) {
      of.shortPoints += 1
      of.samplesLacking += samplesPerPoint - count
    }
  }
  return gathered
}
