import type { FlowWay } from '#core/model/terminals.ts'
import type { Uuid } from '#core/model/values.ts'

/** How long the work takes. Seconds and minutes, invented starting values of the project until a team's own rates are known. */
export type Rates = {
  readonly besideAveragingS: number
  readonly betweenFiltersS: number
  readonly hoodTerminalS: number
  readonly ductPointS: number
  readonly ductMin: number
  readonly roomSetUpMin: number
  readonly gowningChangeMin: number
  readonly reportPerRoomMin: number
  readonly doorPressureS: number
}

const STARTING_RATES: Rates = {
  besideAveragingS: 7,
  betweenFiltersS: 45,
  hoodTerminalS: 120,
  ductPointS: 20,
  ductMin: 10,
  roomSetUpMin: 10,
  gowningChangeMin: 15,
  reportPerRoomMin: 20,
  doorPressureS: 60,
}

/** Places to measure by how they are measured. */
export type PointsByWay = {
  /** faces measured by a grid, and flow elements, each of which is one reading at one place */
  readonly filters: number
  /** points of those, and of measuring planes */
  readonly points: number
  /** terminals under a hood */
  readonly hoods: number
  readonly ducts: number
  readonly ductPoints: number
}

export const NO_POINTS: PointsByWay = { filters: 0, points: 0, hoods: 0, ducts: 0, ductPoints: 0 }

/** One more terminal with so many points by its way. */
export function withPoints(work: PointsByWay, way: FlowWay, points: number): PointsByWay {
  switch (way) {
    case 'hood':
      return { ...work, hoods: work.hoods + 1 }
    case 'duct_traverse':
      return { ...work, ducts: work.ducts + 1, ductPoints: work.ductPoints + points }
    default:
      return { ...work, filters: work.filters + 1, points: work.points + points }
  }
}

/** What is still to be measured in one room, by the settings of its run. */
export type RoomTask = PointsByWay & {
  readonly roomId: Uuid
  readonly samplesPerPoint: number
  readonly averagingTimeS: number
}

export type RoomWorkload = { readonly roomId: Uuid; readonly terminals: number; readonly readings: number; readonly minutes: number }

export type Workload = {
  /** faces, hoods, ducts and flow elements; a measuring plane has points alone */
  readonly terminals: number
  readonly readings: number
  /** measuring, set-up and gowning: what the visit takes one team on site */
  readonly minutes: number
  readonly reportMinutes: number
  readonly rooms: readonly RoomWorkload[]
}

/** What a visit takes that belongs to no single room. */
export type BesideRooms = { readonly gowningChanges?: number; readonly doors?: number }

function measuringS(task: RoomTask, rates: Rates): number {
  const samples = task.samplesPerPoint
  const readingS = task.averagingTimeS + rates.besideAveragingS
  return (
    task.points * samples * readingS +
    Math.max(0, task.filters - 1) * rates.betweenFiltersS +
    task.hoods * (rates.hoodTerminalS + (samples - 1) * readingS) +
    task.ductPoints * samples * rates.ductPointS +
    task.ducts * rates.ductMin * 60
  )
}

/**
 * Terminals, readings and minutes of a visit. Each reading over a face or plane takes its averaging time and {@link Rates.besideAveragingS}
 * (12 s at 5 s averaging, 17 s at 10 s), and so does each further sample under a hood, whose terminal takes 2 min; a duct takes 10 min and 20 s for
 * each reading of its traverse. A room with nothing left to measure takes nothing. `gowningChanges` counts changes of gown
 * during the visit, `doors` the pressures over doors, 1 min each. Counts below zero are taken as an error of the caller and not corrected. Source: the house's rule A9 (invented rates).
 */
export function workload(tasks: readonly RoomTask[], beside: BesideRooms = {}, rates: Rates = STARTING_RATES): Workload {
  const { gowningChanges = 0, doors = 0 } = beside
  const rooms = tasks.map((task): RoomWorkload => {
    const readings = (task.points + task.hoods + task.ductPoints) * task.samplesPerPoint
    return {
      roomId: task.roomId,
      terminals: task.filters + task.hoods + task.ducts,
      readings,
      minutes: readings === 0 ? 0 : measuringS(task, rates) / 60 + rates.roomSetUpMin,
    }
  })
  const total = (figure: (room: RoomWorkload) => number) => rooms.reduce((sum, room) => sum + figure(room), 0)
  return {
    terminals: total((room) => room.terminals),
    readings: total((room) => room.readings),
    minutes: total((room) => room.minutes) + gowningChanges * rates.gowningChangeMin + (doors * rates.doorPressureS) / 60,
    reportMinutes: rooms.filter((room) => room.readings > 0).length * rates.reportPerRoomMin,
    rooms,
  }
}
