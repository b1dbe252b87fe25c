import type { EntityBody } from '#core/model/entities.ts'
import type { AirDirection } from '#core/model/terminals.ts'
import { crossesBoundary, directionOf } from './balance.ts'

/** What the question of whose air counts where looks at. */
export type CountedTerminal = Pick<EntityBody<'terminal'>, 'kind' | 'duct' | 'airSource' | 'airSystemId'>

function airDirection({ kind, duct }: CountedTerminal): AirDirection {
  return directionOf(kind) ?? duct?.direction ?? 'supply'
}

/** A duct section whose flow counts in its room. */
export function countsInRoom({ kind, duct }: CountedTerminal): boolean {
  return kind === 'duct_section' && duct?.countsInRoom === true
}

/**
 * Whether a duct that counts in the room stands for a terminal of that room: it moves air in the same direction, both over the room's boundary or
 * both within the room, and both hang on one air system. Where one of the two names no system it stands for the terminal as well, since the same
 * air would count twice otherwise. No duct stands for another. Source: a rule of the house (air counts once, and none is left out).
 */
export function standsFor(duct: CountedTerminal, terminal: CountedTerminal): boolean {
  if (!countsInRoom(duct) || terminal.kind === 'duct_section') return false
  const direction = airDirection(terminal)
  return (
    airDirection(duct) === direction &&
    crossesBoundary(direction, duct.airSource) === crossesBoundary(direction, terminal.airSource) &&
    (duct.airSystemId === terminal.airSystemId || duct.airSystemId === null || terminal.airSystemId === null)
  )
}
