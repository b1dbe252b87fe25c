import type { AirDirection } from '#core/model/terminals.ts'
import { crossesBoundary } from '#core/rooms/balance.ts'
import type { FilterFigures } from './filter-figures.ts'
import type { OnBases } from './on-bases.ts'

export type Measured = OnBases<FilterFigures>

function bodyOf({ as_indicated: { of } }: Measured) {
  return of.terminal.body
}

function countsAsDuct(terminal: Measured, direction: AirDirection): boolean {
  const { kind, duct } = bodyOf(terminal)
  return kind === 'duct_section' && terminal.as_indicated.direction === direction && duct?.countsInRoom === true
}

/**
 * What makes up a room's flow in one direction. Duct sections that count in the room stand for the terminals whose air crosses the
 * boundary; what only moves air within the room (recirculating fan filter units, benches) counts beside them. Without such a duct the terminals count
 * themselves, and ducts do not. Source: a rule of the house (the same air must not count twice).
 */
export function contributorsTo(direction: AirDirection, terminals: readonly Measured[]): Measured[] {
  const own = terminals.filter((terminal) => bodyOf(terminal).kind !== 'duct_section' && terminal.as_indicated.direction === direction)
  const ducts = terminals.filter((terminal) => countsAsDuct(terminal, direction))
  if (ducts.length === 0) return own
  return [...ducts, ...own.filter((terminal) => !crossesBoundary(direction, bodyOf(terminal).airSource))]
}

/**
 * Tags of the ducts that each terminal's air counts by in the room's totals; none where it counts itself. The ducts are sought once for all
 * terminals.
 */
export function standInsAmong(terminals: readonly Measured[]): (terminal: Measured) => readonly string[] {
  const tagsOf = (direction: AirDirection) => terminals.filter((one) => countsAsDuct(one, direction)).map((one) => bodyOf(one).tag)
  const ducts: Readonly<Record<AirDirection, readonly string[]>> = {
    supply: tagsOf('supply'),
    return: tagsOf('return'),
    exhaust: tagsOf('exhaust'),
  }
  return (terminal) => {
    const { direction } = terminal.as_indicated
    const { kind, airSource } = bodyOf(terminal)
    return kind === 'duct_section' || !crossesBoundary(direction, airSource) ? [] : ducts[direction]
  }
}
