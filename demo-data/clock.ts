import { DateTime } from 'luxon'
import { uniformInt } from 'pure-rand/distribution/uniformInt'
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus'
import { v7 } from 'uuid'

/** A clock that stands where it is put, and identities drawn from a seed: the same demo has the same identities every time. */
export type DemoClock = {
  readonly now: () => number
  readonly uuid: () => string
  /** moves to a time of day at the site; the clock never goes back */
  readonly moveTo: (day: string, timeOfDay: string) => void
  readonly pass: (seconds: number) => void
  /** the plain date at the site */
  readonly today: () => string
}

export function createDemoClock(seed: number, zone: string, start: string): DemoClock {
  const random = xoroshiro128plus(seed)
  let now = DateTime.fromISO(start, { zone }).toMillis()
  let sequence = 0
  return {
    now: () => now,
    uuid: () => {
      sequence += 1
      const bytes = Uint8Array.from({ length: 16 }, () => uniformInt(random, 0, 255))
      return v7({ msecs: now, seq: sequence, random: bytes })
    },
    moveTo(day, timeOfDay) {
      now = Math.max(now, DateTime.fromISO(`${day}T${timeOfDay}`, { zone }).toMillis())
    },
    pass(seconds) {
      now += Math.round(seconds * 1000)
    },
    today: () => DateTime.fromMillis(now, { zone }).toISODate() ?? '',
  }
}
