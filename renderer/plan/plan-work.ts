import type { Entity } from '#core/model/entities.ts'
import type { Uuid } from '#core/model/values.ts'
import { proposedTask } from '#core/planning/proposed-work.ts'
import { type RoomTask, type Workload, workload } from '#core/planning/workload.ts'

/** Hours of work in a day on site, a starting value of the house. */
export const HOURS_PER_DAY = 7.5

/** What measuring each room takes: its open terminals with their grids, one reading a point, for as long as the room's criteria ask. */
export function tasksOf(
  roomIds: readonly Uuid[],
  terminals: readonly Entity<'terminal'>[],
  averagingTimeS: (roomId: Uuid) => number,
): RoomTask[] {
  return roomIds.map((roomId) => {
    const own = terminals.filter(({ parentId }) => parentId === roomId).map(({ body }) => body)
    return proposedTask(roomId, own, averagingTimeS(roomId))
  })
}

export type PlannedWork = Workload & {
  readonly daysOnSite: number
  /** measuring and reports together */
  readonly personDays: number
}

/**
 * Filters, readings and days of a visit. Measuring is shared among the people, each of whom changes gown once in each area. `people`
 * below 1 leaves no number of days.
 */
export function plannedWork(tasks: readonly RoomTask[], people: number, facilities: number): PlannedWork {
  const team = people >= 1 ? people : Number.NaN
  const work = workload(tasks, people >= 1 ? people * facilities : 0)
  const perDayMin = HOURS_PER_DAY * 60
  return { ...work, daysOnSite: work.minutes / team / perDayMin, personDays: (work.minutes + work.reportMinutes) / perDayMin }
}
