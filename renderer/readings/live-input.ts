import { setsInForce } from '#core/methods/airflow/rules-in-force.ts'
import type { MeasuredValue, RunInput } from '#core/methods/method.ts'
import type { Uuid } from '#core/model/values.ts'
import { localDate } from '#core/planning/dates.ts'
import type { FilterView } from './run-desk.ts'
import type { RunPlan } from './run-plan.ts'
import type { HandInstrument } from './use-hand-instrument.ts'

/**
 * The calculation's input for one filter, or one plane, alone, out of what stands on the screen, unsaved numbers included. The figures of a zone
 * or room cannot come out of it: they wait for the engine, which sees the whole run.
 */
export function inputOfFilter(plan: RunPlan, view: FilterView, timeZone: string, hand: HandInstrument | null): RunInput {
  const { filter } = view
  const values: MeasuredValue[] = [...view.readings.values()].map((reading) => ({
    point: reading.place.point,
    si: reading.si,
    flags: reading.flags,
    instrumentId: reading.instrumentId,
    localDate: localDate(Date.parse(reading.at), timeZone),
    quantity: filter.quantity,
  }))
  // Until the first reading with it is saved, the run has not pinned the instrument in the hand.
  const unpinned = hand && !plan.instruments.some((instrument) => instrument.id === hand.id) ? hand : null
  return {
    runId: plan.runId,
    run: plan.run.body,
    room: plan.room,
    zones: plan.zones,
    terminals: filter.way === 'plane' ? [] : [filter.terminal],
    instruments: unpinned ? [...plan.instruments, { id: unpinned.id, revision: 0, body: unpinned.body }] : plan.instruments,
    calibrations: unpinned
      ? [
          ...plan.calibrations,
          ...unpinned.calibrations.map(({ id, revision, body }) => ({ id, revision, body, instrumentId: unpinned.id })),
        ]
      : plan.calibrations,
    ...setsInForce(plan.room, plan.zones, plan.criteriaSets),
    locations: filter.points,
    values,
    voidedByTerminal: new Map<Uuid, number>(),
    facilityAltitudeM: plan.altitudeM,
    doors: [],
  }
}
