import type { Entity } from '#core/model/entities.ts'
import type { Uuid } from '#core/model/values.ts'
import { type PlannedRoom, proposedTask } from '#core/planning/proposed-work.ts'
import { type RoomTask, type Workload, workload } from '#core/planning/workload.ts'

/** Hours of work in a day on site, a starting value of the house. */
export const HOURS_PER_DAY = 7.5

type Places = {
  readonly rooms: readonly Entity<'room'>[]
  readonly zones: readonly Entity<'zone'>[]
  readonly terminals: readonly Entity<'terminal'>[]
}

/** The chosen rooms, each with what is in it. */
export function plannedRooms(roomIds: readonly Uuid[], { rooms, zones, terminals }: Places): PlannedRoom[] {
  return roomIds.flatMap((roomId) => {
    const room = rooms.find(({ id }) => id === roomId)
    const within = ({ parentId }: { parentId: Uuid | null }) => parentId === roomId
    return room ? [{ room, zones: zones.filter(within), terminals: terminals.filter(within) }] : []
  })
}

/** What measuring each room takes: its open terminals by their ways, one reading a point, for as long as the room's criteria ask. */
export function tasksOf(roomIds: readonly Uuid[], places: Places, averagingTimeS: (roomId: Uuid) => number): RoomTask[] {
  return plannedRooms(roomIds, places).map((planned) => proposedTask(planned, averagingTimeS(planned.room.id)))
}

export type PlannedWork = Workload & {
  readonly daysOnSite: number
  /** measuring and reports together */
  readonly personDays: number
}

/**
 * Terminals, readings and days of a visit. Measuring is shared among the people, each of whom changes gown once in each area; `doors` are the
 * pressures over doors. `people` below 1 leaves no number of days.
 */
export function plannedWork(tasks: readonly RoomTask[], people: number, facilities: number, doors: number): PlannedWork {
  const team = people >= 1 ? people : Number.NaN
  const work = workload(tasks, { gowningChanges: people >= 1 ? people * facilities : 0, doors })
  const perDayMin = HOURS_PER_DAY * 60
  return { ...work, daysOnSite: work.minutes / team / perDayMin, personDays: (work.minutes + work.reportMinutes) / perDayMin }
}
