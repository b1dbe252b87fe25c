import { RELATIVE_TOLERANCE } from '#core/criteria/compare-limit.ts'
import type { ReleasedUse, UncoveredUse } from '#core/criteria/stance.ts'
import type { EntityBody } from '#core/model/entities.ts'
import type { Quantity, Uuid } from '#core/model/values.ts'
import type { RunInput } from '../method.ts'

/** What an instrument may be trusted with on one calendar day at the site. Ranges in SI, as indicated. */
export type Cover = {
  readonly low: number
  readonly high: number
  readonly uncovered: UncoveredUse | null
  readonly released: ReleasedUse | null
}

type Calibration = EntityBody<'calibration'>

function releaseOf(use: UncoveredUse, later: readonly Calibration[]): ReleasedUse | null {
  const next = later[0]
  if (next?.foundInTolerance === true) return { ...use, certificate: next.certificateNumber, deviation: null }
  const released = later.find((calibration) => calibration.release !== null)
  return released?.release ? { ...use, certificate: released.certificateNumber, deviation: released.release.number } : null
}

/**
 * Whether an instrument's calibration covers a reading. `calibrations` are the instrument's, oldest first; `on` is the calendar
 * date at the site. The due date is the last valid day. A day outside is uncovered until the next later calibration found
 * the instrument in tolerance, or a later one carries a numbered deviation. Source: the house's rule A3 (common practice).
 */
export function coverOf(
  instrument: EntityBody<'instrument'> | null,
  calibrations: readonly Calibration[],
  quantity: Quantity,
  on: string,
): Cover {
  const sensed = instrument?.senses.find((one) => one.quantity === quantity)
  const before = calibrations.filter((calibration) => calibration.calibratedOn <= on)
  const current = before.at(-1) ?? null
  const calibrated = current?.range && current.range.quantity === quantity ? current.range : null
  const low = Math.max(sensed?.low.si ?? Number.NEGATIVE_INFINITY, calibrated?.low.si ?? Number.NEGATIVE_INFINITY)
  const high = Math.min(sensed?.high.si ?? Number.POSITIVE_INFINITY, calibrated?.high.si ?? Number.POSITIVE_INFINITY)
  if (current && on <= current.dueOn) return { low, high, uncovered: null, released: null }
  const kind = current ? 'past_due' : calibrations.length > 0 ? 'before_certificate' : 'no_certificate'
  const use: UncoveredUse = {
    instrument: instrument?.name ?? '?',
    serialNumber: instrument?.serialNumber ?? '?',
    kind,
    on,
    dueOn: current?.dueOn ?? null,
  }
  const released = releaseOf(use, calibrations.slice(before.length))
  return { low, high, uncovered: released ? null : use, released }
}

/** Looks up covers for one run, each instrument and day worked out once. */
export function coverLookup(input: RunInput, quantity: Quantity): (instrumentId: Uuid, on: string) => Cover {
  const instruments = new Map(input.instruments.map((pinned) => [pinned.id, pinned.body]))
  const calibrations = new Map<Uuid, Calibration[]>()
  for (const { instrumentId, body } of input.calibrations) {
    const list = calibrations.get(instrumentId)
    if (list) list.push(body)
    else calibrations.set(instrumentId, [body])
  }
  for (const list of calibrations.values())
    list.sort((a, b) => (a.calibratedOn < b.calibratedOn ? -1 : a.calibratedOn > b.calibratedOn ? 1 : 0))
  const covers = new Map<Uuid, Map<string, Cover>>()
  let lastInstrument = ''
  let lastDay = ''
  let last: Cover | null = null
  return (instrumentId, on) => {
    // One instrument on one day, reading after reading: the usual case needs no look-up.
    if (last !== null && instrumentId === lastInstrument && on === lastDay) return last
    const days = covers.get(instrumentId) ?? new Map<string, Cover>()
    covers.set(instrumentId, days)
    const cover = days.get(on) ?? coverOf(instruments.get(instrumentId) ?? null, calibrations.get(instrumentId) ?? [], quantity, on)
    days.set(on, cover)
    lastInstrument = instrumentId
    lastDay = on
    last = cover
    return cover
  }
}

/** Above the range, beyond the tolerance with which a value counts as on its limit. */
export function isAbove(cover: Cover, si: number): boolean {
  return Math.abs(si) > cover.high * (1 + RELATIVE_TOLERANCE)
}

/** Zero, or a magnitude below the range. */
export function isBelow(cover: Cover, si: number): boolean {
  return si === 0 || Math.abs(si) < cover.low * (1 - RELATIVE_TOLERANCE)
}
