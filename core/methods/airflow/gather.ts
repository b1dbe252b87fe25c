import type { FlowWay } from '#core/model/terminals.ts'
import type { Quantity } from '#core/model/values.ts'
import { correctReading } from '#core/uncertainty/calibration-points.ts'
import type { MeasuredPoint, Pinned, RunInput } from '../method.ts'
import { airOf, type RunAir } from './air-of-run.ts'
import { isAbove, isBelow } from './calibration-cover.ts'
import { emptyFor, type Gathered, type OnOtherBasis, type ReadingsOfUse } from './gathered.ts'
import { OTHER_BASES, type OtherBasis } from './instrument-conversion.ts'
import { type InstrumentUse, lookUpUses } from './instrument-use.ts'
import { airReading } from './reading-to-air.ts'
import { slotLookup } from './slot-lookup.ts'
import { quantityOf } from './ways.ts'

export type { Gathered, OnOtherBasis, ReadingsOfUse } from './gathered.ts'

function addOnce<T>(list: T[], item: T): void {
  if (!list.includes(item)) list.push(item)
}

/** Deals the run's points out to its terminals; -1 for a point that belongs to none. Points of one terminal mostly follow each other. */
function dealOut(locations: readonly MeasuredPoint[], gathered: readonly Gathered[], planned: readonly MeasuredPoint[][]): Int32Array {
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

/** Sums by point: running totals, number of valid samples, number of those below the range. */
type Sums = {
  readonly totals: Float64Array
  /** on the other bases; null while every reading so far is the same as indicated */
  readonly others: Record<OtherBasis, Float64Array | null>
  readonly samples: Int32Array
  readonly below: Int32Array
}

function shareOf(of: Gathered, use: InstrumentUse): ReadingsOfUse {
  const last = of.readings[of.readings.length - 1]
  if (last?.use === use) return last
  const known = of.readings.find((readings) => readings.use === use)
  if (known) return known
  const fresh: ReadingsOfUse = { use, indicated: [] }
  of.readings.push(fresh)
  if (of.way === 'face_grid') for (const basis of OTHER_BASES) of[basis].missing ??= use.conversion[basis].missing
  return fresh
}

/** Adds a sample to a basis whose figure differs from the indicated one; what came before was the same on both. */
function addOn(basis: OtherBasis, sums: Sums, slot: number, total: number, by: number): void {
  const own = sums.others[basis]
  const totals = own ?? Float64Array.from(sums.totals)
  if (!own) sums.others[basis] = totals
  totals[slot] = own ? (own[slot] ?? 0) + by : total + by
}

function addBases(sums: Sums, slot: number, before: number, use: InstrumentUse, si: number): void {
  for (const basis of OTHER_BASES) {
    const { factor, missing } = use.conversion[basis]
    // What is missing is noted once, with the first reading of this use.
    if (!missing && (factor !== 1 || sums.others[basis])) addOn(basis, sums, slot, before, si * factor)
  }
}

/** A sample as the display showed it, and as calibration points correct it. */
type Told = { readonly shown: number; readonly told: number }

/** The sample as it counts as indicated, on the way that its terminal is measured; null where it says nothing. */
function addOtherWay(sums: Sums, slot: number, before: number, of: Gathered, use: InstrumentUse, value: Told): number | null {
  const reading = airReading(value.told, value.shown, of, use)
  if (reading.indicated === null) return null
  if (reading.weak) of.weak += 1
  if (reading.hood) of.hoodFactors.push(reading.hood)
  for (const basis of OTHER_BASES) {
    if (reading.missing[basis]) of[basis].missing ??= reading.missing[basis]
    else addOn(basis, sums, slot, before, reading[basis])
  }
  return reading.indicated
}

function correctedBy(use: InstrumentUse, of: Gathered, si: number): number {
  if (!use.curve) return si
  const { corrected, beyond } = correctReading(use.curve, si)
  of.corrected += 1
  if (beyond) of.correctedBeyond += 1
  return corrected
}

type LookUp = { readonly quantity: Quantity; readonly uses: ReturnType<typeof lookUpUses> }

/** Gives each terminal the look-up for its quantity and its air; terminals that share both share one. */
function lookUpsFor(input: RunInput): (of: Gathered) => LookUp {
  const known = new Map<RunAir, Map<Quantity, LookUp>>()
  return ({ way, terminal, air }) => {
    const quantity = quantityOf(way, terminal.body)
    const ofAir = known.get(air) ?? new Map<Quantity, LookUp>()
    known.set(air, ofAir)
    const lookUp = ofAir.get(quantity) ?? { quantity, uses: lookUpUses(input, quantity, air) }
    ofAir.set(quantity, lookUp)
    return lookUp
  }
}

function addUp(input: RunInput, gathered: readonly Gathered[], owner: Int32Array): Sums {
  const { locations, values } = input
  const slotOf = slotLookup(locations)
  const sums: Sums = {
    totals: new Float64Array(locations.length),
    others: { standard: null, actual: null },
    samples: new Int32Array(locations.length),
    below: new Int32Array(locations.length),
  }
  const { totals, samples, below } = sums
  const lookUps = gathered.map(lookUpsFor(input))
  for (let i = 0; i < values.length; i += 1) {
    const value = values[i]
    if (!value) continue
    const slot = slotOf(value.point)
    const ownedBy = slot < 0 ? -1 : (owner[slot] ?? -1)
    const of = gathered[ownedBy]
    const lookUp = lookUps[ownedBy]
    if (!of || !lookUp) continue
    if ((value.quantity ?? 'velocity') !== lookUp.quantity) {
      of.unusable += 1
      continue
    }
    const use = lookUp.uses(value.instrumentId, value.localDate)
    const { si, flags } = value
    const flagged = flags.length > 0
    if (flagged && flags.includes('carried')) of.carried = true
    if (isAbove(use, si) || (flagged && flags.includes('above_range'))) {
      of.aboveRange += 1
      continue
    }
    const before = totals[slot] ?? 0
    const told = use.curve ? correctedBy(use, of, si) : si
    let counts: number | null = told
    if (of.way !== 'face_grid') counts = addOtherWay(sums, slot, before, of, use, { shown: si, told })
    else if (!use.conversion.sameOnAll || sums.others.standard || sums.others.actual) addBases(sums, slot, before, use, told)
    if (counts === null) {
      of.unusable += 1
      continue
    }
    if (use.uncovered) addOnce(of.uncovered, use.uncovered)
    if (use.released) addOnce(of.released, use.released)
    if (flagged && flags.includes('short_averaging')) of.averagedShort += 1
    const share = shareOf(of, use)
    share.indicated.push(si)
    totals[slot] = before + counts
    samples[slot] = (samples[slot] ?? 0) + 1
    if (isBelow(use, si) || (flagged && flags.includes('below_range'))) below[slot] = (below[slot] ?? 0) + 1
  }
  return sums
}

function markBelow(of: Gathered): void {
  while (of.belowRange.length < of.numbers.length - 1) of.belowRange.push(false)
  of.belowRange.push(true)
  of.belowPoints += 1
}

/** A list of its own for a basis, from the first mean on that differs from the indicated one. */
function pushOn(on: OnOtherBasis, of: Gathered, mean: number): void {
  if (on.means !== of.means) on.means.push(mean)
  else if (mean !== of.means[of.means.length - 1]) on.means = [...of.means.slice(0, -1), mean]
}

/**
 * Brings a run's valid readings together by terminal and point, in one pass. A point's mean is over its valid samples; samples above the
 * instrument's or the calibrated range, as indicated, are left out and counted; readings of points that belong to no terminal are not this
 * method's. Calibration points correct a reading first; then each becomes a velocity or flow as indicated, of standard air and of the air at
 * the filter, and only those are averaged, never pressures. A point with fewer valid samples than planned is measured all the same; what it
 * lacks is counted. Terminals keep the order of the input.
 */
export function gather(
  input: RunInput,
  terminals: readonly { readonly terminal: Pinned<'terminal'>; readonly way: FlowWay }[],
  air: RunAir,
): Gathered[] {
  const { locations } = input
  const { samplesPerPoint } = input.run
  const planned: MeasuredPoint[][] = []
  const gathered = terminals.map(({ terminal, way }, place): Gathered => {
    const points: MeasuredPoint[] = []
    planned.push(points)
    const carriedFrom = input.carriedAir?.get(terminal.id)
    const own = carriedFrom ? airOf({ run: { ...input.run, ...carriedFrom }, facilityAltitudeM: input.facilityAltitudeM }) : air
    return emptyFor(place, terminal, way, own, points)
  })
  const owner = dealOut(locations, gathered, planned)
  const { totals, others, samples, below } = addUp(input, gathered, owner)
  for (let slot = 0; slot < locations.length; slot += 1) {
    const count = samples[slot] ?? 0
    const location = locations[slot]
    const of = gathered[owner[slot] ?? -1]
    if (!of || !location || count === 0) continue
    of.numbers.push(location.number)
    of.means.push((totals[slot] ?? 0) / count)
    if (others.standard) pushOn(of.standard, of, (others.standard[slot] ?? 0) / count)
    if (others.actual) pushOn(of.actual, of, (others.actual[slot] ?? 0) / count)
    if (below[slot] === count) markBelow(of)
    if (count < samplesPerPoint) {
      of.shortPoints += 1
      of.samplesLacking += samplesPerPoint - count
    }
  }
  return gathered
}
