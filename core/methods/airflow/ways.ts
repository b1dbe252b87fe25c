import type { EntityBody } from '#core/model/entities.ts'
import type { AirDirection, FlowWay } from '#core/model/terminals.ts'
import type { Quantity } from '#core/model/values.ts'
import { directionOf } from '#core/rooms/balance.ts'

type Terminal = EntityBody<'terminal'>

/** Filters and fan filter units: what blows filtered air into the room. */
export function isFilter(kind: Terminal['kind']): boolean {
  return kind === 'supply_filter' || kind === 'fan_filter_unit'
}

/**
 * The way proposed for a terminal: filters behind a bare face or screen by a grid of velocities, every other opening by hood, a duct by
 * traverse, or by its flow element where no duct is described. Null for a duct section of which neither is described.
 */
export function proposedWay(terminal: Pick<Terminal, 'kind' | 'face' | 'duct' | 'flowElement'>): FlowWay | null {
  if (terminal.kind === 'duct_section') return terminal.duct ? 'duct_traverse' : terminal.flowElement ? 'flow_element' : null
  return isFilter(terminal.kind) && (terminal.face === 'bare' || terminal.face === 'screen') ? 'face_grid' : 'hood'
}

/** The way a terminal is measured: the one chosen for it where it can be gone, else the proposed one. */
export function wayOf(terminal: Terminal): FlowWay | null {
  const { measuredBy } = terminal
  if (measuredBy === 'duct_traverse' && !terminal.duct) return proposedWay(terminal)
  if (measuredBy === 'flow_element' && !terminal.flowElement) return proposedWay(terminal)
  return measuredBy ?? proposedWay(terminal)
}

/** What is read at a terminal. */
export function quantityOf(way: FlowWay, terminal: Pick<Terminal, 'duct'>): Quantity {
  switch (way) {
    case 'face_grid':
      return 'velocity'
    case 'hood':
      return 'flow'
    case 'duct_traverse':
      return terminal.duct?.measures ?? 'velocity'
    case 'flow_element':
      return 'pressure_difference'
  }
}

/** Whether the way gives velocities over an area, and not the flow as one value. */
export function givesVelocities(way: FlowWay): boolean {
  return way === 'face_grid' || way === 'duct_traverse'
}

/** Which way a terminal moves air, seen from its room; a duct section as its duct says, supply where it says nothing. */
export function airDirectionOf(terminal: Pick<Terminal, 'kind' | 'duct'>): AirDirection {
  return directionOf(terminal.kind) ?? terminal.duct?.direction ?? 'supply'
}
