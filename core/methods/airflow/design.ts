import type { EntityBody } from '#core/model/entities.ts'
import type { Entered, Unit } from '#core/model/values.ts'

/** A design value in SI with the unit it was written in. */
export type DesignValue = { readonly si: number; readonly unit: Unit }

export type FilterDesign = {
  readonly velocity: DesignValue | null
  readonly flow: DesignValue | null
  /** which of the two its percent of design is taken of: the one written down for this very filter, velocity first */
  readonly leads: 'velocity' | 'flow' | null
}

function written(entered: Entered | null | undefined): DesignValue | null {
  return entered && entered.si > 0 ? { si: entered.si, unit: entered.unit } : null
}

/**
 * Design velocity and flow of a filter. The velocity is the terminal's own, else its zone's, else the room's; where a terminal states
 * only its flow, that flow stands before a zone's or room's velocity. The one that is not written follows from the other by the
 * effective area (m/s = m3/s / m2). A value that is not above zero counts as none.
 */
export function designOf(terminal: EntityBody<'terminal'>, zone: EntityBody<'zone'> | null, room: EntityBody<'room'>): FilterDesign {
  const areaM2 = terminal.effectiveArea.si
  const own = written(terminal.designVelocity)
  const flow = written(terminal.designFlow)
  const velocity = own ?? written(zone?.designVelocity) ?? written(room.designVelocity)
  const derivedVelocity: DesignValue | null = flow && areaM2 > 0 ? { si: flow.si / areaM2, unit: 'm/s' } : null
  const derivedFlow: DesignValue | null = velocity && areaM2 > 0 ? { si: velocity.si * areaM2, unit: 'm3/h' } : null
  const leads = own ? 'velocity' : flow ? 'flow' : velocity ? 'velocity' : null
  return { velocity: velocity ?? derivedVelocity, flow: flow ?? derivedFlow, leads }
}

/**
 * Design velocity and flow of a grille or duct: what was written down for it alone, since a zone's or room's design velocity speaks of
 * filters. The one that is not written follows from the other by the area, m2.
 */
export function ownDesignOf(terminal: EntityBody<'terminal'>, areaM2: number): FilterDesign {
  const velocity = written(terminal.designVelocity)
  const flow = written(terminal.designFlow)
  const derivedVelocity: DesignValue | null = flow && areaM2 > 0 ? { si: flow.si / areaM2, unit: 'm/s' } : null
  const derivedFlow: DesignValue | null = velocity && areaM2 > 0 ? { si: velocity.si * areaM2, unit: 'm3/h' } : null
  return { velocity: velocity ?? derivedVelocity, flow: flow ?? derivedFlow, leads: flow ? 'flow' : velocity ? 'velocity' : null }
}
