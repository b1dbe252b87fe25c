import type { DoorPressure } from '#core/model/runs.ts'
import type { Entered, Uuid } from '#core/model/values.ts'
import type { RunPlan } from './run-plan.ts'

/** The pressures as they are kept: a door without a figure has none; a figure that stood before keeps its instrument. */
export function doorPressuresOf(
  plan: Pick<RunPlan, 'run' | 'doors'>,
  pressures: ReadonlyMap<Uuid, Entered | null>,
  instrumentId: Uuid | null,
): DoorPressure[] {
  return plan.doors.flatMap(({ id }) => {
    const difference = pressures.get(id)
    if (!difference) return []
    const before = plan.run.body.doorPressures.findLast(({ doorId }) => doorId === id)
    const same = before?.difference.si === difference.si && before.difference.typed === difference.typed
    return [same ? before : { doorId: id, difference, instrumentId }]
  })
}
