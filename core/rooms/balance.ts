import type { EntityBody } from '#core/model/entities.ts'
import type { Uuid } from '#core/model/values.ts'
import { settledSum } from './settled-sum.ts'

/** Which way a terminal moves air, seen from its room. */
export type AirDirection = 'supply' | 'return' | 'exhaust'

/** A terminal's flow as the balance sees it. Flow is standard flow (mass over standard density), m3/s, positive in its own direction. */
export type BalanceTerminal = {
  readonly terminalId: Uuid
  readonly direction: AirDirection
  readonly airSource: EntityBody<'terminal'>['airSource']
  /** null: in service and not measured; 0 for a closed one */
  readonly standardFlowM3ps: number | null
}

export type RoomBalance = {
  /** sums of the terminals whose air crosses the boundary, standard m3/s; with terminals missing the sums so far */
  readonly supplyM3ps: number
  readonly returnM3ps: number
  readonly exhaustM3ps: number
  /** supplied by fan filter units and benches out of the room itself: in no balance. The returns that feed them move the same air */
  readonly recirculatedM3ps: number
  /** supply - return - exhaust, standard m3/s, positive when the room gives air to its surroundings; null while a terminal is missing */
  readonly offsetM3ps: number | null
  /** the same at the density of the room's air */
  readonly offsetAtRoomM3ps: number | null
  /** of supply; null where supply is 0 or the offset is none */
  readonly offsetPercentOfSupply: number | null
  readonly missingTerminalIds: readonly Uuid[]
}

/** The way a terminal of a kind moves air; null for a duct section, which is no opening into the room. */
export function directionOf(kind: EntityBody<'terminal'>['kind']): AirDirection | null {
  switch (kind) {
    case 'supply_filter':
    case 'fan_filter_unit':
      return 'supply'
    case 'return_grille':
      return 'return'
    case 'exhaust_grille':
      return 'exhaust'
    case 'duct_section':
      return null
  }
}

/**
 * Whether a terminal's air crosses the room's boundary. Exhaust always does; supply and return do unless the air is recirculated within this
 * room (fan filter units and benches, and the returns that feed them) or moved by a device that stands in it. Source: a rule of the
 * house.
 */
export function crossesBoundary(direction: AirDirection, airSource: BalanceTerminal['airSource']): boolean {
  return direction === 'exhaust' || airSource === 'air_handler' || airSource === 'shared_plenum'
}

/**
 * Balance of one room on a mass basis: supply - return - exhaust of standard flow, then shown at the room's density and in percent of
 * supply. `standardPerRoomDensity` is rho_standard / rho_room, which turns standard flow into flow as the room's air is; null
 * where conditions are not known. A terminal that crosses the boundary and has no flow makes the offset none and is named. Flows
 * that cancel give an offset of 0: see {@link settledSum}. Source: conservation of mass.
 */
export function roomBalance(terminals: readonly BalanceTerminal[], standardPerRoomDensity: number | null): RoomBalance {
  const sums = { supply: 0, return: 0, exhaust: 0 }
  let recirculatedM3ps = 0
  let size = 0
  const missingTerminalIds: Uuid[] = []
  for (const { terminalId, direction, airSource, standardFlowM3ps } of terminals) {
    const crosses = crossesBoundary(direction, airSource)
    if (standardFlowM3ps === null) {
      if (crosses) missingTerminalIds.push(terminalId)
    } else if (crosses) {
      sums[direction] += standardFlowM3ps
      size += Math.abs(standardFlowM3ps)
    } else if (direction === 'supply') recirculatedM3ps += standardFlowM3ps
  }
  const offsetM3ps = missingTerminalIds.length > 0 ? null : settledSum(sums.supply - sums.return - sums.exhaust, size)
  return {
    supplyM3ps: sums.supply,
    returnM3ps: sums.return,
    exhaustM3ps: sums.exhaust,
    recirculatedM3ps,
    offsetM3ps,
    offsetAtRoomM3ps: offsetM3ps === null || standardPerRoomDensity === null ? null : offsetM3ps * standardPerRoomDensity,
    offsetPercentOfSupply: offsetM3ps === null || sums.supply <= 0 ? null : (100 * offsetM3ps) / sums.supply,
    missingTerminalIds,
  }
}
