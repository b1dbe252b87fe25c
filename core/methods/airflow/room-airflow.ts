import type { Method } from '../method.ts'
import { roomAirflowCautions } from './cautions.ts'
import { type AirflowScope, computeAirflow } from './compute-airflow.ts'
import { layOutRoom } from './room-layout.ts'
import { quantityOf, wayOf } from './ways.ts'

export const ROOM_SCOPE: AirflowScope = { wayOf, wholeRoom: true }

/** The air flow of a room: every supply, return and exhaust terminal and duct section, each by its own way, and their balance. */
export const roomAirflow: Method = {
  id: 'room_airflow',
  records: 'velocity',
  recordsAt: (terminal) => {
    const way = terminal && wayOf(terminal)
    return terminal && way ? quantityOf(way, terminal) : 'velocity'
  },
  balancesRoom: true,
  wayAt: wayOf,
  measures: (terminal) => wayOf(terminal) !== null,
  layOut: layOutRoom,
  compute: (input) => computeAirflow(input, ROOM_SCOPE),
  cautions: roomAirflowCautions,
}
