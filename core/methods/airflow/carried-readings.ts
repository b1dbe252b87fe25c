import type { Uuid } from '#core/model/values.ts'
import type { MeasuredPoint, MeasuredValue, RunInput } from '../method.ts'

/** One group of terminals whose readings come from another run, with that run as it was measured. */
export type CarriedGroup = { readonly terminalIds: readonly Uuid[]; readonly from: RunInput }

function placeOf({ row, column }: MeasuredPoint): string {
  return `${row}/${column}`
}

/**
 * Numbers for carried points: those of the run's own points in the same places, where the two layouts agree; else beyond all numbers in use. Rows and
 * columns are told as the technician faced, so layouts of two facings never agree.
 */
function numbersFor(
  theirs: readonly MeasuredPoint[],
  own: readonly MeasuredPoint[],
  sameFacing: boolean,
  beyond: number,
): ReadonlyMap<number, number> {
  const ownAt = new Map(own.map((location) => [placeOf(location), location.number]))
  const agree = sameFacing && theirs.length === own.length && theirs.every((location) => ownAt.has(placeOf(location)))
  return new Map(theirs.map((location, index) => [location.number, (agree && ownAt.get(placeOf(location))) || beyond + index + 1]))
}

type Parts = Pick<RunInput, 'locations' | 'values' | 'instruments' | 'calibrations'> & {
  readonly carriedAir: NonNullable<RunInput['carriedAir']>
}

function unionOf<T extends { readonly id: Uuid }>(own: readonly T[], others: readonly T[]): readonly T[] {
  const known = new Set(own.map(({ id }) => id))
  const fresh = others.filter(({ id }) => !known.has(id) && known.add(id))
  return fresh.length === 0 ? own : [...own, ...fresh]
}

function carry(input: Parts, terminalId: Uuid, from: RunInput, sameFacing: boolean): Parts {
  const theirs = from.locations.filter((location) => location.terminalId === terminalId)
  const own = input.locations.filter((location) => location.terminalId === terminalId)
  const beyond = input.locations.reduce((most, { number }) => Math.max(most, number), 0)
  const numbers = numbersFor(theirs, own, sameFacing, beyond)
  const renumbered = theirs.flatMap((location) => {
    const number = numbers.get(location.number)
    return number === undefined ? [] : [{ ...location, number }]
  })
  const values = from.values.flatMap((value): MeasuredValue[] => {
    const point = numbers.get(value.point)
    return point === undefined ? [] : [{ ...value, point, flags: [...value.flags, 'carried'] }]
  })
  const { conditions, instrumentConditions } = from.run
  return {
    locations: [...input.locations.filter((location) => location.terminalId !== terminalId), ...renumbered],
    values: [...input.values, ...values],
    instruments: unionOf(input.instruments, from.instruments),
    calibrations: unionOf(input.calibrations, from.calibrations),
    carriedAir: new Map(input.carriedAir).set(terminalId, { conditions, instrumentConditions }),
  }
}

/**
 * An as-left run with the as-found readings of the terminals that it carries: their points and readings, flagged as carried, with the
 * instruments and certificates of the run that they come from, and converted with the air of that run. A terminal that has a reading of its own in
 * this run, or none in the other, is left as it is. Points stay in path order by number.
 */
export function withCarried(input: RunInput, groups: readonly CarriedGroup[]): RunInput {
  if (groups.length === 0) return input
  const terminalOf = new Map(input.locations.map(({ number, terminalId }) => [number, terminalId]))
  const measured = new Set(input.values.map(({ point }) => terminalOf.get(point)))
  let parts: Parts = { ...input, carriedAir: new Map() }
  for (const { terminalIds, from } of groups) {
    const theirTerminalOf = new Map(from.locations.map(({ number, terminalId }) => [number, terminalId]))
    const found = new Set(from.values.map(({ point }) => theirTerminalOf.get(point)))
    for (const id of terminalIds)
      if (!measured.has(id) && found.has(id)) parts = carry(parts, id, from, from.run.facingDegrees === input.run.facingDegrees)
  }
  return { ...input, ...parts, locations: [...parts.locations].sort((one, other) => one.number - other.number) }
}
