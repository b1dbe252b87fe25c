import { gridOf } from '#core/methods/airflow/layout.ts'
import { methodOf } from '#core/methods/catalogue.ts'
import type { EntityBody } from '#core/model/entities.ts'
import type { Uuid } from '#core/model/values.ts'
import type { RoomTask } from './workload.ts'

/**
 * What measuring a room would take that has no run yet: its filters that are open, each with its own or the proposed grid, one reading
 * a point. `averagingTimeS` in s, as the room's criteria ask for.
 */
export function proposedTask(roomId: Uuid, terminals: readonly EntityBody<'terminal'>[], averagingTimeS: number): RoomTask {
  const method = methodOf('face_velocity_grid')
  const measured = terminals.filter((terminal) => method.measures(terminal) && terminal.closed === null)
  const points = measured.reduce((sum, terminal) => {
    const { rows, columns } = gridOf(terminal)
    return sum + rows * columns
  }, 0)
  return { roomId, filters: measured.length, points, samplesPerPoint: 1, averagingTimeS }
}
