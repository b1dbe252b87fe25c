import type { Uuid } from '#core/model/values.ts'

/** How long the work takes. Seconds and minutes, invented starting values of the project until a team's own rates are known. */
export type Rates = {
  readonly besideAveragingS: number
  readonly betweenFiltersS: number
  readonly roomSetUpMin: number
  readonly gowningChangeMin: number
  readonly reportPerRoomMin: number
}

const STARTING_RATES: Rates = {
  besideAveragingS: 7,
  betweenFiltersS: 45,
  roomSetUpMin: 10,
  gowningChangeMin: 15,
  reportPerRoomMin: 20,
}

/** What is still to be measured in one room, by the settings of its run. */
export type RoomTask = {
  readonly roomId: Uuid
  readonly filters: number
  readonly points: number
  readonly samplesPerPoint: number
  readonly averagingTimeS: number
}

export type RoomWorkload = { readonly roomId: Uuid; readonly filters: number; readonly readings: number; readonly minutes: number }

export type Workload = {
  readonly filters: number
  readonly readings: number
  /** measuring, set-up and gowning: what the visit takes one team on site */
  readonly minutes: number
  readonly reportMinutes: number
  readonly rooms: readonly RoomWorkload[]
}

/**
 * Filters, readings and minutes of a visit. Each reading takes its averaging time and {@link Rates.besideAveragingS} (12 s at
 * 5 s averaging, 17 s at 10 s); a room with nothing left to measure takes nothing. `gowningChanges` counts changes of gown
 * during the visit. Counts below zero are taken as an error of the caller and not corrected.
 */
export function workload(tasks: readonly RoomTask[], gowningChanges = 0, rates: Rates = STARTING_RATES): Workload {
  const rooms = tasks.map((task): RoomWorkload => {
    const readings = task.points * task.samplesPerPoint
    const measuringS = readings * (task.averagingTimeS + rates.besideAveragingS) + Math.max(0, task.filters - 1) * rates.betweenFiltersS
    return {
      roomId: task.roomId,
      filters: task.filters,
      readings,
      minutes: readings === 0 ? 0 : measuringS / 60 + rates.roomSetUpMin,
    }
  })
  const total = (figure: (room: RoomWorkload) => number) => rooms.reduce((sum, room) => sum + figure(room), 0)
  return {
    filters: total((room) => room.filters),
    readings: total((room) => room.readings),
    minutes: total((room) => room.minutes) + gowningChanges * rates.gowningChangeMin,
    reportMinutes: rooms.filter((room) => room.readings > 0).length * rates.reportPerRoomMin,
    rooms,
  }
}
